"""The regression of all phases: levels, each vehicle's condition, noise of each phase of its own.

y = X b + l u + e, b ~ N(0, diag(sd^2)), u ~ N(0, s^2) for each job, felt by its phases with loads
l, e ~ N(0, v(phase)). With V = Var(l u + e), P = V^-1 - V^-1 X (X' V^-1 X + Q)^-1 X' V^-1. For
any column z: z' P y is normal with variance z' P z where nothing is along z; its size is estimated
by z' P y / z' P z. Spreads by EM with what is not known of b and u counted in. Source: Henderson
(1975); Searle, Casella and McCulloch, Variance Components (1992), chapter 8.

A phase further off than two deviations counts as just two (Huber, Robust Statistics, 1981), so a
forgotten clock or a freak vehicle moves nothing alone.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats, added_up
from store.learn.signals.laid import Laid

CLIP = 2.0
PASSES = 6
"""Of learning the spreads where nothing is known of them."""
NOISE_SD, JOB_SD = 0.22, 0.15
NOISE_WORTH, JOB_WORTH = 8.0, 4.0
"""How many phases the common noise counts for in each phase's own; jobs the first guess does."""


@dataclass(frozen=True, slots=True)
class Spreads:
    """`noise`: (rows,) variances; `job`: variance of vehicles' conditions."""

    noise: Floats
    job: float


@dataclass(slots=True)
class Fit:
    """One solved regression.

    Attributes:
        seen: (rows,) y with what is too far off drawn in.
        solved: (rows, levels) V^-1 X; `inverse`: (X' V^-1 X + Q)^-1.
        left: (rows,) P y.
        levels: b.
    """

    laid: Laid
    spreads: Spreads
    seen: Floats
    solved: Floats
    inverse: Floats
    left: Floats
    levels: Floats

    @property
    def kappa(self) -> Floats:
        """(jobs,) s^2 / (1 + s^2 sum of l^2 / v): what V^-1 takes out of a job's phases."""
        return _kappa(self.laid, self.spreads)


def first_spreads(laid: Laid) -> Spreads:
    """Return what is believed before anything was seen."""
    return Spreads(np.full(len(laid.y), NOISE_SD**2), JOB_SD**2)


def fitted(laid: Laid, columns: Floats, sds: Floats, spreads: Spreads, passes: int) -> Fit:
    """Fit, drawing in what is too far off, and learning the spreads where passes are given.

    Args:
        columns, sds: (rows, levels) and (levels,).
        passes: how often the spreads are learned; 0 leaves them as they are.
    """
    seen = laid.y
    for number in range(max(passes, 2)):
        fit = _solved(laid, columns, sds, spreads, seen)
        if number < passes:
            spreads = _learned(fit)
        seen = _drawn_in(fit)
    return _solved(laid, columns, sds, spreads, seen)


def _solved(laid: Laid, columns: Floats, sds: Floats, spreads: Spreads, seen: Floats) -> Fit:
    solved = _unmixed(laid, spreads, columns)
    inverse: Floats = np.linalg.inv(columns.T @ solved + np.diag(1 / sds**2)).astype(
        np.float64, copy=False
    )
    levels = inverse @ (solved.T @ seen)
    left = _unmixed(laid, spreads, (seen - columns @ levels)[:, None])[:, 0]
    return Fit(laid, spreads, seen, solved, inverse, left, levels)


def _kappa(laid: Laid, spreads: Spreads) -> Floats:
    felt = added_up(laid.job, laid.loads**2 / spreads.noise, laid.jobs)
    found: Floats = spreads.job / (1 + spreads.job * felt)
    return found


def _unmixed(laid: Laid, spreads: Spreads, values: Floats) -> Floats:
    """(rows, k) V^-1 times values."""
    scaled = values / spreads.noise[:, None]
    pull = laid.loads / spreads.noise
    order = np.argsort(laid.job, kind="stable")
    starts = np.searchsorted(laid.job[order], np.arange(laid.jobs))
    sums = np.add.reduceat((laid.loads[:, None] * scaled)[order], starts, axis=0)
    found: Floats = scaled - pull[:, None] * (_kappa(laid, spreads)[:, None] * sums)[laid.job]
    return found


def _noise(fit: Fit) -> Floats:
    """(rows,) what is left as noise: v P y of each phase, its vehicle's condition taken out."""
    found: Floats = fit.spreads.noise * fit.left
    return found


def _unknown(fit: Fit) -> Floats:
    """(rows,) diagonal of P."""
    laid, spreads = fit.laid, fit.spreads
    own = 1 / spreads.noise - (laid.loads / spreads.noise) ** 2 * fit.kappa[laid.job]
    found: Floats = own - ((fit.solved @ fit.inverse) * fit.solved).sum(axis=1)
    return np.clip(found, 1e-9, 1 / spreads.noise)


def _drawn_in(fit: Fit) -> Floats:
    """(rows,) y, nothing of it further off than two deviations of its own noise."""
    noise = _noise(fit)
    reach = CLIP * np.sqrt(fit.spreads.noise)
    rest = fit.laid.y - fit.seen + noise
    found: Floats = fit.seen - noise + np.clip(rest, -reach, reach)
    return found


def _learned(fit: Fit) -> Spreads:
    """One step of EM: squares of what is left, with what is not known of it."""
    laid, spreads = fit.laid, fit.spreads
    squares = _noise(fit) ** 2 + spreads.noise - spreads.noise**2 * _unknown(fit)
    codes = int(laid.code.max()) + 1
    many = np.bincount(laid.code, minlength=codes)
    common = float(squares.mean())
    own = (NOISE_WORTH * common + added_up(laid.code, squares, codes)) / (NOISE_WORTH + many)
    return Spreads(own[laid.code], _job_spread(fit))


def _job_spread(fit: Fit) -> float:
    laid, s2 = fit.laid, fit.spreads.job
    pulls = added_up(laid.job, laid.loads * fit.left, laid.jobs)
    felt = added_up(laid.job, laid.loads**2 / fit.spreads.noise, laid.jobs)
    own = felt - fit.kappa * felt**2
    order = np.argsort(laid.job, kind="stable")
    starts = np.searchsorted(laid.job[order], np.arange(laid.jobs))
    together = np.add.reduceat((laid.loads[:, None] * fit.solved)[order], starts, axis=0)
    known = own - ((together @ fit.inverse) * together).sum(axis=1)
    squares = (s2 * pulls) ** 2 + s2 - s2**2 * known
    return float((JOB_WORTH * JOB_SD**2 + squares.sum()) / (JOB_WORTH + laid.jobs))
