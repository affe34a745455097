"""The regression of all phases: levels, each vehicle's condition, noise of each phase of its own.

y = X b + l u + e, b ~ N(0, diag(sd^2)), u ~ N(0, s^2) for each job, felt by its phases with loads
l, e ~ N(0, v(phase)). With V = Var(l u + e), P = V^-1 - V^-1 X (X' V^-1 X + Q)^-1 X' V^-1. For
any column z: z' P y is normal with variance z' P z where nothing is along z; its size is estimated
by z' P y / z' P z. Spreads by EM with what is not known of b and u counted in. Source: Henderson
(1975); Searle, Casella and McCulloch, Variance Components (1992), chapter 8.

A phase further off than one and a half deviations counts as just that (Huber, Robust Statistics,
1981), so a forgotten clock or a freak vehicle moves nothing alone; the spreads are those of what is
drawn in, so that z' P y keeps its variance. Sizes come from a fit that has drawn in often enough.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from store.learn.arrays import Floats, added_up
from store.learn.signals.laid import Laid

CLIP = 1.5
PASSES = 6
SETTLED = 8
"""Rounds of drawing in after which sizes stand still."""
"""Of learning the spreads where nothing is known of them."""
NOISE_SD, JOB_SD = 0.22, 0.15
NOISE_WORTH, JOB_WORTH = 8.0, 4.0
"""How many phases the common noise counts for in each phase's own; jobs the first guess does."""


@dataclass(frozen=True, slots=True)
class Spreads:
    """`noise`: (rows,) variances; `job`: variance of vehicles' conditions."""

    noise: Floats
    job: float


@dataclass(frozen=True, slots=True)
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


def first(laid: Laid) -> Fit:
    """Fit all levels and learn the spreads, where nothing is known of them."""
    spreads, seen, columns, sds = first_spreads(laid), laid.y, laid.columns, laid.sds()
    for _ in range(PASSES):
        fit = _solved(laid, columns, sds, spreads, seen)
        spreads, seen = _learned(fit), _drawn_in(fit)
    return _solved(laid, columns, sds, spreads, seen)


def fitted(known: Fit, columns: Floats, sds: Floats, rounds: int = 2) -> Fit:
    """Fit other columns, drawing in what is too far off.

    Args:
        known: an earlier fit: its spreads hold, and what it drew in is a beginning.
        columns, sds: (rows, levels) and (levels,).
        rounds: how often is drawn in.
    """
    fit = _solved(known.laid, columns, sds, known.spreads, known.seen)
    for _ in range(rounds):
        fit = _seeing(fit, columns, _drawn_in(fit))
    return fit


def respread(fit: Fit) -> Fit:
    """Return the same with its spreads learned once more; only they and `seen` are to be used."""
    return replace(fit, spreads=_learned(fit))


def _solved(laid: Laid, columns: Floats, sds: Floats, spreads: Spreads, seen: Floats) -> Fit:
    solved = _unmixed(laid, spreads, columns)
    inverse: Floats = np.linalg.inv(columns.T @ solved + np.diag(1 / sds**2)).astype(
        np.float64, copy=False
    )
    return _seeing(Fit(laid, spreads, seen, solved, inverse, seen, seen), columns, seen)


def _seeing(fit: Fit, columns: Floats, seen: Floats) -> Fit:
    """The same levels and spreads with other values."""
    levels = fit.inverse @ (fit.solved.T @ seen)
    left = _unmixed(fit.laid, fit.spreads, (seen - columns @ levels)[:, None])[:, 0]
    return replace(fit, seen=seen, left=left, levels=levels)


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
    """(rows,) y, nothing of it further off than its own noise allows."""
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
