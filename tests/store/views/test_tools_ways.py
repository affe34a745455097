"""Ways to go on that are weighed on one scale: an earlier day agreed, another job that uses it."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.actions import books, jobs
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.actions.hires import suppliers
from store.edges.events.shop import WeekSpan
from store.file.change import By
from store.file.pins import make_secret
from store.sums.hires.terms import House, Rates, Terms
from store.views.needs import needs
from tests.store.actions.made import BOOK, MONDAY, PIN, WEEK, World, make
from tests.store.views.tools_shop import Loans

DEAR = Terms(Rates(day=60, carriage=90), House(lead_days=1))


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    world = make(tmp_path)
    world.to(8)
    return world


def test_a_hire_that_is_only_asked_for_is_shortened_and_not_sent_back(world: World) -> None:
    loans = Loans(world)
    job = loans.job()
    loans.ask(job, expected=world.at(8, day=1), due=world.at(15, 30, day=11))
    advice = loans.advice()
    assert (advice.best.do, advice.best.command is not None) == ("shorten", True)
    assert advice.best.command is not None
    assert advice.best.command[:3] == ("hire", "extend", "link")
    assert advice.best.until is not None
    assert advice.best.until < world.at(15, 30, day=11)
    assert "agree" in loans.kit().says
    assert "return" not in {word for way in advice.ways for word in way.command or ()}


def test_one_kit_serves_the_next_job_too_where_its_own_hire_costs_more(world: World) -> None:
    """Carriage of a second hire is dearer than a few days more; nothing is asked for besides."""
    loans = Loans(world, DEAR)
    first, second = loans.job(), loans.job()
    loans.hire(first, world.at(15, 30, day=1))
    kit = loans.kit()
    shared = next(one for one in kit.advised if one.hire is not None)
    assert shared.best.do == "use next"
    assert shared.best.to == second
    assert [one.job for one in kit.advised if one.hire is None] == []
    costs = [one.cost for one in shared.ways]
    assert None not in costs
    assert costs == sorted(cost for cost in costs if cost is not None)


def test_a_way_with_another_job_is_told_as_what_it_is(world: World) -> None:
    """To wait is not to send back and hire again."""
    loans = Loans(world, DEAR)
    first, second = loans.job(), loans.job()
    loans.hire(first, world.at(15, 30, day=1))
    (advice,) = (one for one in loans.kit().advised if one.hire is not None)
    (waiting,) = (one for one in advice.ways if one.do == "use next")
    assert f"{second} uses it next" in waiting.says
    assert "hire again" not in waiting.says


def founded(folder: Path) -> World:
    """A shop that has no day before today."""
    plan = ShopPlan(
        "New", "Europe/Amsterdam", "EUR", [WeekSpan(days=WEEK, start="07:30", end="16:30")], [],
        [LiftPlan("1", "two-post", 4000)], "OWN", "Olga", PIN, rate_per_hour=90,
        from_day=MONDAY.date(),
    )  # fmt: skip
    first = By("OWN", "t1", MONDAY, pin=PIN, key="0" * 24)
    shop = found_shop(folder / "new.shop", first, plan, secret=make_secret(PIN, bytes(16)))
    world = World(shop, MONDAY)
    books.load_workbook(shop, world.by("OWN"), source=BOOK)
    return world


def test_a_shop_that_began_today_is_told_to_ask_today(tmp_path: Path) -> None:
    world = founded(tmp_path)
    by = world.by
    suppliers.know(world.shop, by("OWN"), name="Loan", lead_days=4)
    suppliers.offer(world.shop, by("OWN"), kit="link", supplier="Loan", day=24)
    jobs.take(world.shop, by("OWN"), operations=["TC"], family="B4-M-F", vehicle="van", lift="1")
    (found,) = (one for one in needs(world.shop, world.now).needs if one.act.kind == "kit ask")
    assert found.act.by == world.at(16, 30)
