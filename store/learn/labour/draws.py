"""Even draws, the same for every forecast: nothing depends on what was asked before.

A lattice covers all that may happen together far more evenly than chance does: 1,024 of its points
are worth 2,000 to 3,000 stratified draws, 4,096 bring the 5 and 90 % of a job's hours within a
half per cent.
"""

from __future__ import annotations

from enum import IntEnum
from functools import lru_cache

import numpy as np
from scipy.special import ndtri

from store.learn.arrays import Floats

LATTICE = 4096
"""Points of the whole lattice: for what is said to people."""
DRAWS = 1024
"""For what is only scored, of which there is much."""
SEED = 20_260
VECTOR = (
    1, 889, 421, 1477, 1329, 1095, 679, 77, 1553, 481, 1495, 803, 1037, 261, 1421, 1397, 1407,
    1615, 1291, 727, 465, 1697, 781, 1721, 903, 1353, 319, 227, 771, 205, 1073, 1151, 439, 355,
    1019, 613, 489, 1655, 871, 847, 969, 851, 395, 1681, 503, 557, 1335, 527, 199, 289, 941,
    169, 1667, 1045, 1845, 63, 671, 659, 171, 431, 151, 799, 1791, 1767, 239, 1715, 1499, 1873,
    457, 707, 387, 605, 275, 403, 133, 1215, 1179, 1725, 2041, 293, 1911, 1801, 1507, 675, 649,
    1241, 793, 1471, 1413, 1899, 1961, 859, 1863, 141, 1361, 415, 1825,
)  # fmt: skip
"""Generating vector, one number a column, found column by column (a test holds the search).

Every second, fourth and eighth point make a good lattice too.

Source:
    Dick, Kuo and Sloan (2013), High-dimensional integration: the quasi-Monte Carlo way, Acta
    Numerica 22, section 5: rank-1 lattices, shifted at random.
"""


class Kind(IntEnum):
    """What is drawn for each phase."""

    EFFECT = 0
    NOISE = 1
    SURPRISE = 2
    SIZE = 3
    OTHER = 4
    STAYS = 5


def lead(draws: int) -> Floats:
    """Return (draws,) numbers between 0 and 1: who does the first phase."""
    return _column(0, draws)


@lru_cache(maxsize=64)
def uniforms(kind: Kind, phases: int, draws: int) -> Floats:
    """Return (draws, phases) numbers above 0 and below 1.

    Raises:
        ValueError: draws is neither a part nor a multiple of the lattice.
    """
    columns = [1 + one * len(Kind) + kind for one in range(phases)]
    found = np.stack([_column(one, draws) for one in columns], axis=1)
    found.setflags(write=False)
    return found


@lru_cache(maxsize=64)
def normals(kind: Kind, phases: int, draws: int) -> Floats:
    """Return (draws, phases) standard normal draws."""
    found = ndtri(uniforms(kind, phases, draws))
    found.setflags(write=False)
    return found


@lru_cache(maxsize=256)
def _column(column: int, draws: int) -> Floats:
    """One column of the lattice; more draws than it has points are further shifts of it."""
    points = min(draws, LATTICE)
    if draws < 1 or LATTICE % points or draws % points:
        raise ValueError(f"draws: {draws} is neither a part nor a multiple of {LATTICE}")
    rng = np.random.Generator(np.random.PCG64([SEED, column]))
    index = np.arange(points)
    if column < len(VECTOR):
        at = index * VECTOR[column] % points / points
    else:  # phases beyond the sixteenth: stratified
        at = rng.permutation(points) / points
    return np.concatenate([_shifted(at, rng.random()) for _ in range(draws // points)])


def _shifted(at: Floats, by: float) -> Floats:
    found: Floats = np.clip((at + by) % 1.0, 1e-12, 1 - 1e-12)
    return found
