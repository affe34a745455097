"""Stratified draws, the same for every forecast: nothing depends on what was asked before."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy.special import ndtri

from store.learn.arrays import Floats

DRAWS = 1000
SEED = 20_260


@lru_cache(maxsize=64)
def strata(kind: int, phase: int, draws: int = DRAWS) -> Floats:
    """Return (draws,) numbers between 0 and 1, one in each of as many equal parts, shuffled.

    Source:
        McKay, Beckman and Conover (1979), Latin hypercube sampling.
    """
    order = np.random.Generator(np.random.PCG64([SEED, kind, phase])).permutation(draws)
    found = (order + 0.5) / draws
    found.setflags(write=False)
    return found


@lru_cache(maxsize=64)
def uniforms(kind: int, phases: int, draws: int = DRAWS) -> Floats:
    """Return (draws, phases)."""
    return np.stack([strata(kind, one, draws) for one in range(phases)], axis=1)


@lru_cache(maxsize=64)
def normals(kind: int, phases: int, draws: int = DRAWS) -> Floats:
    """Return (draws, phases) standard normal draws."""
    found = ndtri(uniforms(kind, phases, draws))
    found.setflags(write=False)
    return found
