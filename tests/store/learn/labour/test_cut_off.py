"""Phases that were cut off, against the censored log-normal fit of a textbook's data."""

from __future__ import annotations

import numpy as np
from scipy import sparse
from scipy.special import log_ndtr

from store.learn.arrays import Floats
from store.learn.labour.equations import Rows, predicted, solve
from store.learn.labour.sites import damped, match_at_least, without

# Freireich et al., Blood 21 (1963) 699-716, weeks of the treated; in Cox and Oakes (1984).
# Log-normal by maximum likelihood: m 3.203067, s .978725; lifelines 0.30.3
# `LogNormalFitter` and scipy 1.17.1 `lognorm.fit(CensoredData(uncensored, right), floc=0)` agree.
ENDED: Floats = np.log([6, 6, 6, 7, 10, 13, 16, 22, 23])
CUT: Floats = np.log([6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35])
MEAN, SD, LOG_LIKELIHOOD = 3.203067, 0.978725, -40.68016


def test_sites_of_what_was_cut_off_lead_to_the_maximum_likelihood_fit() -> None:
    """EM (Dempster, Laird, Rubin (1977), section 4.3): a time that was cut off is a level of its
    own with next to no noise, so that its site gives the moments of the truncated normal."""
    mean, variance = 3.0, 1.0
    every = len(ENDED) + len(CUT)
    for _ in range(120):
        v = np.full(len(CUT), variance)
        site = match_at_least(CUT, np.full(len(CUT), mean), v, np.full(len(CUT), 1e-9))
        spread = 1 / (site.tau + 1 / v)
        guess: Floats = spread * (site.nu + mean / v)
        mean = (float(ENDED.sum()) + float(guess.sum())) / every
        squares = float(((ENDED - mean) ** 2).sum())
        variance = (squares + float(((guess - mean) ** 2 + spread).sum())) / every
    sd = variance**0.5
    assert abs(mean - MEAN) < 2e-6
    assert abs(sd - SD) < 2e-6
    # Of weeks, not of their logs: the density of a log-normal has 1 / t before it.
    logs: Floats = -0.5 * ((ENDED - mean) / sd) ** 2 - np.log(sd * (2 * np.pi) ** 0.5) - ENDED
    beyond = np.asarray(log_ndtr((mean - CUT) / sd), np.float64)
    whole = float(logs.sum()) + float(beyond.sum())
    assert abs(whole - LOG_LIKELIHOOD) < 5e-6


def test_the_learner_s_own_way_has_the_mean_and_spread_of_the_exact_posterior() -> None:
    """Sites within the equations, spread known, nothing believed of the mean: against the exact
    posterior by adding up 20,001 points. Sites agree with it in the mean and variance they match
    one by one, not altogether: .1 % of the spread, for the mean and the spread."""
    y = np.concatenate([ENDED, CUT])
    n = len(y)
    noise = np.full(n, SD**2)
    cut = np.arange(n) >= len(ENDED)
    rows = Rows(sparse.csr_array(np.ones((n, 1))), np.zeros(n, np.int64), np.ones(n), 1)
    tau = np.where(cut, 1e-3, 1 / noise)
    nu = tau * y
    flat = np.zeros((1, 1))
    for _ in range(40):
        solved = solve(rows, tau, nu, flat, flat[0], np.inf)
        out_mean, out_variance = without(*predicted(rows, solved, np.arange(n)), tau, nu)
        site = match_at_least(y, out_mean, out_variance, noise)
        tau = np.where(cut, damped(tau, site.tau, ~cut), tau)
        nu = np.where(cut, damped(nu, site.nu, ~cut), nu)
    solved = solve(rows, tau, nu, flat, flat[0], np.inf)
    grid = np.linspace(1, 6, 20_001)
    logs = -0.5 * ((ENDED[:, None] - grid) ** 2).sum(axis=0) / SD**2
    logs += log_ndtr((grid - CUT[:, None]) / SD).sum(axis=0)
    weight = np.exp(logs - logs.max())
    weight /= weight.sum()
    mean = float(weight @ grid)
    spread = float(weight @ (grid - mean) ** 2) ** 0.5
    assert abs(float(solved.beta[0]) - mean) < 1e-3 * spread
    assert abs(float(solved.cov[0, 0]) ** 0.5 / spread - 1) < 1e-3
    # The likeliest value is the fit by maximum likelihood, where the mean is not.
    assert abs(float(grid[logs.argmax()]) - MEAN) < 2e-4
