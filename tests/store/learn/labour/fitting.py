"""Variances learned by the learner's own equations with all beliefs off: a plain mixed model.

Fixed effects have no precision beforehand, levels 1 / v, and v becomes what the learner makes of it
with its first guess worth nothing. That is the EM algorithm for restricted maximum likelihood
(Dempster, Laird, Rubin (1977), section 4.4), speeded up by squared extrapolation.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from scipy import sparse

from store.learn.arrays import Floats, Ints
from store.learn.labour.equations import Rows, Solved, predicted, solve
from store.learn.labour.spreads import pooled

T = TypeVar("T")

NOTHING = 1e-6
"""Share of the residual variance below which a variance counts as nothing: it creeps on forever."""
ROUNDS = 400
STILL = 1e-9
"""Change of the logs of the variances at which the fit stands still."""


@dataclass(frozen=True, slots=True)
class Problem:
    """n rows, f fixed effects, and factors whose levels are drawn from a normal law.

    Attributes:
        y: (n,) what was measured, or the mean of `count` measurements.
        fixed: (n, f) columns of the fixed effects.
        factors: each (n, levels) the weights of a factor's levels.
        absorbed: (n,) number of the level of one more factor, which is solved for as the learner
            does with jobs: taken out first. None for none.
        loading: (n,) its weight; None for 1.
        count: (n,) measurements in a row; None for 1.
        within: sum of squares of the measurements about the means of their rows.
    """

    y: Floats
    fixed: Floats
    factors: Sequence[Floats] = ()
    absorbed: Ints | None = None
    loading: Floats | None = None
    count: Floats | None = None
    within: float = 0.0


@dataclass(frozen=True, slots=True)
class Fitted:
    """What came of it.

    Attributes:
        fixed, errors: (f,) fixed effects and their standard errors.
        effects: the shrunken levels of each factor, the absorbed one last; `variances` likewise.
        residual: variance of one measurement.
        deviance: minus twice the restricted log-likelihood.
    """

    fixed: Floats
    errors: Floats
    effects: list[Floats]
    effect_variances: list[Floats]
    variances: list[float]
    residual: float
    deviance: float

    @property
    def sds(self) -> list[float]:
        """Standard deviations of the factors' levels, then of one measurement."""
        return [float(np.sqrt(each)) for each in (*self.variances, self.residual)]


@dataclass(frozen=True, slots=True)
class _Step:
    """The equations solved at some variances, and the variances that follow."""

    solved: Solved
    after: Floats
    deviance: float


def fit(problem: Problem) -> Fitted:
    """Learn the variances until they stand still."""
    parts = len(problem.factors) + (problem.absorbed is not None)
    start = np.full(parts + 1, float(np.var(problem.y)) / (parts + 1))
    rows = _rows(problem)
    variances = _until_still(lambda v: _step(problem, rows, v), start)
    return at(problem, variances[:-1], float(variances[-1]))


def at(problem: Problem, variances: Sequence[float] | Floats, residual: float) -> Fitted:
    """Solve with known variances."""
    step = _step(problem, _rows(problem), np.array([*variances, residual]))
    f, solved = problem.fixed.shape[1], step.solved
    effects: list[Floats] = []
    spreads: list[Floats] = []
    first = f
    diagonal = np.diag(solved.cov)
    for each in problem.factors:
        span = slice(first, first + each.shape[1])
        effects.append(solved.beta[span])
        spreads.append(diagonal[span])
        first = span.stop
    if problem.absorbed is not None:
        effects.append(solved.u)
        spreads.append(solved.job_variances(np.arange(len(solved.u))))
    return Fitted(
        solved.beta[:f], np.sqrt(diagonal[:f]), effects, spreads, [float(v) for v in variances],
        residual, step.deviance,
    )  # fmt: skip


def _until_still(step: Callable[[Floats], _Step], v: Floats) -> Floats:
    """Repeat v -> step(v).after to its fixed point, two steps and a leap at a time.

    Source:
        Varadhan and Roland (2008), Simple and globally convergent methods for accelerating the
        convergence of any EM algorithm, scheme S3, on the logs of the variances.
    """
    for _ in range(ROUNDS):
        first = step(v)
        one = np.log(first.after)
        second = step(first.after)
        two = np.log(second.after)
        moved, bent = one - np.log(v), two - 2 * one + np.log(v)
        if np.max(np.abs(moved)) < STILL or np.max(np.abs(bent)) == 0:
            return first.after
        leap = min(-float(np.linalg.norm(moved) / np.linalg.norm(bent)), -1.0)
        far = np.exp(np.log(v) - 2 * leap * moved + leap**2 * bent)
        if (second.after < NOTHING * second.after[-1]).any():
            return second.after
        v = far if step(far).deviance < second.deviance else second.after
    raise ArithmeticError("the variances do not stand still")


