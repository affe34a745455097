"""Dates of kits as a calendar elsewhere has them, read by an independent library (icalendar)."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from store.actions.hires import asked as hires
from store.actions.hires import kit_dates
from store.views.dates import dates
from tests.store.actions.made import World, make
from tests.store.views.tools_shop import OWNED, Loans
from tui.papers.ics import ics_of


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    world = make(tmp_path)
    world.to(8)
    return world


def events(world: World, kind: str) -> list[Any]:
    """The events of a kind, as the library reads them."""
    calendar: Any = Calendar.from_ical(ics_of(dates(world.shop, world.now)))
    assert not calendar.errors
    return [one for one in calendar.walk("VEVENT") if str(one["UID"]).startswith(f"{kind}-")]


def triggers(event: Any) -> list[Any]:
    """When its alarms go off."""
    return [one.decoded("TRIGGER") for one in event.walk("VALARM")]


def test_a_kit_that_goes_back_speaks_up_the_evening_before_and_before_the_cut_off(
    world: World,
) -> None:
    Loans(world).hire(None, world.at(15, 30, day=7))
    (event,) = events(world, "hire")
    assert event.decoded("DTSTART") == world.at(15, 30, day=7)
    assert "chain link tool goes back to Loan" in str(event["SUMMARY"])
    # RFC 5545, 3.8.6.3: an absolute trigger is UTC; a relative one is counted from the start.
    assert triggers(event) == [world.at(16, 30, day=4), -timedelta(hours=2)]


def test_a_kit_that_is_kept_longer_is_the_same_event_with_a_higher_number(world: World) -> None:
    Loans(world).hire(None, world.at(15, 30, day=2))
    (before,) = events(world, "hire")
    hires.extend(world.shop, world.by("FOR"), kit="link", due=world.at(15, 30, day=3))
    (after,) = events(world, "hire")
    assert str(before["UID"]) == str(after["UID"])
    # RFC 5545, 3.8.7.4: the sequence number rises with each change.
    assert int(after["SEQUENCE"]) > int(before["SEQUENCE"])
    assert after.decoded("DTSTART") == world.at(15, 30, day=3)


def test_what_went_back_before_its_day_is_cancelled(world: World) -> None:
    Loans(world).hire(None, world.at(15, 30, day=2))
    (before,) = events(world, "hire")
    hires.send_back(world.shop, world.by("T1"), kit="link")
    (after,) = events(world, "hire")
    assert str(before["UID"]) == str(after["UID"])
    assert str(after["STATUS"]) == "CANCELLED"
    assert int(after["SEQUENCE"]) > int(before["SEQUENCE"])
    assert triggers(after) == []


def test_what_was_asked_for_comes_and_is_cancelled_where_it_is_called_off(world: World) -> None:
    Loans(world).ask(None, expected=world.at(10, day=1), due=world.at(15, 30, day=2))
    (before,) = events(world, "delivery")
    assert before.decoded("DTSTART") == world.at(10, day=1)
    hires.cancel(world.shop, world.by("FOR"), kit="link")
    (after,) = events(world, "delivery")
    assert str(before["UID"]) == str(after["UID"])
    assert [str(one["STATUS"]) for one in (after, *events(world, "hire"))] == ["CANCELLED"] * 2


def test_a_date_of_calibration_is_a_day_that_moves(world: World) -> None:
    Loans(world).book(OWNED)
    found: list[Any] = []
    for until in (date(2026, 12, 1), date(2027, 12, 1)):
        kit_dates.know_date(world.shop, world.by("OWN"), kit="link", until=until, source="bench")
        (event,) = events(world, "calibration")
        assert event.decoded("DTSTART") == until
        found.append(event)
    assert str(found[0]["UID"]) == str(found[1]["UID"])
    assert int(found[1]["SEQUENCE"]) == 1
