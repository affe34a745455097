"""Hires looked through on receipt, given to others, sent back late, settled with the supplier."""

from __future__ import annotations

from datetime import date, time
from typing import Any

import pytest

from store.actions.acting import Done
from store.actions.desk import acts as desk
from store.actions.hires import asked as hires
from store.actions.hires import suppliers
from store.actions.naming import NamesCustomer
from store.actions.trouble import NoSuch
from store.actions.undo import taking_back as undo
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.actions.test_hires import COUNTED, load

KITS = COUNTED.replace(
    'name = "chain link tool"', 'name = "chain link tool"\ncontains = ["Pin 8", "pin 8", "bar"]'
)


@pytest.fixture
def job(world: World) -> str:
    """A job that needs the link tool; its supplier is known."""
    load(world, KITS)
    suppliers.know(
        world.shop, world.by("FOR"), name="Loan", cut_off=time(15), late=1.5, cleaning=35
    )
    suppliers.offer(world.shop, world.by("FOR"), kit="link", supplier="Loan", day=20, deposit=200)
    return world.take(lift=None)


def asked(world: World, job: str | None, **more: Any) -> Done:
    return hires.ask(world.shop, world.by("FOR"), kit="link", job=job, supplier="Loan", **more)


def here(world: World, job: str, day: int = 3, **more: Any) -> Done:
    asked(world, job)
    return hires.receive(
        world.shop, world.by("T1"), kit="link", job=job, due=world.at(15, day=day), **more
    )


def back(world: World, **more: Any) -> Done:
    return hires.send_back(world.shop, world.by("T1"), kit="link", **more)


def test_only_what_a_job_needs_is_hired_or_there_is_a_reason(world: World, job: str) -> None:
    other = world.take("WP", lift=None)
    world.refused(lambda: asked(world, other), f"{other} has no phase to come that needs")
    asked(world, other, why="to try it")
    assert world.all("select job, note from hire") == [(other, "to try it")]
    asked(world, job)
    asked(world, None)


def test_pieces_that_lack_are_of_its_list(world: World, job: str) -> None:
    asked(world, job)

    def receive(*missing: str) -> Done:
        return hires.receive(
            world.shop, world.by("T1"), kit="link", due=world.at(15, day=3), missing=missing
        )

    world.refused(lambda: receive("nut"), "has no 'nut' more. It has: Pin 8, pin 8, bar.")
    world.refused(lambda: receive("bar", "BAR"), "has no 'BAR' more")
    done = receive("PIN8", "pin 8")
    assert "not complete: Pin 8, pin 8. Tell Loan now" in done.says
    assert "When that came: hoistbook hire mend link" in done.says
    hires.mend(world.shop, world.by("T1"), kit="link")
    world.refused(lambda: hires.mend(world.shop, world.by("T1"), kit="link"), "Nothing lacks")


def test_the_wrong_variant_is_told_and_put_right(world: World, job: str) -> None:
    world.refused(lambda: hires.mend(world.shop, world.by("T1"), kit="link"), kind=NoSuch)
    assert "is here, the wrong variant. Tell Loan now" in here(world, job, wrong=True).says
    hires.mend(world.shop, world.by("T1"), kit="link", note="long ones came")
    assert world.all("select wrong, complete, came_complete, note from hire") == [
        (0, 1, 0, "long ones came")
    ]


def test_a_kit_whose_date_ran_out_is_said_at_once(world: World, job: str) -> None:
    done = here(world, job, valid_until=date(2026, 10, 9))
    assert "must not be used: its date ran out on 2026-10-09" in done.says


def test_one_serial_number_is_hired_once_at_a_time(world: World, job: str) -> None:
    other = world.take(lift=None)
    here(world, job, serial="LT 7")
    asked(world, other)

    def second() -> Done:
        return hires.receive(
            world.shop, world.by("T1"), kit="link", job=other, due=world.at(15, day=3),
            serial="lt7",
        )  # fmt: skip

    world.refused(second, f"serial number lt7 is here already, from Loan for {job}")
    back(world, job=job)
    second()


def test_another_job_may_have_it_first(world: World, job: str) -> None:
    other, plain = world.take(lift=None), world.take("WP", lift=None)
    here(world, job)

    def give(to: str | None) -> Done:
        return hires.give(world.shop, world.by("FOR"), kit="link", to=to)

    world.refused(lambda: give(job), f"is for {job} already")
    world.refused(lambda: give(plain), f"{plain} has no phase to come that needs")
    world.refused(lambda: give("77"), "no job 77", kind=NoSuch)
    assert give(other).says == (f"chain link tool is for {other} now, no longer for {job} alone.")
    asked(world, job)
    world.refused(
        lambda: hires.give(world.shop, world.by("FOR"), kit="link", job=other, to=job),
        f"link is hired for {job} already",
    )
    hires.give(world.shop, world.by("FOR"), kit="link", job=other, to=None)
    assert world.all("select job from hire order by asked_at") == [(None,), (job,)]


