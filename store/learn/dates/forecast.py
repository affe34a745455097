"""When a job will be finished: 19 quantiles of open hours, and their mean."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates.ahead import Ahead
from store.learn.dates.learned import Learned
from store.learn.dates.scene import scene
from store.learn.dates.spans import OpenHours
from store.learn.dates.walk import hours_left

LEVELS: Floats = np.arange(1, 20) / 20
LEAST_H = 0.01


@dataclass(frozen=True, slots=True)
class Finish:
    """A forecast of the open hours until a job's last phase is finished.

    Attributes:
        quantiles: at .05, .10 … .95, above 0, never falling.
        mean: of the same hours.
        reading: the shop's open hours when it was made.
    """

    quantiles: tuple[float, ...]
    mean: float
    reading: float


def finish(learned: Learned, hours: OpenHours, ahead: Ahead, labour: Floats, now: float) -> Finish:
    """Forecast a job's finish from one joint simulation.

    The shop's own record stretches or narrows the draws around their median.

    Args:
        labour: (draws, labour phases ahead) labour hours still to do, drawn together; a phase
            under way: what is left of it.
        now: POSIX seconds.
    """
    on = scene(learned, hours, ahead, labour, now)
    left = np.sort(np.maximum(hours_left(on), LEAST_H))
    middle = float(np.median(left))
    left = middle * (left / middle) ** learned.ranges.stretch()
    quantiles = np.quantile(left, LEVELS, method="hazen")
    return Finish(tuple(float(one) for one in quantiles), float(left.mean()), on.reading)
