"""Which levels are solved for, and the matrix of the rows over them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from store.learn.arrays import Bools, Floats, Ints, added_up
from store.learn.labour.equations import Rows
from store.learn.labour.gathered import Gathered
from store.learn.labour.spreads import Spreads
from store.learn.labour.terms import (
    MONTH_AGES,
    MONTH_S,
    PRIORS,
    QUARTER_AGES,
    QUARTER_S,
    RECORDS_A_KNOT,
    Term,
)

LEAST = np.array([PRIORS[term].least for term in Term])
MEAN = np.array([PRIORS[term].mean for term in Term])
MONTHS, QUARTERS = np.array(MONTH_AGES), np.array(QUARTER_AGES)
LEAST_AGE_QUARTERS = 0.5


@dataclass(frozen=True, slots=True)
class Columns:
    """The levels as columns of the equations, at a moment.

    Attributes:
        of_key: (keys,) column of each level, -1 where it is not solved for.
        term: (p,) term of each column.
        per: how many columns the shop's drift has; they come first after the keys'.
        walk: (keys,) first column of each phase's drift, -1 where it has none.
        knots: (keys,) how many columns it has.
        revised: (keys,) whether the book of that phase was ever rewritten.
    """

    at: float
    of_key: Ints
    term: Ints
    per: int
    per_first: int
    walk: Ints
    knots: Ints
    revised: Bools


def lay_columns(past: Gathered, at: float) -> Columns:
    """Number the levels that enough jobs have shown, then the knots of the walks."""
    term = past.key_term.view
    jobs = past.key_jobs.view
    revised = np.zeros(len(term), bool)
    revised[[past.keys[key] for key in past.rewritten]] = True
    wanted = jobs >= LEAST[term]
    wanted &= (term != Term.ACC) | _shared(past, len(term))
    of_key = np.where(wanted, np.cumsum(wanted) - 1, -1)
    first = int(wanted.sum())
    per = _month_knots(past, at)
    walk, knots, total = _walks(past, at, first + per)
    terms = np.concatenate(
        [term[wanted], np.full(per, int(Term.PER)), np.full(total, int(Term.TPW))]
    )
    return Columns(at, of_key, terms, per, first, walk, knots, revised)


def _shared(past: Gathered, keys: int) -> Bools:
    """Phases that more than one operation has: only there a level across operations tells more."""
    found = np.zeros(keys, bool)
    for phase, users in past.seen.users.items():
        number = past.keys.get((Term.ACC, phase))
        if number is not None and len(users) > 1:
            found[number] = True
    return found


def _month_knots(past: Gathered, at: float) -> int:
    if past.rows == 0:
        return 0
    oldest = (at - float(past.closed.view.min())) / MONTH_S
    return min(int(np.searchsorted(MONTHS, oldest)), len(MONTHS) - 1)


def _walks(past: Gathered, at: float, start: int) -> tuple[Ints, Ints, int]:
    keys = past.key_term.size
    chain = past.chain.view
    counts = np.bincount(chain, minlength=keys)
    row = np.repeat(np.arange(past.rows), np.diff(past.chain_first.view))
    oldest = np.zeros(keys)
    np.maximum.at(oldest, chain, (at - past.closed.view[row]) / QUARTER_S)
    knots = np.minimum(np.searchsorted(QUARTERS, oldest), len(QUARTERS) - 1)
    knots = np.minimum(knots, counts // RECORDS_A_KNOT)
    knots[oldest < LEAST_AGE_QUARTERS] = 0
    begins = start + np.cumsum(knots) - knots
    return np.where(knots > 0, begins, -1), knots, int(knots.sum())


def rows_of(past: Gathered, columns: Columns, spreads: Spreads) -> tuple[Rows, Floats]:
    """Return the rows over the columns, and (n,) the variance of the levels that have none."""
    n, p = past.rows, len(columns.term)
    key = past.key.view
    weight = past.weight.view.copy()
    row = np.repeat(np.arange(n), np.diff(past.first.view))
    term = past.key_term.view[key]
    weight[_idle_revisions(past, columns, row, term)] = 0.0
    column = columns.of_key[key]
    none = (column < 0) & (term != Term.ACC)
    extra = added_up(row[none], weight[none] ** 2 * spreads.term[term[none]], n)
    keep = (column >= 0) & (weight != 0)
    parts = [(row[keep], column[keep], weight[keep]), *_drift(past, columns)]
    i, j, w = (np.concatenate(each) for each in zip(*parts, strict=True))
    x = sparse.csr_array((w, (i, j)), shape=(n, p))
    x.sum_duplicates()
    job = past.job.view
    loading = spreads.loading[past.phase_class.view]
    return Rows(x, job, loading, len(past.jobs)), extra


def _idle_revisions(past: Gathered, columns: Columns, row: Ints, term: Ints) -> Bools:
    """Entries of the revision in rows whose phase's book was never rewritten."""
    revision: Bools = (term == Term.REV0) | (term == Term.REV)
    if not revision.any():
        return revision
    first_chain = past.chain.view[past.chain_first.view[:-1]]
    idle: Bools = revision & ~columns.revised[first_chain][row]
    return idle


