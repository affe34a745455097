"""One long hire against two short ones, another job first, hire or buy: in words and in money."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.actions.hires import asked as hires
from store.actions.hires import suppliers
from tests.store.actions.made import BOOK, World, make
from tests.store.views.tools_shop import TERMS, Loans, at

TWICE = BOOK.replace(
    'code = "Z1"\nname = "fill and start"\nhours = [0.5, 0.8, 1.3]',
    'code = "Z1"\nname = "fill and start"\nhours = [0.5, 0.8, 1.3]\nkit = ["link"]',
)
"""The link tool is needed again at the end, and not between."""


def between(hours: str) -> str:
    """The same, with so many hours of work between both times."""
    return TWICE.replace('name = "close"\nhours = [0.8, 1.1, 1.7]',
                         f'name = "close"\nhours = {hours}')  # fmt: skip


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    world = make(tmp_path)
    world.to(8)
    return world


@pytest.mark.parametrize(
    ("hours", "days", "says"),
    [
        ("[0.8, 1.1, 1.7]", 24, "one long hire saves"),
        ("[60.0, 80.0, 100.0]", 80, "two short hires save"),
    ],
)
def test_a_kit_that_is_needed_twice_is_kept_or_hired_again(
    world: World, hours: str, days: int, says: str
) -> None:
    loans = Loans(world, at(TERMS, rates={"day": float(days), "week": None}, lead_days=0))
    loans.book(between(hours))
    job = loans.job()
    assert [one.job for one in loans.kit().needed_by] == [job, job]
    advice = loans.advice()
    assert says in advice.why
    assert len(advice.ways) == 2
    costs = [one.cost for one in advice.ways]
    assert None not in costs
    assert advice.instead_of == costs[1]


def hired_for(world: World, times: int, cost: float) -> None:
    """So many hires in the past half year, each of which came to the same."""
    for _ in range(times):
        begun = world.now
        hires.ask(
            world.shop, world.by("FOR"), kit="link", supplier="Loan", why="tried",
            expected=world.now + timedelta(minutes=10), due=begun + timedelta(days=7),
        )  # fmt: skip
        hires.receive(world.shop, world.by("T1"), kit="link")
        world.now = begun + timedelta(days=14)
        hires.send_back(world.shop, world.by("T1"), kit="link")
        hire = str(world.one("select hire from hire order by asked_at desc limit 1"))
        hires.arrived(world.shop, world.by("FOR"), hire=hire)
        hires.invoice(world.shop, world.by("FOR"), hire=hire, amount=cost)


def test_a_kit_that_is_hired_often_and_dear_is_to_be_bought(world: World) -> None:
    loans = Loans(world)
    hired_for(world, 10, 150.0)
    (found,) = loans.look().buy
    assert (found.jobs, found.spent, found.chance) == (10, 1500.0, None)
    assert "its price is not known" in found.says
    suppliers.price(world.shop, world.by("OWN"), kit="link", buy=400, upkeep=20, life_years=8)
    (found,) = loans.look().buy
    assert found.break_even == pytest.approx((400 / 8 + 20) / 150)
    assert found.chance is not None
    assert found.chance > 0.95
    assert found.says.startswith("hired 10 times in the past year, 1,500 in all; next year ")
    assert "Buying for 400 and 20 a year pays from 1 hire a year. Buy: " in found.says


def test_a_dear_kit_that_is_hired_seldom_is_hired_on(world: World) -> None:
    loans = Loans(world)
    hired_for(world, 8, 40.0)
    suppliers.price(world.shop, world.by("OWN"), kit="link", buy=30000, upkeep=0, life_years=8)
    (found,) = loans.look().buy
    assert found.chance is not None
    assert found.chance < 0.05
    assert "Go on hiring: cheaper over 8 years nearly sure." in found.says


def test_of_few_hires_nothing_is_said(world: World) -> None:
    loans = Loans(world)
    hired_for(world, 1, 40.0)
    assert loans.look().buy == ()


def test_a_running_hire_is_not_kept_through_weeks_in_which_nobody_needs_it(world: World) -> None:
    loans = Loans(world, at(TERMS, rates={"day": 80.0, "week": None}, lead_days=0))
    loans.book(between("[60.0, 80.0, 100.0]"))
    job = loans.job()
    loans.hire(job, world.at(15, 30, day=1))
    advice = loans.advice()
    assert advice.best.do == "return and hire again"
    assert "hire again" in advice.best.says
    assert advice.best.until is not None
    assert advice.best.since is not None
    assert advice.best.until < advice.best.since
    kept = next(one for one in advice.ways if one.do == "extend")
    assert advice.best.cost is not None
    assert kept.cost is not None
    assert advice.best.cost < kept.cost
