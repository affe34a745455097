"""One candidate for what is told, and the column that it adds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.signals.found import OF_WORK, Kind
from store.learn.signals.laid import Laid, Subject

MOST = 12
"""At most so many of a sort are told: more than that is another shop, not a change."""


@dataclass(frozen=True, slots=True)
class Heard:
    """One candidate.

    Attributes:
        weights: (its subject's rows,) its column on them.
        size: of the effect on the log scale, from its beginning to its end; `t` in deviations.
        middle: mean of ln(labour / today's book) over its rows, what is too far off drawn in.
        chance: at most so often would luck alone find as much anywhere in the shop.
        since, early, late: POSIX seconds; of a change, with the range of its date.
    """

    kind: Kind
    subject: Subject
    weights: Floats
    t: float
    size: float
    middle: float
    chance: float
    since: float
    early: float
    late: float


def column_of(work: Laid, one: Heard) -> Floats:
    """(rows,) its column, nothing elsewhere."""
    column = np.zeros(len(work.y))
    column[one.subject.rows] = one.weights
    return column


def column_of_rows(work: Laid, rows: Ints) -> Floats:
    """(rows,) 1 on some of them."""
    column = np.zeros(len(work.y))
    column[rows] = 1.0
    return column


def share_of(work: Laid) -> float:
    """Return by how much a chance is multiplied, for all that is asked in one look: every subject
    for a change, and for a level or a trend."""
    return 2.0 * len(work.subjects) / OF_WORK
