"""Yes or no, one after another: more often than is usual, or more often since a date.

Counts are judged exactly: the binomial tail for a share, Fisher's exact test for two stretches
(Fisher, The Design of Experiments, 1935; Feller, An Introduction to Probability Theory, volume 1,
chapter 2). Of all dates at which it may have turned the loudest is taken; how often luck is as loud
at any of them is counted over all orders of the same yes and no (a permutation test, exact: Fisher
and Pitman, 1935 and 1937).
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

LIKE = math.exp(1.92)
"""By how much less likely a date still belongs to 19 of 20: chi-squared 3.84 / 2."""
TRIED = 60
"""Dates of a long row, evenly spread."""
NOTHING = 1e-18
"""Part of a sum from which on no more is added."""


@dataclass(frozen=True, slots=True)
class Turn:
    """A turn in a row of yes and no.

    Attributes:
        place: of the first after it.
        early, late: places between which it fell as well as not: all that are hardly less likely.
        before, after: shares of yes.
        chance: at most so often would luck turn as loudly somewhere in such a row.
    """

    place: int
    early: int
    late: int
    before: float
    after: float
    chance: float


def at_least(yes: int, of: int, share: float) -> float:
    """Return the chance of so many or more, each with that share: the upper binomial tail.

    Raises:
        ValueError: more than all, or a share that is none.
    """
    if not 0 <= yes <= of or not 0 <= share <= 1:
        raise ValueError(f"{yes} of {of} at {share}")
    if share in (0.0, 1.0):
        return float(yes == 0 or share == 1.0)
    one, other = math.log(share), math.log1p(-share)  # ten years of jobs are past what C can hold
    return min(
        1.0,
        math.fsum(math.exp(_ways(of, n) + n * one + (of - n) * other) for n in range(yes, of + 1)),
    )


def more_often(yes: int, of: int, others: int, of_others: int) -> float:
    """Return Fisher's one-sided chance of so many yes here, were here and there alike.

    The hypergeometric tail: sum over n >= yes of C(of, n) C(of others, all yes - n) / C(all, all
    yes).
    """
    all_yes = yes + others
    last = min(of, all_yes)
    term = math.exp(_ways(of, yes) + _ways(of_others, others) - _ways(of + of_others, all_yes))
    total, n = term, yes
    while n < last and term > total * NOTHING:
        term *= (of - n) * (all_yes - n) / ((n + 1) * (of_others - all_yes + n + 1))
        total, n = total + term, n + 1
    return min(1.0, total)


def _ways(of: int, taken: int) -> float:
    """ln of how many ways there are to take some of many."""
    return math.lgamma(of + 1) - math.lgamma(taken + 1) - math.lgamma(of - taken + 1)


def turned(row: Sequence[bool], fewest: int, worth: float = 1.0) -> Turn | None:
    """Return where a row turns loudest; None where it is too short to say.

    Args:
        fewest: so many at least on each side.
        worth: where the loudest date alone has a greater chance than this, the chance told is the
            plain bound, chance times dates; below, it is exact.
    """
    last = len(row) - fewest
    if last < fewest:
        return None
    places = range(fewest, last + 1, 1 + (last - fewest) // TRIED)
    sums = [0, *accumulate(map(int, row))]
    many, yes = len(row), sums[-1]
    chances = {place: two_sided(sums[place], place, yes, many) for place in places}
    best = min(chances, key=lambda place: (chances[place], place))
    least = chances[best]
    near = [place for place, one in chances.items() if one <= LIKE * least]
    return Turn(
        best, near[0], near[-1], sums[best] / best, (yes - sums[best]) / (many - best),
        _anywhere(least, places, yes, many) if least <= worth else min(1.0, least * len(places)),
    )  # fmt: skip


def two_sided(before: int, place: int, yes: int, many: int) -> float:
    """Return twice the smaller of Fisher's tails.

    Args:
        before: yes among the first `place`; `yes` among all `many`.
    """
    up = more_often(yes - before, many - place, before, place)
    down = more_often(before, place, yes - before, many - place)
    return min(1.0, 2 * min(up, down))


def _anywhere(least: float, places: Sequence[int], yes: int, many: int) -> float:
    """The chance that a row of luck is as loud at any of the dates: all orders of its yes and no
    are alike. They are gone through step by step, leaving out what was as loud: what is left after
    n steps with s yes goes on with chance (yes - s) / (many - n)."""
    quiet = {place: _quiet(least, place, yes, many) for place in places}
    kept = {0: 1.0}
    lost: list[float] = []
    for n in range(many):
        step: dict[int, float] = {}
        for s, chance in kept.items():
            up = (yes - s) / (many - n)
            if up < 1:
                step[s] = step.get(s, 0.0) + chance * (1 - up)
            if up > 0:
                step[s + 1] = step.get(s + 1, 0.0) + chance * up
        low, high = quiet.get(n + 1, (0, yes))
        kept = {s: chance for s, chance in step.items() if low <= s <= high and chance > NOTHING}
        lost += [chance for s, chance in step.items() if s not in kept]
    return min(1.0, math.fsum(lost))


def _quiet(least: float, place: int, yes: int, many: int) -> tuple[int, int]:
    """Between which counts before a date it is less loud than the loudest: from the middle the
    chance falls to both sides."""
    bound = least * (1 + 1e-9)

    def is_quiet(count: int) -> bool:
        return two_sided(count, place, yes, many) > bound

    lowest, highest = max(0, yes - many + place), min(place, yes)
    middle = yes * place // many
    middle = middle if is_quiet(middle) else middle + 1
    if middle > highest or not is_quiet(middle):
        return 1, 0
    low = middle - bisect_left(
        range(middle - lowest + 1), True, key=lambda n: not is_quiet(middle - n)
    )
    high = middle + bisect_left(
        range(highest - middle + 1), True, key=lambda n: not is_quiet(middle + n)
    )
    return low + 1, high - 1
