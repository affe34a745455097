"""Sites of records against numerical integration of what they stand for.

The site of a record is the normal factor that gives the linear predictor the mean and variance of
its exact distribution (Minka (2001), section 3.3.1). So: predictor N(m, v), record y a mixture of
four kinds; mean and variance by adding up 2,001 points, 24,001 giving the same to 1e-14.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import log_ndtr

from store.learn.arrays import Bools, Floats
from store.learn.labour.sites import (
    CLEAN,
    SURPRISE,
    Kinds,
    Matched,
    match,
    match_at_least,
    without,
)

ODDS = np.array([0.912, 0.08, 0.004, 0.004])
SHIFT = np.array([0.0, 0.65, 1.75, -3.3])
EXTRA = np.array([0.0, 0.09, 0.16, 1.0])
POINTS = 2001
# Every noise with every uncertainty of the predictor and every distance from it.
NOISE, V, Y = (
    one.ravel()
    for one in np.meshgrid(
        [0.01, 0.0484, 0.2], [0.004, 0.03, 0.15, 0.6], np.arange(-4, 4.01, 0.25), indexing="ij"
    )
)
M = 0.31


def kinds(noise: Floats) -> Kinds:
    """The four kinds of records whose clean noise has these variances."""
    return Kinds(np.tile(ODDS, (len(noise), 1)), SHIFT, noise[:, None] + EXTRA)


def moments(grid: Floats, logs: Floats) -> tuple[Floats, Floats]:
    """Mean and variance of densities given by their logs at points, both (n, points)."""
    weight = np.exp(logs - logs.max(axis=1, keepdims=True))
    weight /= weight.sum(axis=1, keepdims=True)
    mean: Floats = (weight * grid).sum(axis=1)
    variance: Floats = (weight * (grid - mean[:, None]) ** 2).sum(axis=1)
    return mean, variance


def log_normal_density(x: Floats, mean: Floats | float, variance: Floats | float) -> Floats:
    """ln of the normal density."""
    found: Floats = -0.5 * (x - mean) ** 2 / variance - 0.5 * np.log(2 * np.pi * variance)
    return found


def around(low: Floats, high: Floats) -> Floats:
    """Return (n, points) evenly from low to high."""
    found: Floats = low[:, None] + (high - low)[:, None] * np.linspace(0, 1, POINTS)
    return found


@cache
def exact() -> tuple[Floats, Floats]:
    """Mean and variance of the predictor once the record is known, for every case."""
    of = kinds(NOISE)
    grid = around(M - 14 * np.sqrt(V), M + 14 * np.sqrt(V))
    each = [
        np.log(of.odds[:, [k]])
        + log_normal_density(Y[:, None] - of.shift[k], grid, of.variance[:, [k]])
        for k in range(4)
    ]
    return moments(grid, np.logaddexp.reduce(each) + log_normal_density(grid, M, V[:, None]))


def after(site: Matched, mean: Floats | float, v: Floats) -> tuple[Floats, Floats]:
    """Mean and variance of the predictor after a site."""
    variance: Floats = 1 / (site.tau + 1 / v)
    found: Floats = variance * (site.nu + mean / v)
    return found, variance


def believable() -> Bools:
    """Whether the exact site is one that the learner allows.

    It is where a record is not in doubt: then the site is no surer than the surest kind, and
    stands where some kind of the record would put it.
    """
    mean, variance = exact()
    tau = 1 / variance - 1 / V
    stands = (mean / variance - M / V) / tau
    allowed: Bools = (tau > 2e-4) & (tau < 1 / NOISE)
    allowed &= (Y - SHIFT.max() <= stands) & (stands <= Y - SHIFT.min())
    return allowed


def test_a_site_moves_the_mean_exactly_as_far_as_the_record_does() -> None:
    mean = exact()[0]
    found, _ = after(match(Y, np.full(len(Y), M), V, kinds(NOISE)), M, V)
    assert len(Y) == 396
    assert np.allclose(found, mean, rtol=0, atol=1e-6 * np.sqrt(V))


def test_a_site_has_the_exact_variance_where_the_record_is_not_in_doubt() -> None:
    variance = exact()[1]
    _, found = after(match(Y, np.full(len(Y), M), V, kinds(NOISE)), M, V)
    sure = believable()
    assert sure.mean() > 0.55
    assert np.allclose(found[sure], variance[sure], rtol=1e-5, atol=0)


def test_a_record_in_doubt_never_widens_and_sharpens_within_bounds() -> None:
    """Exactly, a record that may be of two kinds can widen what is believed; a site cannot. What
    it is held to for that: no surer than the surest kind would make it."""
    variance = exact()[1]
    _, found = after(match(Y, np.full(len(Y), M), V, kinds(NOISE)), M, V)
    doubted = ~believable()
    assert doubted.any()
    assert (found < V).all()
    assert (found >= 1 / (1 / NOISE + 1 / V) * (1 - 1e-9)).all()
    # What that may cost: half of the exact variance, in the worst of these cases.
    assert (found[doubted] > 0.5 * np.minimum(variance, V)[doubted]).all()


def test_a_clean_record_is_its_own_site() -> None:
    """With one kind only, match is the textbook's normal update, and its noise the exact one."""
    y, v, noise = np.array([0.4, -1.2, 0.0]), np.array([0.3, 0.05, 1.0]), np.array([0.04, 0.2, 0.1])
    clean = Kinds(np.tile([1.0, 0.0, 0.0, 0.0], (3, 1)), SHIFT, noise[:, None] + EXTRA)
    site = match(y, np.full(3, 0.1), v, clean)
    assert np.allclose(site.tau, 1 / noise)
    assert np.allclose(site.nu, y / noise)
    mean, variance = after(site, 0.1, v)
    assert np.allclose(site.square, (y - mean) ** 2 + variance)
    assert np.allclose(site.share, [1, 0, 0, 0])


