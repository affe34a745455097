"""The taper: the chance that a job is not finished yet, at any time ahead."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from statistics import NormalDist

from store.views.values import Job
from tui.lane.axis import Axis

SURE, GONE = 0.98, 0.02
"""Drawn full from the one on, not at all under the other."""
CAUTIOUS = 0.8
"""What the cautious finish is taken for where quantiles are missing."""
_NORMAL = NormalDist()
_TAIL = (_NORMAL.inv_cdf(SURE) - _NORMAL.inv_cdf(0.95)) / (
    _NORMAL.inv_cdf(0.95) - _NORMAL.inv_cdf(0.90)
)
"""From .95 to .98 as a share of the way from .90 to .95, if the ends fall as a normal's do."""


@dataclass(frozen=True, slots=True)
class Taper:
    """Knots of the chance of being finished, over working hours from now; both rise."""

    hours: tuple[float, ...]
    chances: tuple[float, ...]

    def unfinished(self, hours: float) -> float:
        """The chance that the job is not finished after so many working hours, 1 to 0."""
        n = bisect_right(self.hours, hours)
        if n == 0:
            return 1.0
        if n == len(self.hours):
            return 0.0
        low, high = self.hours[n - 1], self.hours[n]
        p, q = self.chances[n - 1], self.chances[n]
        return 1.0 - (p + (q - p) * (hours - low) / (high - low))


def taper(axis: Axis, job: Job) -> Taper | None:
    """The taper of a job's finish; None when nothing is left to forecast.

    From the 19 quantiles, both ends carried on to .02 and .98; without quantiles a normal spread
    through the middle and the cautious finish.
    """
    if job.finish_quantiles:
        at = [axis.working_h(instant) for instant in job.finish_quantiles]
        knots = [(n + 1) / 20 for n in range(len(at))]
        return _with_ends(at, knots)
    if job.finish is None:
        return None
    middle = axis.working_h(job.finish.middle)
    spread = (axis.working_h(job.finish.cautious) - middle) / _NORMAL.inv_cdf(CAUTIOUS)
    knots = [n / 20 for n in range(1, 20)]
    return _with_ends([max(0.0, middle + spread * _NORMAL.inv_cdf(p)) for p in knots], knots)


def _with_ends(hours: list[float], chances: list[float]) -> Taper:
    first = max(0.0, hours[0] - _TAIL * (hours[1] - hours[0])) if len(hours) > 1 else hours[0]
    last = hours[-1] + (_TAIL * (hours[-1] - hours[-2]) if len(hours) > 1 else 0.0)
    return Taper((first, *hours, last), (GONE, *chances, SURE))