def _drift(past: Gathered, columns: Columns) -> list[tuple[Ints, Ints, Floats]]:
    months: Floats = (columns.at - past.closed.view) / MONTH_S
    every = np.arange(past.rows)
    parts = between(MONTHS, months, every, np.full(past.rows, columns.per_first),
                    np.full(past.rows, columns.per), np.ones(past.rows))  # fmt: skip
    chain = past.chain.view
    row = np.repeat(every, np.diff(past.chain_first.view))
    quarters: Floats = (columns.at - past.closed.view[row]) / QUARTER_S
    return parts + between(
        QUARTERS, quarters, row, columns.walk[chain], columns.knots[chain], past.chain_weight.view
    )


def between(
    knots: Floats, age: Floats, row: Ints, first: Ints, count: Ints, weight: Floats
) -> list[tuple[Ints, Ints, Floats]]:
    """Return entries that draw straight lines between knots; knot `count` and older stand at 0."""
    left = np.clip(np.searchsorted(knots, age, side="right") - 1, 0, len(knots) - 2)
    along = np.clip((age - knots[left]) / (knots[left + 1] - knots[left]), 0.0, 1.0)
    found: list[tuple[Ints, Ints, Floats]] = []
    for at, share in ((left, 1 - along), (left + 1, along)):
        keep = (at < count) & (share > 0)
        found.append((row[keep], (first + at)[keep], (weight * share)[keep]))
    return found


def precision_of(columns: Columns, spreads: Spreads) -> tuple[Floats, Floats]:
    """Return (p, p) the precision of the columns beforehand and (p,) it times their means."""
    p = len(columns.term)
    prior = np.zeros((p, p))
    plain = np.where(columns.term < Term.PER)[0]
    variance = spreads.term[columns.term[plain]]
    prior[plain, plain] = 1 / variance
    pull = np.zeros(p)
    pull[plain] = MEAN[columns.term[plain]] / variance
    for first, knots, ages, each in _chains(columns, spreads):
        steps = 1 / (each * np.diff(ages[: knots + 1]))
        span = np.arange(first, first + knots)
        prior[span, span] = steps
        prior[span[1:], span[1:]] += steps[:-1]
        prior[span[1:], span[:-1]] = prior[span[:-1], span[1:]] = -steps[:-1]
    return prior, pull


def _chains(columns: Columns, spreads: Spreads) -> list[tuple[int, int, Floats, float]]:
    found: list[tuple[int, int, Floats, float]] = []
    if columns.per:
        found.append((columns.per_first, columns.per, MONTHS, float(spreads.term[Term.PER])))
    for key in np.where(columns.knots > 0)[0]:
        found.append((int(columns.walk[key]), int(columns.knots[key]), QUARTERS,
                      float(spreads.term[Term.TPW])))  # fmt: skip
    return found


def walk_steps(columns: Columns, spreads: Spreads) -> dict[Term, tuple[Ints, Floats]]:
    """Return for both walks the columns of their steps' newer ends and the steps' lengths."""
    found: dict[Term, tuple[list[Ints], list[Floats]]] = {Term.PER: ([], []), Term.TPW: ([], [])}
    for first, knots, ages, _ in _chains(columns, spreads):
        term = Term.PER if first == columns.per_first and columns.per else Term.TPW
        found[term][0].append(np.arange(first, first + knots))
        found[term][1].append(np.diff(ages[: knots + 1]))
    return {
        term: (np.concatenate(at), np.concatenate(by)) for term, (at, by) in found.items() if at
    }
