"""Records and spans as events: faults put right, one order whatever the order of rows."""

from __future__ import annotations

import random

from store.learn.dates.events import Event, What
from store.learn.dates.spans import Span
from tests.store.learn.dates.made import at, done, happened, span


def test_a_clock_left_running_ends_with_its_shift() -> None:
    off = happened([span(1, "labour", at(0, 9), at(1, 8))])[1]
    assert (off.what, off.at) == (What.CLOCK_OFF, at(0, 17))


def test_a_clock_over_noon_is_left_alone() -> None:
    off = happened([span(1, "labour", at(0, 9), at(0, 15))])[1]
    assert off.at == at(0, 15)


def test_a_clock_that_still_runs_is_taken_to_end_with_its_shift() -> None:
    assert happened([span(1, "labour", at(0, 9), None)])[1].at == at(0, 17)


def test_a_hold_released_late_ends_at_the_next_clock_on_its_phase() -> None:
    held = span(2, "held", at(0, 9), at(3, 9), who="parts")
    end = _end([held, span(2, "labour", at(1, 9), at(1, 10))])
    assert (end.at, end.late) == (at(1, 9), True)


def test_a_clock_on_another_phase_ends_no_hold() -> None:
    held = span(2, "held", at(0, 9), at(3, 9), who="parts")
    end = _end([held, span(1, "labour", at(1, 9), at(1, 10))])
    assert (end.at, end.late) == (at(3, 9), False)


def test_at_one_instant_what_ends_comes_before_what_begins() -> None:
    spans = [span(2, "labour", at(0, 10), at(0, 11)), span(1, "labour", at(0, 9), at(0, 10))]
    kinds = [one.what for one in happened(spans, [done(1, at(0, 10))]) if one.at == at(0, 10)]
    assert kinds == [What.CLOCK_OFF, What.FINISHED, What.CLOCK_ON]


def test_the_order_of_rows_does_not_matter() -> None:
    spans = [span(n % 4 + 1, "labour", at(n % 3, 9), at(n % 3, 10), who=f"B{n}") for n in range(20)]
    mixed = spans.copy()
    random.Random(1).shuffle(mixed)
    assert happened(mixed) == happened(spans)


def _end(spans: list[Span]) -> Event:
    return next(one for one in happened(spans) if one.what is What.HOLD_ENDS)
