"""The spreads of the model: how much levels, jobs and phases differ, and how often faults come."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from store.learn.arrays import Floats
from store.learn.labour import terms
from store.learn.labour.sites import Kinds
from store.learn.labour.terms import PRIORS, Term
from store.learn.records import CLASSES


def _first_variances() -> Floats:
    return np.array([PRIORS[term].sd ** 2 for term in Term])


@dataclass(slots=True)
class Spreads:
    """What is learned beside the levels themselves.

    Attributes:
        term: variance of each term's levels, by term.
        job: variance of the jobs' condition.
        loading: how much of it each class of phase feels; the last for an unknown class.
        noise, noise_worth: variance of a clean phase and how many observations it rests on, by
            level number of the phase of an operation.
        surprise: odds of a surprise, by the same number.
        noise_common, surprise_common: the same for a phase never seen.
        size, size_sd: ln of how much longer a surprise makes a phase, mean and spread.
        forgotten, mispunch: odds of the two faults.
    """

    term: Floats = field(default_factory=_first_variances)
    job: float = terms.JOB_SD**2
    loading: Floats = field(
        default_factory=lambda: np.array([*(terms.LOADING[one] for one in CLASSES), 1.0])
    )
    noise: Floats = field(default_factory=lambda: np.zeros(0))
    noise_worth: Floats = field(default_factory=lambda: np.zeros(0))
    surprise: Floats = field(default_factory=lambda: np.zeros(0))
    noise_common: float = terms.NOISE_SD**2
    surprise_common: float = terms.SURPRISE_ODDS
    size: float = terms.SURPRISE_MEAN
    size_sd: float = terms.SURPRISE_SD
    forgotten: float = terms.FORGOTTEN_ODDS
    mispunch: float = terms.MISPUNCH_ODDS

    def kinds(self, noise: Floats, surprise: Floats) -> Kinds:
        """Return what records can be: clean, surprised, a fault of the clock, a freak.

        Args:
            noise: (n,) variances of clean records.
            surprise: (n,) odds of a surprise.
        """
        faults = np.array([self.forgotten, self.mispunch, terms.FREAK_ODDS])
        odds = np.stack([1 - surprise - faults.sum(), surprise], axis=1)
        own = np.array([0.0, self.size_sd, terms.FORGOTTEN_SD, terms.MISPUNCH_SD, terms.FREAK_SD])
        return Kinds(
            np.concatenate([odds, np.broadcast_to(faults, (len(noise), 3))], axis=1),
            np.array([0.0, self.size, terms.FORGOTTEN_MEAN, terms.MISPUNCH_MEAN, 0.0]),
            noise[:, None] + own**2,
        )

    def stretch(self, keys: int) -> None:
        """Make room for new level numbers."""
        more = keys - len(self.noise)
        if more > 0:
            self.noise = np.concatenate([self.noise, np.full(more, self.noise_common)])
            self.noise_worth = np.concatenate([self.noise_worth, np.full(more, terms.NOISE_WORTH)])
            self.surprise = np.concatenate([self.surprise, np.full(more, self.surprise_common)])


def pooled(prior: float, worth: float, total: float, count: float) -> float:
    """Return a variance or odds: what was believed, counted as `worth` cases, and what was seen."""
    return (worth * prior + total) / (worth + count)