@pytest.mark.parametrize(
    ("hour", "minute", "day", "words"),
    [
        (14, 0, 3, "went back to Loan."),
        (15, 30, 3, "after the cut-off at 15:00: it goes, and counts, Fri 16 Oct. 1 day late"),
        (15, 30, 4, "counts, Mon 19 Oct. 4 days late: 120.00 besides, 1.5 x 20.00 a day."),
    ],
)
def test_after_the_cut_off_it_goes_the_next_working_day(
    world: World, job: str, hour: int, minute: int, day: int, words: str
) -> None:
    here(world, job)
    world.to(hour, minute, day=day)
    assert words in back(world).says


def test_what_is_dirty_or_damaged_is_said(world: World, job: str) -> None:
    here(world, job)
    assert "Dirty: 35.00 for cleaning. Damaged: tip bent." in (
        back(world, dirty=True, damage="tip bent").says
    )
    assert world.all("select clean, damage from hire") == [(0, "tip bent")]


def test_it_is_settled_once_and_only_after_it_was_sent(world: World, job: str) -> None:
    here(world, job)
    shop = world.shop

    def arrived() -> Done:
        return hires.arrived(shop, world.by("T1"), kit="link")

    def deposit(amount: float) -> Done:
        return hires.deposit(shop, world.by("FOR"), kit="link", amount=amount)

    def invoice(amount: float, **more: Any) -> Done:
        return hires.invoice(shop, world.by("FOR"), kit="link", amount=amount, **more)

    for act in (arrived, lambda: deposit(1), lambda: invoice(1)):
        world.refused(act, "hoistbook hire return link comes first")
    back(world)
    world.refused(lambda: deposit(250), "more than the deposit of chain link tool, 200.00")
    world.refused(lambda: deposit(-1), "The deposit is 0 to")
    world.refused(lambda: invoice(10, late_fee=8, extras=3), "parts of the amount")
    world.refused(lambda: invoice(float("nan")), "The amount is 0 to")
    arrived()
    assert "40.00 were kept" in deposit(160).says
    invoice(94, late_fee=30)
    for act in (arrived, lambda: deposit(1), lambda: invoice(1)):
        world.refused(act, "written down of chain link tool already")
    assert verify(shop.path).ok


def test_the_older_of_two_that_went_back_is_settled_first(world: World, job: str) -> None:
    here(world, job)
    back(world)
    here(world, job)
    back(world)
    for amount in (20, 30):
        hires.invoice(world.shop, world.by("FOR"), kit="link", amount=amount)
    assert world.all("select invoiced from hire order by sent_at") == [(20.0,), (30.0,)]


def test_a_kit_called_off_by_mistake_is_asked_for_again_as_it_was(world: World, job: str) -> None:
    asked(world, job, due=world.at(15, day=3))
    hires.extend(world.shop, world.by("FOR"), kit="link", due=world.at(15, day=4))
    before = world.all("select * from hire")
    hires.cancel(world.shop, world.by("FOR"), kit="link")
    undo.undo(world.shop, world.by("FOR"))
    assert world.all("select * from hire") == before
    hires.cancel(world.shop, world.by("FOR"), kit="link")
    asked(world, job)
    undo.undo(world.shop, world.by("FOR"))
    assert verify(world.shop.path).ok


def test_what_is_said_of_a_kit_does_not_name_the_customer(world: World, job: str) -> None:
    desk.know_customer(
        world.shop, world.by("FOR"), job=job, name="Quirina Zweifelhaft", telephone="0676 5554321"
    )
    world.refused(lambda: asked(world, job, why="for Quirina"), "names", kind=NamesCustomer)
    asked(world, job)
    hires.receive(world.shop, world.by("T1"), kit="link", due=world.at(15, day=3))
    world.refused(lambda: back(world, damage="bent by Quirina"), kind=NamesCustomer)
    back(world, damage="bent by the customer")


def test_a_kit_does_not_come_before_it_was_asked_for(world: World, job: str) -> None:
    world.to(12)
    hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Loan", job=job)
    early = world.by("T1", at=world.at(9))
    due = world.at(15, day=3)
    world.refused(
        lambda: hires.receive(world.shop, early, kit="link", due=due), "asked for later than that"
    )


def test_a_supplier_whose_prices_nobody_knows_is_told_where_others_are_known(
    world: World, job: str
) -> None:
    done = hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Laon", job=job)
    assert "What it costs at Laon is not known" in done.says


def test_a_job_that_a_kit_is_not_hired_for_is_told_whose_it_is(world: World, job: str) -> None:
    hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Loan", job=job)
    due = world.at(15, day=3)
    world.refused(
        lambda: hires.receive(world.shop, world.by("T1"), kit="link", job="any", due=due),
        f"is hired for {job}", f"--job {job}",
    )  # fmt: skip


def test_a_job_that_does_not_come_about_says_which_kits_are_left_over(
    world: World, job: str
) -> None:
    asked(world, job)
    done = desk.turn_away(world.shop, world.by("FOR"), job=job, why="too much rust")
    assert f"hoistbook hire cancel link --job {job}" in done.says
