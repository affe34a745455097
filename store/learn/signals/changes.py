"""Changes at a date, and people who get ever faster: the loudest first, taken out, all again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from store.learn.signals import scan
from store.learn.signals.fit import SETTLED, Fit, fitted, respread
from store.learn.signals.found import ALPHA, FEWEST
from store.learn.signals.heard import MOST, Heard, column_of, share_of
from store.learn.signals.laid import FREE, Subject

TRIFLE = math.log(1.05)
"""A change by less is no news, however sure."""
MONTH_S = 30.4375 * 86_400
FINE = 400
"""Dates tried where a change that was found is dated."""


def changes(known: Fit) -> tuple[list[Heard], Fit]:
    """Return what changed, and the fit beside it.

    Args:
        known: all levels, nothing changed.
    """
    kept: list[Heard] = []
    fit = known
    while len(kept) < MOST:
        loudest = _loudest(_heard(fit, kept))
        if loudest is None:
            break
        kept.append(loudest)
        fit = respread(_with(fit, kept))
        fit = _with(fit, kept)
    kept = _once_more(fit, kept)
    fit = _with(fit, kept, SETTLED)
    return _sized(fit, kept), fit


def _with(known: Fit, kept: Sequence[Heard], rounds: int = 2) -> Fit:
    """All levels, and what was found."""
    work = known.laid
    extra = [column_of(work, one) for one in kept]
    columns = np.column_stack([work.columns, *extra])
    return fitted(known, columns, np.concatenate([work.sds(), np.full(len(extra), FREE)]), rounds)


def _heard(fit: Fit, kept: Sequence[Heard]) -> list[Heard]:
    """A person is told once: who gets faster step by step is one thing."""
    done = {id(one.subject) for one in kept if one.subject.what == "person"}
    asked = [one for one in fit.laid.subjects if id(one) not in done]
    heard = [_step(fit, one) for one in asked] + [_trend(fit, one) for one in asked]
    return [one for one in heard if one is not None]


def _step(fit: Fit, subject: Subject, most: int = scan.CUTS) -> Heard | None:
    tried = scan.steps(fit, subject, most)
    if tried is None:
        return None
    rows, best = subject.rows, tried.best
    at = fit.laid.at[rows][tried.cuts]
    early, late = scan.dated(tried, at)
    chance = min(1.0, scan.chance_of(tried) * share_of(fit.laid))
    return Heard(
        "change", subject, (np.arange(len(rows)) >= tried.cuts[best]).astype(float),
        abs(float(tried.t[best])), float(tried.size[best]), float(fit.seen[rows].mean()), chance,
        float(at[best]), float(at[early]), float(at[late]),
    )  # fmt: skip


def _trend(fit: Fit, subject: Subject) -> Heard | None:
    """Of a person: ever faster, or slower, by so much each month. `weights` run from 0 to 1."""
    rows = subject.rows
    if subject.what != "person" or len(set(fit.laid.job[rows].tolist())) < 2 * FEWEST:
        return None
    at = fit.laid.at[rows]
    if at[-1] - at[0] < 2 * MONTH_S:
        return None
    weights = (at - at[0]) / (at[-1] - at[0])
    tried = scan.along(fit, rows, weights)
    if tried is None:
        return None
    chance = min(1.0, scan.chance_of(tried) * share_of(fit.laid))
    return Heard(
        "trend", subject, weights, abs(float(tried.t[0])), float(tried.size[0]),
        float(fit.seen[rows].mean()), chance, float(at[0]), float(at[0]), float(at[-1]),
    )  # fmt: skip


def _loudest(heard: Sequence[Heard]) -> Heard | None:
    sure = [one for one in heard if one.chance <= ALPHA and abs(one.size) >= TRIFLE]
    return max(sure, key=lambda one: one.t, default=None)


def _once_more(known: Fit, kept: list[Heard]) -> list[Heard]:
    """Judge and date each beside all the others; what luck may explain then is dropped."""
    for one in list(kept):
        others = [each for each in kept if each is not one]
        fit = _with(known, others)
        again = _step(fit, one.subject, FINE) if one.kind == "change" else _trend(fit, one.subject)
        if again is None or _loudest([again]) is None:
            kept = others
        else:
            kept = [again if each is one else each for each in kept]
    return kept


def _sized(fit: Fit, kept: Sequence[Heard]) -> list[Heard]:
    """Each as big as it is beside all the others."""
    sizes = fit.levels[len(fit.laid.names) :]
    return [
        replace(one, size=float(size), middle=float(fit.seen[one.subject.rows].mean()))
        for one, size in zip(kept, sizes, strict=True)
    ]
