"""What a bay proposes for a clock left running, and what a day asks about."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from store.actions import clock, phases, places
from store.file.shop import Shop
from store.views.bay import bay
from store.views.day import day
from tests.tui.shops import Pen, worked_on

WEDNESDAY = date(2026, 10, 14)


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Shop:
    return worked_on(tmp_path / "made.shop", pen)


def stops(shop: Shop, pen: Pen) -> list[tuple[str, float]]:
    """UTC and hours of what is proposed the next morning."""
    found = bay(shop, "B12", pen.now + timedelta(days=1)).clock
    assert found is not None
    return [(f"{one.at:%H:%M}", round(one.labour_h, 3)) for one in found.stops]


def test_the_shifts_end_is_proposed_and_two_half_hours_before_it(shop: Shop, pen: Pen) -> None:
    """On since 07:46 with three quarters of an hour at noon: 16:30 less both is 7.983 h."""
    assert stops(shop, pen) == [("14:30", 7.983), ("14:00", 7.483), ("13:30", 6.983)]


def test_no_half_hour_before_the_clock_began_is_proposed(shop: Shop, pen: Pen) -> None:
    clock.clock_off(shop, pen.by("B12"))
    clock.clock_on(shop, pen.by("B12", 8 * 60), job="1001", phase="1")
    assert f"{pen.now:%H:%M}" == "13:47"
    assert stops(shop, pen) == [("14:30", 0.717), ("14:00", 0.217)]


def test_a_clock_that_still_may_run_is_proposed_no_end(shop: Shop, pen: Pen) -> None:
    found = bay(shop, "B12", pen.now).clock
    assert found is not None
    assert found.stops == ()


def test_a_day_asks_why_a_phase_took_longer_until_somebody_says(shop: Shop, pen: Pen) -> None:
    phases.finish(shop, pen.by("B12", 180), job="1001", phase="1")
    (over,) = day(shop, "B12", WEDNESDAY, pen.now).overruns
    assert (over.job, over.phase, round(over.labour_h, 2)) == ("1001", "1", 3.0)
    assert over.labour_h > over.cautious_h
    assert day(shop, "B13", WEDNESDAY, pen.now).overruns == (), "who never worked on it"
    assert day(shop, "B12", WEDNESDAY - timedelta(days=1), pen.now).overruns == ()
    phases.finish(shop, pen.by("B12"), job="1001", phase="1", why="rusty or seized")
    assert day(shop, "B12", WEDNESDAY, pen.now).overruns == ()


def test_a_phase_within_its_hours_is_not_asked_about(shop: Shop, pen: Pen) -> None:
    phases.finish(shop, pen.by("B12", 10), job="1001", phase="1")
    assert day(shop, "B12", WEDNESDAY, pen.now).overruns == ()


def test_where_a_vehicle_stands_is_said_in_words(shop: Shop, pen: Pen) -> None:
    places.add_place(shop, pen.by(), code="Y", kind="yard")
    places.move(shop, pen.by(), job="1002", place="Y", lift=False)
    where = {one.job: one.place for one in bay(shop, "B13", pen.now).choices}
    assert where == {"1001": "lift 1", "1002": "yard Y", "1003": None}
