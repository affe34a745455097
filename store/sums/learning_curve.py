"""How hours fall with practice: power curves as handbooks tabulate them, and our own, which fades.

A power curve has a rate: each doubling of the repetitions leaves that share of the hours. It is
used in two ways that are never mixed: in the unit form the hours of the n-th repetition follow it,
in the average form the mean of the first n. Our own curve is exponential on logs: somebody to
whom a job is new takes exp(c) times the usual hours, and c fades with each job done.

Sources:
    Wright (1936), Factors affecting the cost of airplanes, J. Aeronautical Sciences 3, 122-128
    (average form); Boren and Campbell (1970), Learning-curve tables, RM-6191 (unit form);
    Heathcote, Brown and Mewhort (2000), The power law repealed, Psychon. Bull. Rev. 7, 185-207
    (exponential curves fit single people better).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import linear_regression


def exponent(rate: float) -> float:
    """Return b = ln(rate) / ln 2, with which T_n = T_1 n^b.

    Args:
        rate: share of the hours that a doubling leaves, above 0; 1 is no learning.

    Raises:
        ValueError: the rate is outside its range.
    """
    if not 0 < rate < math.inf:
        raise ValueError(f"a learning rate is above 0, such as 0.8, not {rate}")
    return math.log(rate) / math.log(2)


def unit(first: float, rate: float, n: float) -> float:
    """Return the hours of the n-th repetition, unit form: T_1 n^b.

    Args:
        first: hours of the first one, above 0.
        n: 1 or more; whole, or in between where a target is met in between.

    Raises:
        ValueError: an argument is outside its range.
    """
    _checked(first, n)
    return first * math.pow(n, exponent(rate))


def total(first: float, rate: float, n: int) -> float:
    """Return the hours of the first n repetitions together, unit form."""
    return math.fsum(unit(first, rate, one) for one in range(1, n + 1))


def average(first: float, rate: float, n: int) -> float:
    """Return the mean hours of the first n repetitions, average form: T_1 n^b."""
    return unit(first, rate, n)


def total_of_average(first: float, rate: float, n: int) -> float:
    """Return the hours of the first n repetitions together, average form: T_1 n^(1 + b)."""
    return n * average(first, rate, n)


def unit_of_average(first: float, rate: float, n: int) -> float:
    """Return the hours of the n-th repetition, average form."""
    before = total_of_average(first, rate, n - 1) if n > 1 else 0.0
    return total_of_average(first, rate, n) - before


def first_from(hours: float, rate: float, n: float) -> float:
    """Return the hours of the first repetition, unit form, where the n-th took some."""
    _checked(hours, n)
    return hours / math.pow(n, exponent(rate))


def rate_between(n: float, hours: float, later_n: float, later_hours: float) -> float:
    """Return the rate of the unit curve through two repetitions.

    Raises:
        ValueError: an argument is outside its range, or the later one is not later.
    """
    _checked(hours, n)
    _checked(later_hours, later_n)
    if later_n <= n:
        raise ValueError(f"a rate needs a later repetition than {n:g}, not {later_n:g}")
    return math.pow(2, math.log(later_hours / hours) / math.log(later_n / n))


def repetition(first: float, rate: float, target: float) -> float:
    """Return the n whose hours are the target, unit form: (target / T_1)^(1 / b); 1 or more.

    Raises:
        ValueError: an argument is outside its range, or nobody gets there at this rate.
    """
    _checked(first, 1)
    _checked(target, 1)
    if target >= first:
        return 1.0
    if rate >= 1:
        raise ValueError(f"at a rate of {rate:g} the hours do not fall")
    return math.pow(target / first, 1 / exponent(rate))


def rate_of(hours: Sequence[float]) -> float:
    """Return the rate of the unit curve that fits repetitions 1, 2, 3 ... best on logs.

    Ordinary least squares of ln hours on ln n.

    Raises:
        ValueError: fewer than two repetitions, or hours outside their range.
    """
    if len(hours) < 2:
        raise ValueError("a rate needs the hours of two repetitions at least")
    for one in hours:
        _checked(one, 1)
    logs = [math.log(n) for n in range(1, len(hours) + 1)]
    return math.pow(2, linear_regression(logs, [math.log(one) for one in hours]).slope)


def times_usual(cost: float, done: float, fading: float) -> float:
    """Return how many times the usual hours somebody takes: exp(c exp(-e / fading)).

    Args:
        cost: c, ln of how many times the first job takes; below 0: faster at first.
        done: e, jobs of the kind done before, 0 or more, in parts too.
        fading: jobs after which 1 / 2.718 of the cost is left, above 0.

    Raises:
        ValueError: an argument is outside its range.
    """
    if not (math.isfinite(cost) and 0 <= done < math.inf and 0 < fading < math.inf):
        raise ValueError(f"no learning curve has cost {cost}, {done} jobs done, fading {fading}")
    return math.exp(cost * math.exp(-done / fading))


def usual_jobs_lost(cost: float, jobs: int, fading: float) -> float:
    """Return what the first jobs cost beyond the usual hours, in usual jobs; below 0: a gain.

    The sum over e = 0 ... jobs - 1 of exp(c exp(-e / fading)) - 1.

    Args:
        jobs: 0 or more.
    """
    return math.fsum(times_usual(cost, done, fading) - 1 for done in range(jobs))


def jobs_until(cost: float, within: float, fading: float) -> int:
    """Return after how many jobs somebody takes at most `within` more than usual, 0.05 for 5 %.

    fading ln(c / ln(1 + within)), rounded up.

    Raises:
        ValueError: `within` is not above 0.
    """
    if not 0 < within < math.inf:
        raise ValueError(f"nobody learns to lose nothing at all: {within} is not above 0")
    times_usual(cost, 0, fading)
    if cost <= math.log1p(within):
        return 0
    return math.ceil(fading * math.log(cost / math.log1p(within)))


def _checked(hours: float, n: float) -> None:
    if not 0 < hours < math.inf:
        raise ValueError(f"hours of a repetition are above 0, not {hours}")
    if not 1 <= n < math.inf:
        raise ValueError(f"repetitions count from 1, not {n}")
