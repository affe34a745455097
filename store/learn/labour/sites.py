"""What kind of record each finished phase is, and what it says then: moment matching.

A record's noise is a mixture: clean, with a surprise, a forgotten clock, a mis-punch, a freak.
Counting a record whose kind is in doubt as if it were known would make ranges too narrow; so each
enters the equations as the normal site that gives the mean and variance of the exact posterior.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import log_ndtr

from store.learn.arrays import Bools, Floats

MOST_LEVERAGE = 0.9
LEAST_PRECISION = 1e-4
DAMPING = 0.7
NO_DISTANCE = 1e-9
CLEAN, SURPRISE, FORGOTTEN, MISPUNCH, FREAK = range(5)


@dataclass(frozen=True, slots=True)
class Kinds:
    """The kinds for n records.

    Attributes:
        odds: (n, kinds) beforehand.
        shift: (kinds,) what each adds to the log.
        variance: (n, kinds) of the noise.
    """

    odds: Floats
    shift: Floats
    variance: Floats


@dataclass(frozen=True, slots=True)
class Matched:
    """Sites and what follows of each record's kind.

    Attributes:
        tau, nu: (n,) precision and precision times mean of the site on the linear predictor.
        share: (n, kinds) how likely each kind is.
        square: (n,) expected squared clean noise, times the clean share.
        surprise, surprise_square: (n,) expected size of the surprise and its square, likewise.
    """

    tau: Floats
    nu: Floats
    share: Floats
    square: Floats
    surprise: Floats
    surprise_square: Floats


def without(mean: Floats, variance: Floats, tau: Floats, nu: Floats) -> tuple[Floats, Floats]:
    """Take each record out of its own prediction.

    Returns:
        Leave-one-out mean m' = (m - h nu/tau)/(1 - h) and variance v' = v/(1 - h), h = v tau.
    """
    h = np.minimum(variance * tau, MOST_LEVERAGE)
    says = np.divide(nu, tau, out=np.zeros_like(nu), where=tau > 0)
    return (mean - h * says) / (1 - h), variance / (1 - h)


def match(y: Floats, mean: Floats, variance: Floats, kinds: Kinds) -> Matched:
    """Return the sites of records from what all others say of them.

    Args:
        y: (n,) logs of hours per book hour.
        mean, variance: (n,) of the linear predictor, the record left out.

    Source:
        Minka (2001), Expectation propagation, section 3.3.1 (the clutter problem); Aitkin and
        Wilson (1980), mixture models for outliers.
    """
    d = y[:, None] - kinds.shift - mean[:, None]
    total = variance[:, None] + kinds.variance
    with np.errstate(divide="ignore"):
        log_share = np.log(kinds.odds) - 0.5 * (np.log(total) + d**2 / total)
    share = np.exp(log_share - log_share.max(axis=1, keepdims=True))
    share /= share.sum(axis=1, keepdims=True)
    a = (share * d / total).sum(axis=1)
    b = (share / total).sum(axis=1) - (share * (d / total) ** 2).sum(axis=1) + a**2
    says = y - kinds.shift.max(), y - kinds.shift.min()
    tau, nu = _site(a, b, mean, variance, 1 / kinds.variance.min(axis=1), says)
    clean = kinds.variance[:, CLEAN]
    part = clean * d[:, CLEAN] / total[:, CLEAN]
    square = share[:, CLEAN] * (part**2 + clean - clean**2 / total[:, CLEAN])
    size, size_square = _sizes(d, total, kinds, clean)
    return Matched(
        tau, nu, share, square, share[:, SURPRISE] * size, share[:, SURPRISE] * size_square
    )


def _sizes(d: Floats, total: Floats, kinds: Kinds, clean: Floats) -> tuple[Floats, Floats]:
    own = np.maximum(kinds.variance[:, SURPRISE] - clean, 1e-9)
    gain = own / total[:, SURPRISE]
    size = kinds.shift[SURPRISE] + gain * d[:, SURPRISE]
    return size, size**2 + own * (1 - gain)


def match_at_least(y: Floats, mean: Floats, variance: Floats, noise: Floats) -> Matched:
    """Return the sites of phases that were cut off: it would have taken more than y.

    The posterior of N(mean, variance) times Phi((eta - y) / noise sd), by its first two moments.

    Source:
        Rasmussen and Williams (2006), Gaussian Processes for Machine Learning, eqs. 3.82 to 3.85.
    """
    total = variance + noise
    z = (mean - y) / np.sqrt(total)
    ratio = np.exp(-0.5 * z**2 - 0.5 * np.log(2 * np.pi) - log_ndtr(z))
    a = ratio / np.sqrt(total)
    b = ratio * (ratio + z) / total
    tau, nu = _site(a, b, mean, variance, 1 / noise, (mean - 8.0, y + 8.0))
    share = np.zeros((len(y), FREAK + 1))
    nothing = np.zeros(len(y))
    return Matched(tau, nu, share, nothing, nothing, nothing)


def _site(
    a: Floats,
    b: Floats,
    mean: Floats,
    variance: Floats,
    most: Floats,
    says: tuple[Floats, Floats],
) -> tuple[Floats, Floats]:
    """tau = B / (1 - v' B), nu = (m' + v' A)(tau + 1/v') - m'/v', tau held inside its range.

    A record in doubt can have B below 0: then it moves the mean and sharpens nothing. A site of no
    precision would have to stand infinitely far away for that; one that stands at the end of what
    the record's kinds could mean, s, moves it as far with tau = A / (s - m' - v' A).
    """
    room = 1 - variance * b
    tau = np.where(room > 1e-6, b / np.maximum(room, 1e-6), most)
    tau = np.clip(tau, LEAST_PRECISION, most)
    moved = mean + variance * a
    stands = (moved * (tau + 1 / variance) - mean / variance) / tau
    kept = np.clip(stands, *says)
    gap = kept - moved
    outside = (np.abs(kept - stands) > NO_DISTANCE) & (a * gap > 0) & (np.abs(gap) > NO_DISTANCE)
    tau = np.where(outside, a / np.where(outside, gap, 1.0), tau)
    tau = np.clip(tau, LEAST_PRECISION, most)
    return tau, tau * kept


def damped(old: Floats, new: Floats, fresh: Bools) -> Floats:
    """Go most of the way from old to new sites; all the way where a record is new."""
    return np.where(fresh, new, old + DAMPING * (new - old))


__all__ = [
    "CLEAN", "FORGOTTEN", "FREAK", "MISPUNCH", "SURPRISE", "Kinds", "Matched", "damped", "match",
    "match_at_least", "without",
]  # fmt: skip