def _rows(problem: Problem) -> Rows:
    n = len(problem.y)
    job = np.zeros(n, np.int64) if problem.absorbed is None else problem.absorbed
    loading = np.ones(n) if problem.loading is None else problem.loading
    x = sparse.csr_array(np.hstack([problem.fixed, *problem.factors]))
    return Rows(x, job, loading, int(job.max()) + 1)


def _step(problem: Problem, rows: Rows, v: Floats) -> _Step:
    y = problem.y
    count = np.ones(len(y)) if problem.count is None else problem.count
    levels = [each.shape[1] for each in problem.factors]
    flat = np.zeros(problem.fixed.shape[1])
    precision = np.concatenate([flat, np.repeat(1 / v[: len(levels)], levels)])
    tau = count / v[-1]
    job_precision = np.inf if problem.absorbed is None else 1 / float(v[-2])
    solved = solve(rows, tau, tau * y, np.diag(precision), np.zeros(len(precision)), job_precision)
    mean, variance = predicted(rows, solved, np.arange(len(y)))
    after = [*_factor_variances(problem, solved), *_absorbed_variance(problem, solved)]
    square = float((count * ((y - mean) ** 2 + variance)).sum()) + problem.within
    after.append(pooled(1.0, 0.0, square, float(count.sum())))
    return _Step(solved, np.array(after), _deviance(problem, v, solved, mean, count))


def _factor_variances(problem: Problem, solved: Solved) -> list[float]:
    found: list[float] = []
    first = problem.fixed.shape[1]
    square = solved.beta**2 + np.diag(solved.cov)
    for each in problem.factors:
        span = slice(first, first + each.shape[1])
        found.append(pooled(1.0, 0.0, float(square[span].sum()), each.shape[1]))
        first = span.stop
    return found


def _absorbed_variance(problem: Problem, solved: Solved) -> list[float]:
    if problem.absorbed is None:
        return []
    square = solved.u**2 + solved.job_variances(np.arange(len(solved.u)))
    return [pooled(1.0, 0.0, float(square.sum()), len(square))]


def _deviance(problem: Problem, v: Floats, solved: Solved, mean: Floats, count: Floats) -> float:
    """Minus twice the restricted log-likelihood, from the solved equations alone.

    (N - f) ln 2 pi + ln |R| + ln |G| + ln |C| + e' R^-1 e + u' G^-1 u, with C the matrix of the
    equations.

    Source:
        Searle, Casella, McCulloch (1992), Variance Components, section 7.1 and appendix M.
    """
    f = problem.fixed.shape[1]
    measured = float(count.sum())
    squares = float((count * (problem.y - mean) ** 2).sum()) + problem.within
    found = (measured - f) * np.log(2 * np.pi) + measured * np.log(v[-1]) + squares / v[-1]
    first = f
    for factor, variance in zip(problem.factors, v[:-1], strict=False):
        span = slice(first, first + factor.shape[1])
        found += (np.log(variance) + solved.beta[span] ** 2 / variance).sum()
        first = span.stop
    if problem.absorbed is not None:
        found += (np.log(v[-2] * solved.d) + solved.u**2 / v[-2]).sum()
    return float(found - np.linalg.slogdet(solved.cov)[1])


def one_of(labels: Sequence[object]) -> Floats:
    """Return (n, levels) ones and zeros, a column for each label in the order of appearance."""
    order = list(dict.fromkeys(labels))
    return np.array([[float(one == label) for label in order] for one in labels])


def numbers(labels: Sequence[object]) -> Ints:
    """Return (n,) which level each row has, in the order of appearance."""
    order = {label: index for index, label in enumerate(dict.fromkeys(labels))}
    return np.array([order[one] for one in labels], np.int64)


def every_way(problem: Problem) -> list[Fitted]:
    """Fit with all factors as columns, and with each in turn absorbed; the factors' order stays.

    For factors of ones and zeros.
    """
    found = [fit(problem)]
    for which, factor in enumerate(problem.factors):
        rest = [each for index, each in enumerate(problem.factors) if index != which]
        absorbed = replace(problem, factors=rest, absorbed=factor.argmax(axis=1))
        found.append(_moved_back(fit(absorbed), which))
    return found


def _moved_back(fitted: Fitted, place: int) -> Fitted:
    return replace(
        fitted,
        effects=last_to(fitted.effects, place),
        effect_variances=last_to(fitted.effect_variances, place),
        variances=last_to(fitted.variances, place),
    )


def last_to(things: list[T], place: int) -> list[T]:
    """Return the same things with the last one moved to a place."""
    return [*things[:place], things[-1], *things[place:-1]]
