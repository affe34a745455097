"""The line that waits for a lift: many stays put one after another, as arrays.

The same figures as `store.sums.mixing` gives, for whoever asks them of hundreds of jobs at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from store.learn.arrays import Floats, Ints
from store.sums.mixing import POINTS, STEP, Quantiles
from store.sums.moving import COUNT, LEVELS, quantile

WHERE = np.arange(POINTS)
_AT = (WHERE + 0.5) / POINTS
_FIRST = int(np.searchsorted(_AT, LEVELS[0]))
_LAST = int(np.searchsorted(_AT, LEVELS[-1]))
_INNER = _AT[_FIRST:_LAST] * (COUNT + 1)
_BELOW: Ints = _INNER.astype(np.int64)
_PICKED: Ints = np.minimum(POINTS - 1, (np.array(LEVELS) * POINTS).astype(np.int64))


class Line:
    """When lifts become free, one after the other."""

    def __init__(self, running: Sequence[Quantiles]) -> None:
        """Lay out when those on lifts leave them.

        Args:
            running: for each 19 quantiles of the hours until it leaves; one at least.
        """
        sides = [
            table(one)[WHERE * pow(STEP, side, POINTS) % POINTS] for side, one in enumerate(running)
        ]
        self._ends: Floats = np.sort(np.stack(sides, axis=1), axis=1)

    def nth(self, place: int) -> Quantiles:
        """Return when so many lifts have become free; 0 is the first: see `nth_to_end`."""
        rounds, nth = divmod(place, self._ends.shape[1])
        return _quantiles(self._ends[:, nth] + rounds * self._ends[:, -1])


def then(wait: Quantiles, stay: Quantiles) -> Quantiles:
    """Return the quantiles of the sum of two that do not depend on each other."""
    return _quantiles(table(wait) + table(stay)[WHERE * STEP % POINTS])


def later(first: Quantiles | None, other: Quantiles | None) -> Quantiles | None:
    """Return the quantiles of the later of two that do not depend on each other; None is now."""
    if first is None or other is None:
        return first or other
    return _quantiles(np.maximum(table(first), table(other)[WHERE * STEP % POINTS]))


@lru_cache(maxsize=1024)
def table(quantiles: Quantiles) -> Floats:
    """(points,) hours at evenly spaced levels, rising."""
    known = np.array(quantiles)
    low = known[_BELOW - 1]
    inner = low + (_INNER - _BELOW) * (known[_BELOW] - low)
    first = [quantile(quantiles, level) for level in _AT[:_FIRST].tolist()]
    last = [quantile(quantiles, level) for level in _AT[_LAST:].tolist()]
    found: Floats = np.concatenate([first, inner, last])
    found.setflags(write=False)
    return found


def _quantiles(hours: Floats) -> Quantiles:
    return tuple(np.sort(hours)[_PICKED].tolist())
