"""Forecasts that need no model: past stays, scaled by the book hours that are left."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

import numpy as np

from store.learn.arrays import Floats
from store.learn.scores import LEVELS
from tests.bench.floors.cases import Case

NEAREST = 60
"""Past rows that are asked."""
OTHER_WORK, OTHER_PHASE = 0.5, 0.5
"""How far another operation and another phase are, in logs of book hours."""
FEWEST = 20
"""Until there are so many past rows, stays are log-normal around 2.6 times the book, sd .7."""


def nearest(rows: Sequence[Case]) -> Floats:
    """Quantiles (rows, 19) of the nearest past stays: open hours to a book hour, times the book's.

    Args:
        rows: in the order of their moments; a row is past once its job was finished.
    """
    ends = np.array([one.ends for one in rows])
    book = np.log([one.book_h for one in rows])
    ratio = np.array([one.open_h / one.book_h for one in rows])
    template, phase = _codes([one.template for one in rows]), _codes([one.phase for one in rows])
    found = np.empty((len(rows), len(LEVELS)))
    at_first = np.array([2.6 * math.exp(0.7 * NormalDist().inv_cdf(p)) for p in LEVELS])
    for i, one in enumerate(rows):
        past = np.flatnonzero(ends < one.as_of)
        if len(past) < FEWEST:
            found[i] = one.book_h * at_first
            continue
        far = np.abs(book[past] - book[i])
        far += OTHER_WORK * (template[past] != template[i])
        far += OTHER_PHASE * (phase[past] != phase[i])
        near = past[np.argsort(far, kind="stable")[:NEAREST]]
        found[i] = one.book_h * np.quantile(ratio[near], LEVELS)
    return found


def _codes(names: list[str]) -> Floats:
    index = {name: float(i) for i, name in enumerate(dict.fromkeys(names))}
    return np.array([index[name] for name in names])
