"""Sorted stretches of time as epoch seconds, laid out once so that each question is one bisect."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import inf

Stretch = tuple[float, float]
"""Start and end in epoch seconds; the start belongs to it, the end does not."""

ROUNDING_S = 4e-7
"""Less than half a microsecond: what adding floats can be wrong by."""


def merged(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The same time as sorted stretches that neither overlap nor touch; empty ones vanish."""
    joined: list[Stretch] = []
    for start, end in sorted(stretches):
        if end <= start:
            continue
        if joined and start <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(end, joined[-1][1])
        else:
            joined.append((start, end))
    return joined


def common(some: Sequence[Stretch], others: Sequence[Stretch]) -> list[Stretch]:
    """The time that lies in both of two merged lists (short ones: every pair is looked at)."""
    return merged(
        (max(start, other_start), min(end, other_end))
        for start, end in some
        for other_start, other_end in others
    )


def without(stretches: Sequence[Stretch], cuts: Sequence[Stretch]) -> list[Stretch]:
    """What is left of one merged list when another one is cut out."""
    left: list[Stretch] = []
    first = 0
    for start, end in stretches:
        while first < len(cuts) and cuts[first][1] <= start:
            first += 1
        here = start
        for cut_start, cut_end in cuts[first:]:
            if cut_start >= end:
                break
            if cut_start > here:
                left.append((here, cut_start))
            here = cut_end
        if here < end:
            left.append((here, end))
    return left


@dataclass(frozen=True, slots=True)
class Layout:
    """The open time of some days in a row, good for instants from `lo` to `hi`.

    Attributes:
        first: ordinal of the first day laid out.
        last: ordinal of the day after the last one.
        lo: epoch seconds from which answers are right.
        hi: epoch seconds up to which answers are right.
        starts: epoch seconds at which an open stretch begins, rising.
        ends: epoch seconds at which it ends.
        total: open seconds before each start, and after all of them: one longer than `starts`.
        reach: open seconds before `hi`.
        breaks: merged breaks.
    """

    first: int
    last: int
    lo: float
    hi: float
    starts: list[float]
    ends: list[float]
    total: list[float]
    reach: float
    breaks: list[Stretch]

    def upto(self, at: float) -> float:
        """Open seconds laid out before an instant."""
        i = bisect_right(self.starts, at)
        return self.total[i] - max(0.0, self.ends[i - 1] - at) if i else 0.0

    def is_open(self, at: float) -> bool:
        """Whether an instant lies in an open stretch."""
        i = bisect_right(self.starts, at)
        return i > 0 and at < self.ends[i - 1]

    def when(self, open_s: float) -> float:
        """The first instant by which so many open seconds (above 0, up to `reach`) have passed."""
        i = bisect_left(self.total, open_s - ROUNDING_S)
        return self.ends[i - 1] - (self.total[i] - open_s)

    def each_when(self, open_s: Iterable[float]) -> list[float]:
        """`when` of each of many."""
        ends, total = self.ends, self.total
        return [
            ends[(i := bisect_left(total, one - ROUNDING_S)) - 1] - (total[i] - one)
            for one in open_s
        ]

    def next_start(self, at: float) -> float | None:
        """The first start of an open stretch at or after an instant, None if beyond `hi`."""
        i = bisect_left(self.starts, at)
        return self.starts[i] if i < len(self.starts) and self.starts[i] < self.hi else None

    def open_between(self, since: float, until: float) -> list[Stretch]:
        """The open stretches between two instants, cut off at both."""
        i = bisect_right(self.ends, since)
        j = bisect_left(self.starts, until)
        both = zip(self.starts[i:j], self.ends[i:j], strict=True)
        return [(max(start, since), min(end, until)) for start, end in both if since < until]

    def breaks_between(self, since: float, until: float) -> list[Stretch]:
        """The breaks that have some time between two instants, whole."""
        i = bisect_right(self.breaks, (since, inf))
        if i and self.breaks[i - 1][1] > since:
            i -= 1
        j = bisect_left(self.breaks, (until, -inf))
        return self.breaks[i:j] if since < until else []


def laid_out(
    days: tuple[int, int], good: Stretch, shifts: Iterable[Stretch], breaks: Iterable[Stretch]
) -> Layout:
    """Lay out shifts less breaks, given in any order, for days good between two instants."""
    rests = merged(breaks)
    spans = without(merged(shifts), rests)
    starts, ends = [start for start, _ in spans], [end for _, end in spans]
    total = list(accumulate((end - start for start, end in spans), initial=0.0))
    past = bisect_right(starts, good[1])
    reach = total[past] - max(0.0, ends[past - 1] - good[1]) if past else 0.0
    return Layout(*days, *good, starts, ends, total, reach, rests)


def apart(seconds: float) -> str:
    """How far two clocks stand apart, in words: `2:00 h`, `365 days`."""
    minutes = round(abs(seconds) / 60)
    return f"{minutes // 1440} days" if minutes >= 2880 else f"{minutes // 60}:{minutes % 60:02d} h"
