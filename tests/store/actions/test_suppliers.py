"""Suppliers and their terms, prices and dates of kits: what is named changes, slips are refused."""

from __future__ import annotations

import math
from datetime import date, time
from typing import Any

import pytest

from store.actions import books
from store.actions.acting import Done
from store.actions.hires import asked as hires
from store.actions.hires import kit_dates, suppliers
from store.file.kits.terms import Price, houses_now, offers_now, prices_now, terms_of, valid_until
from store.file.verify import verify
from store.sums.hires.terms import House, Rates, Terms
from tests.store.actions.made import World
from tests.store.actions.undone_kits import OWNED


def know(world: World, name: str = "Loan", **more: Any) -> Done:
    return suppliers.know(world.shop, world.by("FOR"), name=name, **more)


def offer(world: World, kit: str = "link", supplier: str = "Loan", **more: Any) -> Done:
    return suppliers.offer(world.shop, world.by("FOR"), kit=kit, supplier=supplier, **more)


def houses(world: World) -> dict[str, House]:
    with world.shop.reading() as db:
        return houses_now(db)


def terms(world: World) -> Terms:
    with world.shop.reading() as db:
        (found,) = offers_now(db)["link"]
        return found.terms


def test_what_is_not_named_is_as_usual_at_first_and_stays_later(world: World) -> None:
    know(world, cut_off=time(15), lead_days=1)
    assert houses(world) == {"Loan": House(cut_off=time(15), lead_days=1)}
    know(world, " lo AN", weekend="free", late=2)
    assert houses(world) == {"Loan": House(cut_off=time(15), lead_days=1, weekend="free", late=2)}
    world.refused(lambda: know(world, "LOAN", late=2.0), "Loan counts so already")
    world.refused(lambda: know(world, "  "), "Say which supplier")
    assert verify(world.shop.path).ok


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("late", -0.1, "The late fee, times the day rate, is 0 to 10"),
        ("late", math.nan, "0 to 10"), ("late", math.inf, "0 to 10"),
        ("lead_days", 61, "days to delivery is 0 to 60"), ("back_days", -1, "way back is 0 to 60"),
        ("cleaning", -1, "cleaning is 0 to"),
    ],
)  # fmt: skip
def test_figures_of_a_supplier_that_cannot_be_are_refused(
    world: World, field: str, value: Any, words: str
) -> None:
    world.refused(lambda: know(world, **{field: value}), words)


def test_terms_of_a_kit_change_by_what_is_named_and_end(world: World) -> None:
    world.refused(lambda: offer(world, day=20), "Say first how Loan counts")
    know(world)
    world.refused(lambda: offer(world, week=90), "what chain link tool costs a day")
    offer(world, day=20, week=70, minimum_days=3, carriage=15, deposit=200)
    offer(world, supplier="loan", month=220, week=0)
    assert terms(world).rates == Rates(20, None, 220, 3, 15, 200)
    world.refused(lambda: offer(world, day=20), "asks that for link already")
    suppliers.offer_gone(world.shop, world.by("FOR"), kit="link", supplier="LOAN")
    world.refused(
        lambda: suppliers.offer_gone(world.shop, world.by("FOR"), kit="link", supplier="Loan"),
        "not on offer at Loan",
    )
    offer(world, day=25)
    assert terms(world).rates == Rates(25)


@pytest.mark.parametrize(
    ("figures", "words"),
    [
        ({"day": -1}, "The rate of a day is 0 to"), ({"day": math.nan}, "The rate of a day"),
        ({"day": 0}, "more than 0"), ({"day": 20, "minimum_days": 0}, "At least one day"),
        ({"day": 20, "minimum_days": 400}, "paid at least is 0 to 366"),
        ({"day": 20, "week": 150}, "A week at 150 lies outside 1 to 7 days at 20"),
        ({"day": 20, "month": 10}, "A month at 10 lies outside"),
        ({"day": 20, "carriage": -3}, "The carriage"), ({"day": 20, "deposit": 1e9}, "deposit"),
    ],
)  # fmt: skip
def test_terms_that_cannot_be_are_refused(
    world: World, figures: dict[str, Any], words: str
) -> None:
    know(world)
    world.refused(lambda: offer(world, **figures), words)


def test_a_hire_keeps_the_terms_of_the_day_on_which_it_was_asked_for(world: World) -> None:
    know(world, cut_off=time(15), lead_days=2)
    offer(world, day=20, deposit=200)
    job = world.take(lift=None)
    done = hires.ask(world.shop, world.by("FOR"), kit="link", job=job)
    assert done.says == f"chain link tool asked for at Loan for {job}, expected Wed 14 Oct."
    asked = terms_of(str(world.one("select terms from hire")))
    offer(world, day=30)
    know(world, cut_off=time(12))
    assert terms_of(str(world.one("select terms from hire"))) == asked
    assert asked == Terms(Rates(20, deposit=200), House(cut_off=time(15), lead_days=2))


def test_where_several_offer_it_somebody_says_which(world: World) -> None:
    job = world.take(lift=None)
    world.refused(
        lambda: hires.ask(world.shop, world.by("FOR"), kit="link", job=job),
        "Say at which supplier's it was asked for.",
    )
    for name in ("Loan", "Levers"):
        know(world, name)
        offer(world, supplier=name, day=20)
    world.refused(
        lambda: hires.ask(world.shop, world.by("FOR"), kit="link", job=job), ": Levers, Loan."
    )
    done = hires.ask(world.shop, world.by("FOR"), kit="link", job=job, supplier="L O A N")
    assert "asked for at Loan for" in done.says


def test_what_a_kit_costs_to_buy_changes_by_what_is_named(world: World) -> None:
    def price(**more: float) -> Done:
        return suppliers.price(world.shop, world.by("FOR"), kit="link", **more)

    world.refused(lambda: price(upkeep=20), "--buy MONEY")
    price(buy=640, life_years=6)
    price(upkeep=20)
    with world.shop.reading() as db:
        assert prices_now(db) == {"link": Price(640, 20, 6)}
    world.refused(lambda: price(upkeep=20), "already")
    world.refused(lambda: price(buy=-1), "The price is 0 to")
    world.refused(lambda: price(upkeep=math.nan), "upkeep of a year")
    world.refused(lambda: price(life_years=math.nan), "0.5 to 50 years")


def test_a_kit_of_the_shop_has_a_date_with_its_source(world: World) -> None:
    def dated(until: date, source: str = "its label", kit: str = "link") -> Done:
        return kit_dates.know_date(world.shop, world.by("T1"), kit=kit, until=until, source=source)

    world.refused(lambda: dated(date(2027, 3, 1)), "is hired", "--valid-until")
    books.load_workbook(world.shop, world.by("FOR"), source=OWNED)
    world.refused(lambda: dated(date(2027, 3, 1), " "), "Say who did it")
    world.refused(lambda: dated(date(2207, 3, 1)), "more than ten years away")
    assert dated(date(2027, 3, 1)).says == (
        "chain link tool may be used until 2027-03-01 (its label)."
    )
    world.refused(lambda: dated(date(2027, 3, 1)), "is dated 2027-03-01 already")
    assert "must not be used" in dated(date(2026, 10, 1)).says
    with world.shop.reading() as db:
        assert valid_until(db) == {"link": date(2026, 10, 1)}
