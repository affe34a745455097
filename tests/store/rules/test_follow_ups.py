"""What usually follows a job (common practice, no source)."""

from __future__ import annotations

from datetime import date, timedelta

from store.rules.book import FollowUp
from store.rules.follow_ups import (
    SENT_IN,
    Ended,
    ToDo,
    usual,
    without_odometer,
)

SINCE = date(2026, 3, 2)


def _words(ended: Ended) -> list[str]:
    return [one.what.split(":")[0].split(",")[0] for one in usual(ended, SINCE)]


def test_a_deep_job_has_its_wheels_a_call_and_a_re_check() -> None:
    assert _words(Ended(small=False, wheels_off=True)) == [
        "Wheels tightened again", "Call", "Re-check",
    ]  # fmt: skip
    wheels, call, again = usual(Ended(small=False, wheels_off=True), SINCE)
    assert (wheels.day, wheels.distance_km) == (None, 100)
    assert call.day is not None
    assert 3 <= (call.day - SINCE).days <= 7
    assert (again.day, again.distance_km) == (SINCE + timedelta(weeks=4), 1000)


def test_a_small_job_has_its_wheels_at_most() -> None:
    assert _words(Ended(small=True, wheels_off=True)) == ["Wheels tightened again"]
    assert _words(Ended(small=True, wheels_off=False)) == []


def test_an_operation_with_a_look_of_its_own_needs_no_other() -> None:
    own = FollowUp("Seal looked at", "shop", days=28, distance_km=500)
    oil = FollowUp("Early oil change", "shop", distance_km=1500)
    assert _words(Ended(False, False, (own, oil))) == ["Call", "Seal looked at", "Early oil change"]
    assert _words(Ended(False, False, (oil,))) == ["Call", "Re-check", "Early oil change"]


def test_refused_advice_old_units_and_the_warranty_come_up_again() -> None:
    ended = Ended(False, False, (), ("brake discs worn",), SENT_IN, 12)
    found = usual(ended, SINCE)[2:]
    assert [one.who for one in found] == ["foreman", "parts person", "owner"]
    assert "brake discs worn" in found[0].what
    assert found[1].counted_from == "receipt"
    assert "2027-03-02" in found[2].what
    assert found[2].day == date(2027, 2, 2)
    assert len(usual(Ended(False, False, (), (), "returned to the customer"), SINCE)) == 2


def test_without_an_odometer_the_day_says_when_and_the_words_how_far() -> None:
    one = without_odometer(ToDo("oil", "shop", None, 1200), SINCE)
    assert one == ToDo("oil (within 1,200 km)", "shop", SINCE + timedelta(days=30), None)
    day = SINCE + timedelta(days=3)
    assert without_odometer(ToDo("oil", "shop", day, 1200), SINCE).day == day
    assert without_odometer(ToDo("oil", "shop", day), SINCE) == ToDo("oil", "shop", day)
