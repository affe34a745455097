"""When a person is here on a day: the shop's working spans of it, less absence."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from store.sums.working_time import Calendar

Span = tuple[datetime, datetime]


def present_spans(calendar: Calendar, day: date, absences: Iterable[Span]) -> list[Span]:
    """Return the working spans of the shifts that begin on a local day, less absence (UTC)."""
    spans = [
        span
        for shift in calendar.shifts_of(day)
        for span in calendar.open_spans(shift[0], shift[1])
    ]
    for since, until in absences:
        spans = without(spans, since, until)
    return spans


def without(spans: Iterable[Span], since: datetime, until: datetime) -> list[Span]:
    """Return spans less the time between two instants."""
    found: list[Span] = []
    for start, end in spans:
        if start < since:
            found.append((start, min(end, since)))
        if end > until:
            found.append((max(start, until), end))
    return [(start, end) for start, end in found if end > start]


def hours_of(spans: Iterable[Span], *, until: datetime | None = None) -> float:
    """Return how long spans are together, hours; those after an instant do not count."""
    cut = [(start, end if until is None else min(end, until)) for start, end in spans]
    return sum((end - start).total_seconds() for start, end in cut if end > start) / 3600
