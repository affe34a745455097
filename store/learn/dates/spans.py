"""What happened to jobs, and when the shop was open: plain values, no file, no calendar."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SpanKind = Literal["labour", "held", "standing", "outwork"]
KINDS: tuple[SpanKind, ...] = get_args(SpanKind)

SHOP_DAY_H = 8.0
"""Open hours in a shop day, where a span of time is thought of in days."""
NEVER_OPEN = "The shop has no open hours: give at least one open span."


@dataclass(frozen=True, slots=True)
class Span:
    """Something that went on with a job for a while.

    Attributes:
        seq: the phase it belongs to, as in the history; standing and outwork have their own.
        kind: one clock, one hold, or a phase in which the job stands or is away.
        reason: why it was held; the firm of an outwork; empty where nobody said.
        badge: whose clock; empty for the other kinds.
        started, ended: POSIX seconds; `ended` None while it goes on.
        expected: the end as it was said at the start, POSIX seconds; None where nobody said.
    """

    job: str
    seq: int
    kind: SpanKind
    reason: str
    badge: str
    started: float
    ended: float | None
    expected: float | None = None


class OpenHours:
    """The shop's open time with a running total, so that both questions are one bisection.

    Readings are open hours since the first opening. Outside the spans given, the shop is taken to
    be open all the time at the rate at which it is open within them (about a quarter of the time):
    good enough for what lies years ahead.
    """

    def __init__(self, open_spans: Iterable[tuple[float, float]]) -> None:
        """Lay the spans out.

        Args:
            open_spans: start and end in POSIX seconds, in any order; breaks cut out.

        Raises:
            ValueError: no span has any length.
        """
        spans = _merged(open_spans)
        if not spans:
            raise ValueError(NEVER_OPEN)
        self._starts = [start for start, _ in spans]
        self._ends = [end for _, end in spans]
        lengths = ((end - start) / 3600 for start, end in spans)
        self._total = list(accumulate(lengths, initial=0.0))
        self._rate = self._total[-1] * 3600 / (self._ends[-1] - self._starts[0])

    def upto(self, at: float) -> float:
        """Open hours before an instant (POSIX seconds); below 0 before the first opening."""
        i = bisect_right(self._starts, at)
        if i == 0:
            return (at - self._starts[0]) * self._rate / 3600
        end = self._ends[i - 1]
        if at <= end:
            return self._total[i] - (end - at) / 3600
        if i == len(self._starts):
            return self._total[i] + (at - end) * self._rate / 3600
        return self._total[i]

    def between(self, since: float, until: float) -> float:
        """Open hours between two instants."""
        return self.upto(until) - self.upto(since)

    def when(self, reading: float) -> float:
        """The first instant (POSIX seconds) at which so many open hours have passed."""
        i = bisect_left(self._total, reading)
        if i == 0:
            return self._starts[0] + reading * 3600 / self._rate
        if i == len(self._total):
            return self._ends[-1] + (reading - self._total[-1]) * 3600 / self._rate
        return self._ends[i - 1] - (self._total[i] - reading) * 3600

    def after(self, at: float, hours: float) -> float:
        """The first instant by which so many open hours (0 or more) have passed since another."""
        return self.when(self.upto(at) + hours)

    def shift_end(self, at: float, night_h: float) -> float:
        """When the shift ends in which an instant lies, or the next one.

        Args:
            at: POSIX seconds; beyond the spans given it comes back itself, never less than it.
            night_h: wall hours closed that end a shift; shorter ones are breaks.
        """
        i = bisect_right(self._ends, at)
        while i + 1 < len(self._ends) and self._starts[i + 1] - self._ends[i] < night_h * 3600:
            i += 1
        return self._ends[i] if i < len(self._ends) else at

    def upto_all(self, at: Floats) -> Floats:
        """`upto` of each of an array of instants."""
        import numpy as np

        starts, ends, total = self._arrays
        i = np.searchsorted(starts, at, side="right")
        end = ends[i - 1]
        found = total[i] - np.maximum(0.0, end - at) / 3600
        found += np.maximum(0.0, at - ends[-1]) * (self._rate / 3600)
        early = i == 0
        found[early] = (at[early] - starts[0]) * (self._rate / 3600)
        return found

    def when_all(self, reading: Floats) -> Floats:
        """`when` of each of an array of readings."""
        import numpy as np

        starts, ends, total = self._arrays
        i = np.searchsorted(total, reading, side="left")
        inside = np.clip(i, 1, len(ends))
        found = ends[inside - 1] - (total[inside] - reading) * 3600
        late, early = i > len(ends), i == 0
        found[late] = ends[-1] + (reading[late] - total[-1]) * (3600 / self._rate)
        found[early] = starts[0] + reading[early] * (3600 / self._rate)
        return found

    @cached_property
    def _arrays(self) -> tuple[Floats, Floats, Floats]:
        import numpy as np

        return np.array(self._starts), np.array(self._ends), np.array(self._total)


def _merged(spans: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if end <= start:
            continue
        if joined and start <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(end, joined[-1][1])
        else:
            joined.append((start, end))
    return joined
