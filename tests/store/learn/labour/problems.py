"""The published measurements as fixed effects and factors."""

from __future__ import annotations

import numpy as np

from store.learn.arrays import Bools, Floats
from tests.store.learn.labour import published
from tests.store.learn.labour.fitting import Problem, one_of


def one_way(readings: Floats) -> Problem:
    """One factor, a line of readings for each of its levels."""
    levels, each = readings.shape
    return Problem(readings.ravel(), _mean(readings.size), [_places(levels, each)])


def machines(left_out: tuple[int, ...] = (), *, cells: bool = True) -> Problem:
    """Machines B and C against A; workers, and workers on a machine.

    Args:
        left_out: rows to leave out, counted from 1.
    """
    worker = np.tile(_places(6, 3), (3, 1))
    machine = _places(3, 18)
    cell = np.einsum("nm,nw->nmw", machine, worker).reshape(54, 18)
    keep = np.setdiff1d(np.arange(54), np.array(left_out, np.int64) - 1)
    fixed = np.hstack([_mean(54), machine[:, 1:]])[keep]
    factors = [worker[keep], cell[keep]] if cells else [worker[keep]]
    return Problem(published.MACHINES.ravel()[keep], fixed, factors)


def penicillin(keep: Bools | None = None) -> Problem:
    """Plates and samples, crossed."""
    which = np.ones((24, 6), bool) if keep is None else keep
    plate, sample = np.nonzero(which)
    factors = [one_of(plate.tolist()), np.eye(6)[sample]]
    return Problem(published.PENICILLIN[which], _mean(len(plate)), factors)


def pastes() -> Problem:
    """Batches, and casks inside them."""
    return Problem(published.PASTES.ravel(), _mean(60), [_places(10, 6), _places(30, 2)])


def sleep() -> Problem:
    """A line over days; each person's own height and slope, independent of one another."""
    person, day = _places(18, 10), np.tile(np.arange(10.0), 18)
    fixed = np.stack([np.ones(180), day], axis=1)
    return Problem(published.SLEEP.ravel(), fixed, [person, person * day[:, None]])


def radon(predictors: int) -> Problem:
    """Counties; the mean, then upstairs, then the county's uranium as predictors."""
    county, floor = np.nonzero(published.RADON[:, [0, 2]])
    mean = published.RADON[county, 2 * floor + 1]
    fixed = np.stack(
        [np.ones(len(mean)), floor.astype(np.float64), published.RADON[county, 4]], axis=1
    )
    return Problem(
        mean, fixed[:, :predictors], [np.eye(85)[county]],
        count=published.RADON[county, 2 * floor], within=published.RADON_WITHIN,
    )  # fmt: skip


def _mean(rows: int) -> Floats:
    return np.ones((rows, 1))


def _places(levels: int, each: int) -> Floats:
    return np.repeat(np.eye(levels), each, axis=0)
