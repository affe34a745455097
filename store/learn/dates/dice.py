"""Random numbers of one forecast: always the same for the same job, and evenly spread."""

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
    """Everything that one forecast draws, from a seed made of the job and its phase."""

    def __init__(self, draws: int, job: str, seq: int) -> None:
        """Begin anew.

        Args:
            draws: how many.
            job, seq: the same give the same numbers, whatever else was drawn before.
        """
        seed = crc32(f"{job}\n{seq}".encode())
        self.rng = np.random.Generator(np.random.PCG64(seed))
        self._even, self._column = _even(draws), seed % COLUMNS

    def even(self) -> Floats:
        """(draws,) above 0, below 1, one in each of as many equal parts, in random order."""
        self._column = (self._column + 1) % COLUMNS
        return self._even[0][self._column]

    def normal(self) -> Floats:
        """(draws,) standard normal, evenly spread likewise."""
        self._column = (self._column + 1) % COLUMNS
        return self._even[1][self._column]

    def gamma(self, shapes: Sequence[float]) -> Floats:
        """(draws, shapes) gamma of each shape and scale 1."""
        return self.rng.standard_gamma(shapes, (len(self._even[0][0]), len(shapes)))


@lru_cache(maxsize=4)
def _even(draws: int) -> tuple[list[Floats], list[Floats]]:
    rng = np.random.Generator(np.random.PCG64(CONSTANT))
    parts = np.tile((np.arange(draws) + 0.5) / draws, (COLUMNS, 1))
    uniform = rng.permuted(parts, axis=1)
    normal = deviate(uniform)
    return list(uniform), list(normal)


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
