"""When a job will be finished: 19 quantiles of open hours, and their mean."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates.ahead import Ahead
from store.learn.dates.learned import Learned
from store.learn.dates.scene import Scene, scene
from store.learn.dates.spans import OpenHours
from store.learn.dates.walk import hours_left, phases

LEVELS: Floats = np.arange(1, 20) / 20
DRAWS = 512
"""Draws of labour that are used; more make no better dates."""
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
    on = _on(learned, hours, ahead, labour, now)
    return _finish(on, hours_left(on))


@dataclass(frozen=True, slots=True)
class Walked:
    """The draws behind a forecast, phase by phase, in the same simulation.

    Attributes:
        finish: what is said of them.
        starts, ends: (draws, phases ahead) open hours from now, as in `Phases`; the last end is the
            finish, stretched as the forecast is.
        shop: (draws,) standard normal: how the shop is to get on in each draw, see `Scene`.
    """

    finish: Finish
    starts: Floats
    ends: Floats
    shop: Floats


def walked(learned: Learned, hours: OpenHours, ahead: Ahead, labour: Floats, now: float) -> Walked:
    """Forecast a job's finish, and with it when each phase begins and ends.

    Args:
        labour, now: as of `finish`, whose forecast is the same to the last bit.
    """
    on = _on(learned, hours, ahead, labour, now)
    found = phases(on)
    last = found.ends[:, -1]
    left = np.maximum(last, LEAST_H)
    middle = float(np.sort(left)[len(left) // 2])
    times = (left / middle) ** (learned.ranges.stretch() - 1)
    return Walked(
        _finish(on, last), found.starts * times[:, None], found.ends * times[:, None], on.shop
    )


def _on(learned: Learned, hours: OpenHours, ahead: Ahead, labour: Floats, now: float) -> Scene:
    return scene(learned, hours, ahead, labour[:: max(1, len(labour) // DRAWS)], now)


def _finish(on: Scene, hours: Floats) -> Finish:
    left = np.sort(np.maximum(hours, LEAST_H))
    middle = float(left[len(left) // 2])
    left = middle * (left / middle) ** on.learned.ranges.stretch()
    return Finish(tuple(_quantiles(left).tolist()), float(left.mean()), on.reading)


def _quantiles(rising: Floats) -> Floats:
    """(19,) quantiles of draws in rising order, each draw in the middle of its part."""
    at = np.clip(LEVELS * len(rising) - 0.5, 0, len(rising) - 1)
    low = at.astype(np.int64)
    high = np.minimum(low + 1, len(rising) - 1)
    found: Floats = rising[low] + (at - low) * (rising[high] - rising[low])
    return found
