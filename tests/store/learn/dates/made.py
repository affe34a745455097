"""A small shop for tests of dates: open from 8 to 12 and from 13 to 17, Monday to Friday."""

from __future__ import annotations

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates.ahead import Ahead
from store.learn.dates.events import Event, events
from store.learn.dates.route import Running, Step, StepKind
from store.learn.dates.seen import Seen
from store.learn.dates.spans import OpenHours, Span, SpanKind
from store.learn.dates.stay import Stay
from store.learn.records import PhaseClass, Record

H = 3600.0
DAY = 24 * H
MONDAY = 4 * DAY
"""5 January 1970."""
OPEN = [
    (MONDAY + day * DAY + start * H, MONDAY + day * DAY + end * H)
    for day in range(7 * 200)
    if day % 7 < 5
    for start, end in ((8, 12), (13, 17))
]
HOURS = OpenHours(OPEN)


def at(day: int, hour: float) -> float:
    """POSIX seconds of an hour of a day, 0 the first Monday."""
    return MONDAY + day * DAY + hour * H


def step(seq: int, kind: StepKind = "labour", cls: PhaseClass | None = "work") -> Step:
    """A phase of the operation OP."""
    return Step(seq, kind, "OP", f"P{seq}", cls)


ROUTE = (step(1), step(2), step(3), step(4))


def span(
    seq: int, kind: SpanKind, start: float, end: float | None, *, who: str = "",
    said: float | None = None, job: str = "J1",
) -> Span:  # fmt: skip
    """One span; `who` is badge or reason."""
    badge, reason = (who or "B1", "") if kind == "labour" else ("", who)
    return Span(job, seq, kind, reason, badge, start, end, said)


def done(seq: int, closed: float, hours: float = 1.0, job: str = "J1") -> Record:
    """One finished phase."""
    return Record(
        job, "OP", "F", f"P{seq}", seq, "B1", closed - hours * H, closed, 1.0, hours, None, "work"
    )


def happened(spans: list[Span], records: list[Record] | None = None) -> list[Event]:
    """Events of spans and records."""
    return events(records or [], spans, HOURS)


def taught(
    spans: list[Span], records: list[Record] | None = None, route: tuple[Step, ...] = ROUTE
) -> tuple[Stay, list[Seen]]:
    """A job's stay after all that happened, and what it taught."""
    stay = Stay("J1", route, HOURS)
    return stay, [seen for event in happened(spans, records) for seen in stay.take(event)]


def fixed(*hours: float, draws: int = 512) -> Floats:
    """(draws, phases) the same labour in every draw."""
    return np.tile(np.array(hours, float), (draws, 1))


def ahead(*steps: Step, running: tuple[Running, ...] = (), in_hands: bool = True) -> Ahead:
    """A job with these phases left, somebody on the first one."""
    begun = frozenset({steps[0].seq}) if in_hands else frozenset[int]()
    return Ahead("J1", steps, begun, in_hands, running)
