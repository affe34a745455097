"""Where the book is off, for as long as is known: the loudest first, taken out, all again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from store.learn.arrays import Floats
from store.learn.signals import scan
from store.learn.signals.fit import SETTLED, Fit, fitted
from store.learn.signals.found import ALPHA, FEWEST
from store.learn.signals.heard import MOST, Heard, column_of, column_of_rows, share_of
from store.learn.signals.laid import FREE, Laid, Subject

MARGIN = math.log(1.1)
"""A book that is right within a tenth is right: what is told is surely further off than that."""
STAYING = ("mean", "person", "grade", "fresh")
"""Levels that stay where the book is judged: all else is to be as the book says."""
PERSON_SD = 0.3

Told = set[tuple[str, str]]


def levels(known: Fit, changed: Sequence[Heard]) -> list[Heard]:
    """Return which operations, phases and families are surely off by more than a tenth, beside
    what the rest of the work takes.

    Args:
        known: with every level free, and what changed.
        changed: what is told already; it has whatever level it has.
    """
    kept: list[Heard] = []
    told = {_named(one.subject) for one in changed}
    while len(kept) < MOST:
        fit = _by_the_book(known, _all_freed(known.laid, (*changed, *kept)))
        heard = _off(fit, told | {_named(one.subject) for one in kept})
        loudest = max(heard, key=lambda one: one.t, default=None)
        if loudest is None:
            break
        kept.append(loudest)
    return _sized(known, changed, kept)


def _sized(known: Fit, changed: Sequence[Heard], kept: Sequence[Heard]) -> list[Heard]:
    """Each as far off as it is beside all the others, all its columns together."""
    if not kept:
        return []
    work = known.laid
    extra = _all_freed(work, (*changed, *kept))
    fit = _by_the_book(known, extra, SETTLED)
    weights, place = fit.levels[-len(extra) :], 0
    found: list[Heard] = []
    for one in (*changed, *kept):
        own = _freed(work, one)
        off = np.column_stack(own)[one.subject.rows] @ weights[place : place + len(own)]
        place += len(own)
        middle = float(fit.seen[one.subject.rows].mean())
        found.append(replace(one, size=float(off.mean()), middle=middle))
    return found[len(changed) :]


def _named(subject: Subject) -> tuple[str, str]:
    """A subject is told once, whole or in part."""
    return subject.what, subject.code


def _all_freed(work: Laid, told: Sequence[Heard]) -> list[Floats]:
    return [column for one in told for column in _freed(work, one)]


def _freed(work: Laid, one: Heard) -> list[Floats]:
    """Columns that give a subject whatever level it has, before and after; a family's by class, an
    operation's own phases apart."""
    columns = [column_of_rows(work, one.subject.rows)]
    if one.kind != "level":
        columns.append(column_of(work, one))
    if one.subject.what == "family":
        felt = ("felt", one.subject.code)
        columns += [
            work.columns[:, place] for place, name in enumerate(work.names) if name[:2] == felt
        ]
    if one.subject.what == "operation":
        columns += [
            column_of_rows(work, each.rows)
            for each in work.subjects
            if (each.what, each.code) == ("operation", one.subject.code)
            and each.part != one.subject.part
        ]
    return columns


def _by_the_book(known: Fit, extra: Sequence[Floats], rounds: int = 3) -> Fit:
    work = known.laid
    stays = [place for place, name in enumerate(work.names) if name[0] in STAYING]
    people = [work.names[place][0] == "person" for place in stays]
    sds = np.concatenate(
        [np.where(people, PERSON_SD, work.sds()[stays]), np.full(len(extra), FREE)]
    )
    return fitted(known, np.column_stack([work.columns[:, stays], *extra]), sds, rounds)


def _off(fit: Fit, told: Told) -> list[Heard]:
    asked = (
        one
        for one in fit.laid.subjects
        if one.what not in ("shop", "person") and _named(one) not in told
    )
    heard = [_level(fit, one) for one in asked]
    return [one for one in heard if one is not None and one.chance <= ALPHA]


def _level(fit: Fit, subject: Subject) -> Heard | None:
    rows = subject.rows
    if len(set(fit.laid.job[rows].tolist())) < FEWEST:
        return None
    weights = np.ones(len(rows))
    tried = scan.along(fit, rows, weights)
    if tried is None:
        return None
    size, sd, at = float(tried.size[0]), float(tried.sd[0]), fit.laid.at[rows]
    chance = min(1.0, share_of(fit.laid) * scan.chance_beyond(size, sd, MARGIN))
    return Heard(
        "level", subject, weights, abs(size) / sd, size, float(fit.seen[rows].mean()), chance,
        float(at[0]), float(at[0]), float(at[-1]),
    )  # fmt: skip
