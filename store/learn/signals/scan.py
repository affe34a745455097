"""One subject: is it off, or has it changed, and when; with how seldom luck alone looks like it.

A change at one of many dates: t(k) = z' P y / sqrt(z' P z) for each step z(k). Where nothing
changed these are standard normal, neighbours alike with correlation cos(a). The chance that any is
beyond c either way is at most

    2 (Phi(-c) + sum over neighbours of min(Phi(-c), a exp(-c^2 / 2) / 2 pi))

the expected upcrossings along the great circles between neighbours (Rice). Sources: Hotelling,
American Journal of Mathematics 61 (1939) 440-460; Worsley, Biometrika 70 (1983) 455-464; Knowles
and Siegmund, International Statistical Review 57 (1989) 205-220.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats, Ints, added_up
from store.learn.signals.fit import Fit
from store.learn.signals.found import FEWEST
from store.learn.signals.laid import Subject

CUTS = 40
"""At most so many dates of a subject are tried."""
LEAST_KNOWN = 4.0
"""1 / variance of an effect from which on it is tried: below, all else explains it as well."""


@dataclass(frozen=True, slots=True)
class Tried:
    """Effects along some columns of one subject, in order.

    Attributes:
        cuts: places in its rows at which the step begins; none of a level.
        t, size, sd: of each.
        turns: angles between neighbours.
    """

    cuts: Ints
    t: Floats
    size: Floats
    sd: Floats
    turns: Floats

    @property
    def best(self) -> int:
        """The loudest."""
        return int(np.argmax(np.abs(self.t)))


def below(c: float) -> float:
    """Return the chance that a standard normal value is below -c."""
    return 0.5 * math.erfc(c / math.sqrt(2))


def chance_of(tried: Tried) -> float:
    """Return the chance that luck alone makes any of them as loud as the loudest, at most."""
    c = abs(float(tried.t[tried.best]))
    arcs = np.minimum(below(c), tried.turns * math.exp(-c * c / 2) / (2 * math.pi))
    return min(1.0, 2 * (below(c) + float(arcs.sum())))


def chance_beyond(size: float, sd: float, margin: float) -> float:
    """Return the chance that luck shows such a size where the truth is within the margin."""
    c = (abs(size) - margin) / sd
    return min(1.0, below(c) + below(c + 2 * margin / sd))


def cuts_of(job: Ints, most: int = CUTS) -> Ints:
    """Return where a change may begin: jobs enough on each side, few enough to try them all.

    Args:
        job: (rows,) of the subject, by time.
        most: so many at most, evenly spread.
    """
    before = _distinct(job)
    after = _distinct(job[::-1])[::-1]
    places = np.arange(1, len(job))
    fits = places[(before[:-1] >= FEWEST) & (after[1:] >= FEWEST)]
    if len(fits) > most:
        fits = fits[np.linspace(0, len(fits) - 1, most).round().astype(np.int64)]
    return fits


def _distinct(job: Ints) -> Ints:
    """(rows,) how many different ones up to each."""
    first = np.zeros(len(job), np.int64)
    first[np.unique(job, return_index=True)[1]] = 1
    return np.cumsum(first)


def steps(fit: Fit, subject: Subject, most: int = CUTS) -> Tried | None:
    """Try a change at each date; None where there are too few jobs, or all else explains it."""
    job = fit.laid.job[subject.rows]
    cuts = cuts_of(job, most)
    if not len(cuts):
        return None
    return _tried(fit, subject.rows, np.ones(len(subject.rows)), cuts)


def along(fit: Fit, rows: Ints, weights: Floats) -> Tried | None:
    """Try one column: weights on some rows, nothing elsewhere."""
    return _tried(fit, rows, weights, np.zeros(1, np.int64))


def _tried(fit: Fit, rows: Ints, weights: Floats, cuts: Ints) -> Tried | None:
    laid, noise = fit.laid, fit.spreads.noise[rows]
    score = _from_each(weights * fit.left[rows], cuts)
    with_levels = _from_each(weights[:, None] * fit.solved[rows], cuts)
    square = _from_each(weights**2 / noise, cuts)
    places, job = np.unique(laid.job[rows], return_inverse=True)
    pulls = _by_job(weights * laid.loads[rows] / noise, job, len(places), cuts)
    kappa = fit.kappa[places]
    taken = with_levels @ fit.inverse
    known = square - (pulls**2) @ kappa - (taken * with_levels).sum(axis=1)
    shared = (
        square[1:] - (pulls[:-1] * pulls[1:]) @ kappa - (taken[:-1] * with_levels[1:]).sum(axis=1)
    )
    good = known >= LEAST_KNOWN
    if not good.all():
        return None if not good.any() else _only(cuts, score, known, good)
    alike = np.clip(shared / np.sqrt(known[:-1] * known[1:]), -1, 1)
    return Tried(cuts, score / np.sqrt(known), score / known, 1 / np.sqrt(known), np.arccos(alike))


def _only(cuts: Ints, score: Floats, known: Floats, good: np.ndarray) -> Tried:
    """Some dates say nothing; of the others neighbours are taken as strangers."""
    known, score = known[good], score[good]
    strange = np.full(max(0, len(known) - 1), math.pi)
    return Tried(cuts[good], score / np.sqrt(known), score / known, 1 / np.sqrt(known), strange)


def _from_each(values: Floats, cuts: Ints) -> Floats:
    """(cuts, ...) sums from each cut to the end."""
    parts = np.add.reduceat(values, cuts, axis=0)
    found: Floats = np.cumsum(parts[::-1], axis=0)[::-1]
    return found


def _by_job(values: Floats, job: Ints, jobs: int, cuts: Ints) -> Floats:
    """(cuts, jobs) sums of each job's rows from each cut to the end."""
    part = np.searchsorted(cuts, np.arange(len(values)), side="right") - 1
    kept = part >= 0
    flat = added_up(part[kept] * jobs + job[kept], values[kept], len(cuts) * jobs)
    found: Floats = np.cumsum(flat.reshape(len(cuts), jobs)[::-1], axis=0)[::-1]
    return found


def dated(tried: Tried, at: Floats) -> tuple[int, int]:
    """Return between which cuts the change fell, in 9 of 10: each date weighed by its likelihood
    and by how much time it stands for.

    Args:
        at: (cuts,) instants.
    """
    edges = np.concatenate([[at[0]], (at[1:] + at[:-1]) / 2, [at[-1]]])
    weight = np.exp((tried.t**2 - np.max(tried.t**2)) / 2) * np.maximum(np.diff(edges), 1.0)
    total = np.cumsum(weight) / weight.sum()
    early, late = np.searchsorted(total, [0.05, 0.95])
    return int(min(early, tried.best)), int(max(min(late, len(at) - 1), tried.best))