def test_shares_noise_and_sizes_are_those_of_the_integral() -> None:
    """How likely each kind is, the squared noise if clean, the size if a surprise: Bayes' rule on a
    grid over the noise, and over the surprise's size."""
    v, y = np.array([0.03, 0.15, 0.02, 0.3]), np.array([0.1, 0.8, 1.5, -2.0])
    noise = np.array([0.05, 0.03, 0.2, 0.04])
    of = kinds(noise)
    site = match(y, np.full(4, M), v, of)
    weight = of.odds * np.exp(log_normal_density(y[:, None], M + SHIFT, v[:, None] + of.variance))
    share = weight / weight.sum(axis=1, keepdims=True)
    assert np.allclose(site.share, share, rtol=1e-9, atol=0)
    far = 14 * np.sqrt(noise)
    grid = around(-far, far)
    logs = log_normal_density(grid, 0, noise[:, None])
    logs += log_normal_density(y[:, None] - grid, M, v[:, None])
    mean, variance = moments(grid, logs)
    assert np.allclose(site.square, share[:, CLEAN] * (mean**2 + variance), rtol=1e-6)
    grid = around(np.full(4, 0.65 - 14 * 0.3), np.full(4, 0.65 + 14 * 0.3))
    logs = log_normal_density(grid, 0.65, 0.09)
    logs += log_normal_density(y[:, None] - grid, M, (v + noise)[:, None])
    mean, variance = moments(grid, logs)
    assert np.allclose(site.surprise, share[:, SURPRISE] * mean, rtol=1e-6)
    assert np.allclose(site.surprise_square, share[:, SURPRISE] * (mean**2 + variance), rtol=1e-6)


def test_a_phase_cut_off_has_the_mean_and_variance_of_the_integral() -> None:
    """Rasmussen and Williams (2006), equations 3.82 to 3.85; here by adding up."""
    top = np.maximum(Y, M) + 14 * np.sqrt(V)
    grid = around(np.minimum(Y, M) - 14 * np.sqrt(V), top)
    logs = log_normal_density(grid, M, V[:, None])
    logs += log_ndtr((grid - Y[:, None]) / np.sqrt(NOISE)[:, None])
    mean, variance = moments(grid, logs)
    found_mean, found = after(match_at_least(Y, np.full(len(Y), M), V, NOISE), M, V)
    # Far below what is believed it says nothing; the least precision of a site is 1e-4.
    assert np.allclose(found_mean, mean, rtol=0, atol=1e-4)
    assert np.allclose(found, variance, rtol=2e-4, atol=0)


reals = st.floats(-3, 3)
variances = st.floats(0.004, 0.8)


@given(reals, reals, variances, variances)
def test_a_record_can_be_taken_out_again(y: float, m: float, v: float, noise: float) -> None:
    """What is believed without a record, from what is believed with it: up to nine tenths of a
    prediction may rest on the record itself."""
    before, spread = np.array([m]), np.array([v])
    site = match(np.array([y]), before, spread, kinds(np.array([noise])))
    mean, variance = after(site, before, spread)
    leverage = float(variance[0] * site.tau[0])
    back, wide = without(mean, variance, site.tau, site.nu)
    if leverage <= 0.9:
        assert np.allclose(back, before, rtol=0, atol=1e-8)
        assert np.allclose(wide, spread, rtol=1e-8, atol=0)
    else:
        assert variance[0] < wide[0] < spread[0]


@given(reals, reals, variances, variances, st.floats(-5, 5))
def test_where_zero_lies_makes_no_difference(
    y: float, m: float, v: float, noise: float, moved: float
) -> None:
    spread, of = np.array([v]), kinds(np.array([noise]))
    here = match(np.array([y]), np.array([m]), spread, of)
    there = match(np.array([y + moved]), np.array([m + moved]), spread, of)
    assert np.allclose(there.tau, here.tau, rtol=1e-6)
    assert np.allclose(there.nu, here.nu + here.tau * moved, rtol=1e-6, atol=1e-6)
