"""Spreads put together: a stay after a wait, the ways that a job may go, the rest of a length."""

from __future__ import annotations

from collections.abc import Sequence

from store.file.learned.kept import Spread
from store.file.learned.line import then
from store.sums.mixing import mixed

LEAST_H = 1e-3
"""Of labour still to go: nothing is finished before somebody says so."""


def after(wait: tuple[float, ...] | None, stay: Spread) -> Spread:
    """Return a stay that begins after a wait; None is no wait."""
    if wait is None:
        return stay
    return Spread(stay.mean + sum(wait) / len(wait), then(wait, stay.quantiles))


def ways_mixed(ways: Sequence[tuple[float, Spread]]) -> Spread:
    """Return the ways that a job may go, with their odds, as one."""
    whole = sum(odds for odds, _ in ways)
    return Spread(
        sum(odds * one.mean for odds, one in ways) / whole,
        mixed([(odds / whole, one.quantiles) for odds, one in ways]),
    )


def less(elapsed_h: float, mean: float, quantiles: Sequence[float]) -> Spread:
    """Return what is left of a whole length that is longer than what went into it."""
    return Spread(
        max(LEAST_H, mean - elapsed_h), tuple(max(LEAST_H, one - elapsed_h) for one in quantiles)
    )
