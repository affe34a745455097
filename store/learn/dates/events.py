"""Records and spans as events in the order of time, with the usual small faults put right."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from enum import IntEnum
from typing import NamedTuple

from store.learn.dates.spans import OpenHours, Span
from store.learn.records import Record


class What(IntEnum):
    """What happened; at one instant the earlier of this list is taken first."""

    CLOCK_OFF = 0
    HOLD_ENDS = 1
    AWAY_ENDS = 2
    FINISHED = 3
    HOLD_BEGINS = 4
    AWAY_BEGINS = 5
    CLOCK_ON = 6


class Event(NamedTuple):
    """One thing that happened to a job; sorted as tuples, so that the order of rows never matters.

    Attributes:
        at: POSIX seconds.
        who: badge of a clock, reason of a hold, firm of an outwork.
        began: when what ends had begun; else `at`.
        said: the end that was said at the start; infinite where nobody said.
        late: nobody saw it end: it was over by then.
        labour_h: of a phase finished.
    """

    at: float
    what: What
    job: str
    seq: int
    who: str = ""
    kind: str = ""
    began: float = 0.0
    said: float = float("inf")
    late: bool = False
    labour_h: float = 0.0


def events(
    records: Iterable[Record], spans: Iterable[Span], hours: OpenHours, night_h: float = 4.0
) -> list[Event]:
    """All that happened, in order of time.

    A clock left running ends with its shift; a hold released late ends at the next clock on its
    phase.

    Args:
        night_h: the shop closed for so long is the end of a shift, shorter is a break.
    """
    found: list[Event] = [
        Event(r.closed, What.FINISHED, r.job, r.seq, labour_h=r.actual_h) for r in records
    ]
    starts: Mapping[tuple[str, int], list[float]] = defaultdict(list)
    rest: list[Span] = []
    for span in spans:
        if span.kind == "labour":
            found += _clock(span, hours, night_h)
            starts[span.job, span.seq].append(span.started)
        else:
            rest.append(span)
    for clocked in starts.values():
        clocked.sort()
    for span in rest:
        found += _other(span, starts.get((span.job, span.seq), ()))
    found.sort()
    return found


def _clock(span: Span, hours: OpenHours, night_h: float) -> list[Event]:
    on = Event(span.started, What.CLOCK_ON, span.job, span.seq, span.badge, began=span.started)
    end = hours.shift_end(span.started, night_h)
    if span.ended is not None:
        end = max(span.started, min(span.ended, end))
    off = Event(end, What.CLOCK_OFF, span.job, span.seq, span.badge, began=span.started)
    return [on, off]


def _other(span: Span, clocked: Sequence[float]) -> list[Event]:
    held = span.kind == "held"
    begins, ends = (
        (What.HOLD_BEGINS, What.HOLD_ENDS) if held else (What.AWAY_BEGINS, What.AWAY_ENDS)
    )
    said = float("inf") if span.expected is None else span.expected
    start = Event(
        span.started, begins, span.job, span.seq, span.reason, span.kind, span.started, said
    )
    i = bisect_right(clocked, span.started)
    touched = clocked[i] if held and i < len(clocked) else None
    end = span.ended
    late = touched is not None and (end is None or touched < end)
    if late:
        end = touched
    if end is None:
        return [start]
    over = Event(
        max(end, span.started), ends, span.job, span.seq, span.reason, span.kind, span.started,
        said, late,
    )  # fmt: skip
    return [start, over]
