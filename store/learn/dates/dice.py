"""Random numbers of one forecast: always the same for the same job, and evenly spread.

What is drawn for one purpose never depends on what was drawn for another: the forecast of a job of
which one thing is other differs by that thing, and not by chance.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from zlib import crc32

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.dates.normal import deviate

COLUMNS = 61
CONSTANT = 20


class Dice:
    """Everything that one forecast draws, from a seed made of the job and its phase.

    What every forecast of a job draws, and always in the same order, comes from here; all else
    from dice of its own: see `apart`.
    """

    def __init__(self, draws: int, job: str, seq: int) -> None:
        """Begin anew.

        Args:
            draws: how many.
            job, seq: the same give the same numbers, whatever else was drawn before.
        """
        self._draws, self._whose = draws, f"{job}\n{seq}"
        self._normal = _normals(draws)
        self._column = crc32(self._whose.encode()) % COLUMNS

    def apart(self, purpose: str, seq: int = 0) -> Apart:
        """Dice for one purpose at one phase: always the same ones."""
        return Apart(self._draws, crc32(f"{self._whose}\n{purpose}\n{seq}".encode()))

    def normal(self) -> Floats:
        """(draws,) standard normal, one in each of as many parts of equal chance, mixed."""
        return self._normal[:, self._columns(1)[0]]

    def gamma(self, shapes: Sequence[float]) -> Floats:
        """(draws, shapes) gamma of each shape and scale 1, evenly spread likewise.

        a (1 - 1 / (9 a) + z / (3 sqrt a))^3, z standard normal; within a hundredth of the true
        quantiles from the 2nd to the 98th per cent.

        Args:
            shapes: a, 4 or more.

        Source:
            Wilson and Hilferty, Proc. Nat. Acad. Sci. 17 (1931).
        """
        a = np.array(shapes)
        z = self._normal[:, self._columns(len(a))]
        root = 1 - 1 / (9 * a) + z / (3 * np.sqrt(a))
        found: Floats = a * np.maximum(root, 0.0) ** 3
        return found

    def _columns(self, count: int) -> list[int]:
        first = self._column + 1
        self._column = (self._column + count) % COLUMNS
        return [(first + n) % COLUMNS for n in range(count)]


class Apart:
    """What one forecast draws for one purpose at one phase.

    Attributes:
        rng: for what is drawn as often as it happens.
    """

    def __init__(self, draws: int, seed: int) -> None:
        """Begin anew."""
        self.rng = np.random.Generator(np.random.PCG64(seed))
        self._draws = draws

    def even(self) -> Floats:
        """(draws,) above 0, below 1, one in each of as many equal parts, in random order."""
        found: Floats = (self.rng.permutation(self._draws) + 0.5) / self._draws
        return found

    def normal(self) -> Floats:
        """(draws,) standard normal, evenly spread likewise."""
        return deviate(self.even())


@lru_cache(maxsize=4)
def _normals(draws: int) -> Floats:
    """(draws, columns) standard normal, evenly spread, each column in an order of its own."""
    rng = np.random.Generator(np.random.PCG64(CONSTANT))
    parts = np.tile((np.arange(draws) + 0.5) / draws, (COLUMNS, 1))
    normal = deviate(rng.permuted(parts, axis=1).T.copy())
    normal.setflags(write=False)
    return normal


def scattered(cells: Ints, hours: Floats, shape: tuple[int, int]) -> Floats:
    """Sum hours into the cells of a table.

    Args:
        cells: (k,) flat indices.
        hours: (k,).
        shape: (draws, phases).

    Returns:
        (draws, phases).
    """
    table = np.zeros(shape)
    np.add.at(table.reshape(-1), cells, hours)
    return table
