"""Quantiles of mixtures of normal and Student t distributions, many at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln, ndtri, stdtr

from store.learn.arrays import Floats, Ints

LEVELS = np.arange(1, 20) / 20
ROUNDS = 12
EXACT = 1e-6
"""Chance by which a quantile may miss its level."""
NORMAL_FROM = 300.0
"""Degrees of freedom from which t is as good as normal."""
FURTHEST = 40.0
"""Standard deviations beyond which nothing is looked for."""


@dataclass(frozen=True, slots=True)
class Mixture:
    """m distributions, each of c parts: weight, mean, scale, degrees of freedom, all (m, c)."""

    weight: Floats
    mean: Floats
    scale: Floats
    df: Floats

    def some(self, which: Ints) -> Mixture:
        """Return some of the distributions."""
        return Mixture(self.weight[which], self.mean[which], self.scale[which], self.df[which])

    def below(self, x: Floats) -> Floats:
        """Return (m, k) the chance of less than x (m, k)."""
        z = (x[:, :, None] - self.mean[:, None, :]) / self.scale[:, None, :]
        found: Floats = (stdtr(self.df[:, None, :], z) * self.weight[:, None, :]).sum(axis=2)
        return found

    def above(self, x: Floats) -> Floats:
        """Return (m, k) the chance of more than x, exact far out too."""
        z = (x[:, :, None] - self.mean[:, None, :]) / self.scale[:, None, :]
        found: Floats = (stdtr(self.df[:, None, :], -z) * self.weight[:, None, :]).sum(axis=2)
        return found

    def density(self, x: Floats) -> Floats:
        """Return (m, k) the density at x."""
        df = self.df
        logs = gammaln((df + 1) / 2) - gammaln(df / 2) - 0.5 * np.log(df * np.pi)
        z = (x[:, :, None] - self.mean[:, None, :]) / self.scale[:, None, :]
        shape = np.exp(logs[:, None, :] - (df[:, None, :] + 1) / 2 * np.log1p(z**2 / df[:, None]))
        found: Floats = (shape * (self.weight / self.scale)[:, None, :]).sum(axis=2)
        return found

    def quantiles(self, levels: Floats) -> Floats:
        """Return (m, k) the quantiles at levels (k,) or (m, k), never falling along a row."""
        want = np.broadcast_to(levels, (len(self.mean), np.shape(levels)[-1]))
        each = self.mean[:, None, :] + self.scale[:, None, :] * student(
            ndtri(want)[:, :, None], self.df[:, None, :]
        )
        edge: Floats = 0.5 * self.scale.max(axis=1, keepdims=True)
        low: Floats = each.min(axis=2) - edge
        high: Floats = each.max(axis=2) + edge
        x: Floats = np.clip((each * self.weight[:, None, :]).sum(axis=2), low, high)
        for _ in range(ROUNDS):
            miss = self.below(x) - want
            low, high = np.where(miss < 0, x, low), np.where(miss > 0, x, high)
            there = np.abs(miss) < EXACT
            if there.all():
                break
            step = x - miss / np.maximum(self.density(x), 1e-12)
            inside = (step > low) & (step < high)
            x = np.where(there, x, np.where(inside, step, (low + high) / 2))
        found: Floats = np.maximum.accumulate(x, axis=1)
        return found

    def beyond(self, floor: Floats, levels: Floats) -> Floats:
        """Return (m, k) quantiles of what is left above floor (m,): x given x > floor.

        By bisection on the logs of the upper tails, since next to nothing may be left of them.
        """
        left = np.log(np.maximum(self.above(floor[:, None]), 1e-300))
        want = left + np.log1p(-levels)
        low = np.broadcast_to(floor[:, None], want.shape).copy()
        high: Floats = low + FURTHEST * self.scale.max(axis=1, keepdims=True)
        for _ in range(50):
            middle = (low + high) / 2
            more = np.log(np.maximum(self.above(middle), 1e-320)) > want
            low, high = np.where(more, middle, low), np.where(more, high, middle)
        found: Floats = (low + high) / 2
        return found


def student(z: Floats, df: Floats) -> Floats:
    """Return the t quantile at the level of a normal one.

    Source:
        Abramowitz and Stegun (1964), Handbook of Mathematical Functions, eq. 26.7.5, three
        terms: within 1 % between the 1st and 99th per cent from five degrees of freedom on.
    """
    z2 = z * z
    g1 = (z2 + 1) / 4
    g2 = ((5 * z2 + 16) * z2 + 3) / 96
    g3 = (((3 * z2 + 19) * z2 + 17) * z2 - 15) / 384
    w = 1 / df
    return z * (1 + w * (g1 + w * (g2 + w * g3)))
