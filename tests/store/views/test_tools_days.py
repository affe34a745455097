"""Which day is recommended: where brute force over the same draws puts it, term by term."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from store.file.facts import calendar_of
from store.sums.hires.lateness import Seen, arrivals
from store.sums.hires.terms import Terms
from store.views.tools.kit_needs import kit_needs
from tests.store.actions.made import World, make
from tests.store.views import hire_brute
from tests.store.views.hire_brute import ZONE, Draw
from tests.store.views.tools_shop import TERMS, Loans, at, slower

LONG = "[6.0, 14.0, 34.0]"


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    world = make(tmp_path)
    world.to(8)
    return world


def draws(world: World, job: str) -> list[Draw]:
    """The forecast's draws of when the job needs the link tool."""
    with world.shop.reading() as db:
        (need,) = [
            one
            for one in kit_needs(db, calendar_of(db), world.now)["link"]
            if one.job == job
        ]  # fmt: skip
    return list(need.draws)


def hired(world: World, terms: Terms, hours: str) -> tuple[Loans, str]:
    """A kit that is here for a job, due on Tuesday."""
    loans = Loans(world, terms)
    loans.book(slower(hours))
    job = loans.job()
    loans.hire(job, world.at(15, 30, day=1))
    return loans, job


def recommended(loans: Loans) -> date:
    """The day that the table marks."""
    advice = loans.advice()
    assert advice.best.until is not None
    return advice.best.until.astimezone(ZONE).date()


CASES = [
    pytest.param(TERMS, LONG, id="as it is"),
    pytest.param(at(TERMS, late=6.0), LONG, id="a dear late fee"),
    pytest.param(at(TERMS, late=0.0), LONG, id="no late fee"),
    pytest.param(at(TERMS, rates={"week": 30.0}), LONG, id="a cheap week"),
    pytest.param(TERMS, "[0.2, 0.3, 0.5]", id="a quick phase"),
    pytest.param(TERMS, "[20.0, 40.0, 90.0]", id="a slow phase"),
]


@pytest.mark.parametrize(("terms", "hours"), CASES)
def test_a_kit_goes_back_on_the_day_that_costs_least(
    world: World, terms: Terms, hours: str
) -> None:
    loans, job = hired(world, terms, hours)
    came = loans.kit().hires[0].received_at
    assert came is not None
    today = came.astimezone(ZONE).date()
    costs = hire_brute.cheapest_return(terms, draws(world, job), came, today)
    best = min(costs, key=lambda day: (round(costs[day], 6), day))
    due = world.at(15, 30, day=1).date()
    day = due if costs[due] - costs[best] < 1.0 else best
    assert recommended(loans) == day
    for row in loans.advice().days:
        assert row.total == pytest.approx(costs[row.day], abs=1e-6)


def test_a_dearer_late_fee_and_a_slower_phase_put_the_day_off(tmp_path: Path) -> None:
    found: list[date] = []
    for terms, hours in ((at(TERMS, late=0.5), LONG), (at(TERMS, late=6.0), LONG),
                         (at(TERMS, late=6.0), "[20.0, 40.0, 90.0]")):  # fmt: skip
        folder = tmp_path / str(len(found))
        folder.mkdir()
        world = make(folder)
        world.to(8)
        loans, _ = hired(world, terms, hours)
        found.append(recommended(loans))
    assert found[0] < found[1] < found[2]


ASKS = [
    pytest.param(TERMS, LONG, id="as it is"),
    pytest.param(at(TERMS, rates={"day": 90.0, "week": 380.0}), LONG, id="dear days"),
    pytest.param(at(TERMS, rates={"minimum_days": 6}), LONG, id="six days at least"),
    pytest.param(at(TERMS, lead_days=4), LONG, id="four days until it comes"),
    pytest.param(TERMS, "[20.0, 40.0, 90.0]", id="a slow phase"),
]


@pytest.mark.parametrize(("terms", "hours"), ASKS)
def test_a_kit_is_asked_for_on_the_pair_of_days_that_costs_least(
    world: World, terms: Terms, hours: str
) -> None:
    loans = Loans(world, terms)
    loans.book(slower(hours))
    job = loans.job()
    advice = loans.advice()
    assert (advice.best.do, advice.job) == ("ask", job)
    ready = hire_brute.next_day(world.now.astimezone(ZONE).date(), terms.house.lead_days)
    costs = hire_brute.cheapest_pair(
        terms, draws(world, job), ready, arrivals(Seen(), terms.house.lead_days), 150.0
    )
    least = min(costs.values())
    assert advice.best.since is not None
    assert advice.best.until is not None
    pair = (advice.best.since.astimezone(ZONE).date(), advice.best.until.astimezone(ZONE).date())
    assert costs[pair] == pytest.approx(least, abs=1e-6)
    assert advice.best.cost == pytest.approx(least, abs=1e-6)
