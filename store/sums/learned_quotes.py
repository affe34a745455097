"""What quotes would ask with what is learned by now, without the learner: phase by phase."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from store.sums.ranged import enough

USUAL_GRADE = 2
"""The condition for which hours are told."""


@dataclass(frozen=True, slots=True)
class PhasesAsked:
    """The labour phases of one job that was quoted.

    Attributes:
        asked_h: middle hours of each phase as it was quoted.
        learned_h: the same as it is learned now, for a vehicle of the usual grade; what is not
            known as it was quoted.
    """

    grade: int
    asked_h: Sequence[float]
    learned_h: Sequence[float]


def grade_factors(jobs: Iterable[PhasesAsked]) -> Mapping[int, float]:
    """Return by how much more each grade was quoted than the usual one.

    F(g) / F(2), where F(g) = sum of asked / sum of learned over the jobs of a grade; 1 where there
    are too few of them to tell.
    """
    asked: dict[int, float] = defaultdict(float)
    learned: dict[int, float] = defaultdict(float)
    counts: dict[int, int] = defaultdict(int)
    for one in jobs:
        asked[one.grade] += math.fsum(one.asked_h)
        learned[one.grade] += math.fsum(one.learned_h)
        counts[one.grade] += 1
    known = [grade for grade in counts if enough(counts[grade]) and asked[grade] and learned[grade]]
    if USUAL_GRADE not in known:
        return {}
    usual = asked[USUAL_GRADE] / learned[USUAL_GRADE]
    return {grade: asked[grade] / learned[grade] / usual for grade in known}


def learned_share(job: PhasesAsked, factors: Mapping[int, float]) -> float | None:
    """Return what a quote would ask now by what it asked: sum of learned x factor / sum of asked.

    A quote asks for more than its phases' middles together, as slow phases add up; that share of
    it is kept. None where nothing was asked.

    Two phases asked 2 h and 3 h are learned as 2.5 h and 3.5 h: 6 / 5, a quote of 5.5 h asks 6.6.
    """
    asked = math.fsum(job.asked_h)
    if asked <= 0:
        return None
    return math.fsum(job.learned_h) * factors.get(job.grade, 1.0) / asked
