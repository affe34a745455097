"""The usual ends that a hold is offered."""

from __future__ import annotations

import pytest

from tests.tui.made import CALENDAR, on
from tui.parts.holding import usual_ends
from tui.words import day_time


@pytest.mark.parametrize(
    "now, ends",
    [
        ("Wed 10:40", ["Wed 16:30", "Thu 07:30", "Thu 16:30"]),
        ("Wed 16:30", ["Thu 07:30", "Thu 16:30", "Fri 07:30"]),
        ("Wed 05:00", ["Wed 07:30", "Wed 16:30", "Thu 07:30"]),
    ],
)
def test_closing_and_opening_of_the_next_working_days(now: str, ends: list[str]) -> None:
    at = on(now)
    found = usual_ends(CALENDAR, at)
    assert [day_time(one, CALENDAR.zone, at) for one in found] == ends


def test_a_weekend_is_passed_over() -> None:
    at = on("Fri 16:29")
    found = [day_time(one, CALENDAR.zone, at) for one in usual_ends(CALENDAR, at)]
    assert found == ["Fri 16:30", "Mon 07:30", "Mon 16:30"]
