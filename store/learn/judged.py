"""How right forecasts were, as facts that can be put into plain words: shares, misses, nearness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from store.learn.arrays import Bools, Floats
from store.learn.dates.replay import Row
from store.learn.hindsight import Scored
from store.learn.scores import LEVELS, inside, mean_pinball, wilson, worth

RANGE = 0.8
"""What lies between the low and the high figure: 10th to 90th per cent."""
LEAST_H = 0.01
"""Hours below this are no measure of a miss."""


@dataclass(frozen=True, slots=True)
class Share:
    """A share that was counted, 0 to 1, and the interval that luck leaves open, 19 in 20 sure."""

    share: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class HoursJudged:
    """Hours that were said beside those that came; the book's, and those learned.

    Attributes:
        jobs, count: how many jobs, how many forecasts.
        book, middle, cautious: how often that figure was enough.
        within: how often the hours came between the low and the high figure.
        book_miss, miss: the middle one of |hours - said| / hours, of the book and of the middle
            figure.
        nearer: by which share what was learned lies nearer than the book, over all figures that
            were said, from quick to slow; below 0: it lies further away.
    """

    jobs: int
    count: int
    book: Share
    middle: Share
    cautious: Share
    within: Share
    book_miss: float
    miss: float
    nearer: float | None


@dataclass(frozen=True, slots=True)
class DatesJudged:
    """Finishes that were said beside those that came, in the shop's open hours.

    Attributes:
        jobs, count: how many jobs, how many forecasts.
        within: how often the finish came between the low and the high figure.
        promise: how often one promised at a chance would have been kept.
        plain: how often one promised by plain labour hours through the calendar would have.
        plain_miss, miss: the middle one of |hours - said| / hours, of those and of the middle
            figure.
        nearer: as of hours, compared with plain labour hours.
    """

    jobs: int
    count: int
    within: Share
    promise: Share
    plain: Share
    plain_miss: float
    miss: float
    nearer: float | None


def hours_judged(rows: Sequence[Scored], cautious: float) -> HoursJudged:
    """Judge forecasts of hours.

    Args:
        rows: one at least.
        cautious: the chance at which a figure is called cautious, .05 to .95.
    """
    jobs = [one.job for one in rows]
    came = np.array([one.actual_hours for one in rows])
    book = np.array([one.book_hours for one in rows])
    said = np.array([one.quantiles for one in rows])
    middle = said[:, len(LEVELS) // 2]
    return HoursJudged(
        len(set(jobs)), len(rows), _share(came <= book, jobs), _share(came <= middle, jobs),
        _share(came <= _at(said, cautious), jobs), _share(inside(came, said, RANGE), jobs),
        _miss(came, book), _miss(came, middle), _nearer(came, said, book),
    )  # fmt: skip


def dates_judged(rows: Sequence[Row], promise: float) -> DatesJudged:
    """Judge forecasts of finishes.

    Args:
        rows: one at least.
        promise: the chance at which a finish would have been promised, .05 to .95.
    """
    jobs = [one.job for one in rows]
    came = np.array([one.open_hours for one in rows])
    plain = np.array([one.naive for one in rows])
    said = np.array([one.quantiles for one in rows])
    return DatesJudged(
        len(set(jobs)), len(rows), _share(inside(came, said, RANGE), jobs),
        _share(came <= _at(said, promise), jobs), _share(came <= plain, jobs), _miss(came, plain),
        _miss(came, said[:, len(LEVELS) // 2]), _nearer(came, said, plain),
    )  # fmt: skip


def _at(said: Floats, level: float) -> Floats:
    """(n,) the figure at a level, linear between those said."""
    place = min(max(level, float(LEVELS[0])), float(LEVELS[-1])) * 20 - 1
    first = min(int(place + 1e-9), len(LEVELS) - 2)
    found: Floats = said[:, first] + (place - first) * (said[:, first + 1] - said[:, first])
    return found


def _share(held: Bools | NDArray[np.bool_], jobs: Sequence[str]) -> Share:
    """Rows of a job agree with one another, so that they are worth fewer cases than they are."""
    cases, share = worth(held, jobs), float(held.mean())
    return Share(share, *wilson(share * cases, cases))


def _miss(came: Floats, said: Floats) -> float:
    hours = np.maximum(came, LEAST_H)
    return float(np.median(np.abs(hours - said) / hours))


def _nearer(came: Floats, said: Floats, one: Floats) -> float | None:
    """Mean pinball loss against that of one figure said at every level."""
    other = float(mean_pinball(came, np.repeat(one[:, None], len(LEVELS), axis=1)).mean())
    return 1 - float(mean_pinball(came, said).mean()) / other if other > 0 else None
