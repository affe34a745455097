"""What was learned, as facts that can be put into plain words: phases, people, doubts."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from store.learn.arrays import Floats
from store.learn.labour.ahead import noise_of
from store.learn.labour.gathered import LUMPED
from store.learn.labour.labour import Labour
from store.learn.labour.local import JOB, SINCE, Local, gather, together
from store.learn.labour.mixtures import NORMAL_FROM, Mixture
from store.learn.labour.rows import Entry, Facts, Key, hands_of, revision_of, row_of
from store.learn.labour.sites import FORGOTTEN, FREAK, MISPUNCH
from store.learn.labour.terms import LEARNING_JOBS, Term
from store.learn.records import Record

Z90 = 1.2815515655446004
"""The normal quantile of .9."""
SURE, LIKELY = 1.6449, 0.8416
"""Standard errors from which a difference counts as sure (1 in 20 against) or likely (1 in 5)."""
FEW = 4
"""Times below which nothing is called sure."""
IN_DOUBT = 0.5
"""Chance from which a record counts as a fault of the clock."""
TENTHS = np.array([0.1, 0.5, 0.9])

Sureness = Literal["sure", "likely", "open"]
Doubt = Literal["forgotten", "mispunch", "lumped"]


@dataclass(frozen=True, slots=True)
class PhaseTold:
    """What a phase of an operation takes here, on average over families or on one.

    Attributes:
        ratio: hours per book hour, the middle of what it usually is.
        sure: whether that differs from the book's.
        middle, low, high: hours that the next one takes: half stay within the middle, one in ten
            within low, nine in ten within high.
        finished: phases that taught it; `of_all` counts those of other families too.
    """

    operation: str
    phase: str
    family: str | None
    book_h: float
    ratio: float
    sure: Sureness
    middle: float
    low: float
    high: float
    finished: int
    of_all: int


@dataclass(frozen=True, slots=True)
class PersonTold:
    """Somebody's hours per hour that the same work takes here on average.

    Attributes:
        ratio, low, high: middle of what is believed of it, and one in ten below and above.
        first: how much longer, as a share, the first job of an operation takes them.
        first_sure: whether that differs from nothing.
        finished: phases.
    """

    badge: str
    ratio: float
    low: float
    high: float
    sure: Sureness
    first: float
    first_sure: Sureness
    finished: int


@dataclass(frozen=True, slots=True)
class Doubted:
    """Hours that did not teach as they stand, and what others let expect (one in ten to nine)."""

    job: str
    phase: str
    seq: int
    badge: str
    hours: float
    doubt: Doubt
    low: float
    high: float
    neighbour: str | None = None


@dataclass(frozen=True, slots=True)
class Told:
    """Everything."""

    phases: tuple[PhaseTold, ...]
    people: tuple[PersonTold, ...]
    doubted: tuple[Doubted, ...]
    first_cost: float
    """How much longer, as a share, a first job of an operation takes on average."""


def told(labour: Labour, at: float) -> Told:
    """Return what was learned. From a learner that has its records, not from one read back.

    Args:
        at: POSIX seconds.
    """
    first = gather(labour.learner, [(Term.LEARN,)], "", at)
    return Told(
        tuple(_phases(labour, at)), tuple(_people(labour, at)), tuple(_doubted(labour)),
        math.expm1(float(first.mean[0])),
    )  # fmt: skip


def _taught(labour: Labour) -> Iterator[Record]:
    past = labour.learner.past
    for row, records in enumerate(past.records):
        if past.active.data[row]:
            yield from records


def _phases(labour: Labour, at: float) -> Iterator[PhaseTold]:
    seen = labour.learner.past.seen
    newest: dict[tuple[str, str], Record] = {}
    families: dict[tuple[str, str], Counter[str]] = defaultdict(Counter)
    of_family: dict[tuple[str, str, str], Record] = {}
    for one in _taught(labour):
        for operation in seen.owners(_facts(one, one.variant)):
            key = operation, one.phase
            newest[key] = _said_of(newest.get(key), one)
            own = (*key, one.variant)
            of_family[own] = _said_of(of_family.get(own), one)
            families[key][one.variant] += 1
    for key in sorted(newest):
        yield _phase(labour, key, newest[key], families[key], None, at)
        for family, times in sorted(families[key].items()):
            if times >= 2:
                last = of_family[(*key, family)]
                yield _phase(labour, key, last, families[key], family, at)


def _said_of(before: Record | None, one: Record) -> Record:
    """The record whose book hours are said: the newest of a job with one operation, since beside
    another a phase may have fewer."""
    alone = before is not None and "+" not in before.template
    return before if before is not None and alone and "+" in one.template else one


def _facts(one: Record, family: str) -> Facts:
    return Facts(one.template, family, one.phase, one.book_h, 2, one.phase_class, one.serves)


def _phase(
    labour: Labour, key: tuple[str, str], last: Record, families: Counter[str],
    family: str | None, at: float,
) -> PhaseTold:  # fmt: skip
    """The usual job: grade 2, whoever does such work now; all families by how often they came."""
    operation, phase = key
    weights = {family: 1} if family else dict(families)
    total = sum(weights.values())
    learner = labour.learner
    entries: list[Entry] = [((Term.PER,), 1.0), (SINCE, 1.0), ((Term.TPW, operation, phase), 1.0)]
    for name, times in weights.items():
        facts = Facts(operation, name, phase, last.book_h, 2, last.phase_class, (operation,))
        row = row_of(facts, learner.past.seen)
        levels = [*row.entries, *revision_of(row)]  # the book may have been rewritten since
        entries += [(level, weight * times / total) for level, weight in levels]
    crew = labour.crew.shares((operation,), None)
    for who, share in crew:
        hands = hands_of(who or "", (operation,), learner.past.seen, at)
        entries += [(level, share * weight) for level, weight in hands]
    mean, variance = _effect(labour, entries, at)
    skill = sum(share * learner.past.offset_of(who) for who, share in crew)
    mean += skill
    noise, df, odds = noise_of(learner, (((Term.TP, operation, phase), 1.0),))
    whole = variance + noise + learner.spreads.job
    low, middle, high = _range(mean, whole, df, odds, labour)
    count = families[family] if family else total
    return PhaseTold(
        operation, phase, family, last.book_h, math.exp(mean),
        _by_times(_sureness(mean, variance), count),
        middle * last.book_h, low * last.book_h, high * last.book_h, count, sum(families.values()),
    )  # fmt: skip


def _range(
    mean: float, variance: float, df: float, odds: float, labour: Labour
) -> tuple[float, float, float]:
    """10th, 50th and 90th per cent of hours per book hour."""
    s = labour.learner.spreads
    mixture = Mixture(
        np.array([[1 - odds, odds]]), np.array([[mean, mean + s.size]]),
        np.sqrt([[variance, variance + s.size_sd**2]]), np.array([[df, NORMAL_FROM]]),
    )  # fmt: skip
    low, middle, high = np.exp(mixture.quantiles(TENTHS)[0]).tolist()
    return low, middle, high


def _effect(labour: Labour, entries: Sequence[Entry], at: float) -> tuple[float, float]:
    row = together(entries)
    local = gather(labour.learner, [key for key in row if key != JOB], "", at)
    x = local.matrix([row])[0]
    return float(x @ local.mean), float(x @ local.cov @ x)


def _sureness(mean: float, variance: float) -> Sureness:
    z = abs(mean) / math.sqrt(max(variance, 1e-12))
    return "sure" if z > SURE else "likely" if z > LIKELY else "open"


def _by_times(sure: Sureness, times: int) -> Sureness:
    """What was seen once or twice is borrowed from other work: never called sure."""
    if times < FEW:
        return "open" if times < 2 else "likely" if sure == "sure" else sure
    return sure


def _people(labour: Labour, at: float) -> Iterator[PersonTold]:
    """Everybody who taught, beside what the same work takes here on average."""
    finished = Counter(one.technician for one in _taught(labour))
    seen = labour.learner.past.seen
    work: dict[str, Counter[str]] = defaultdict(Counter)
    for one in _taught(labour):
        for operation in seen.owners(_facts(one, one.variant)):
            work[one.technician][operation] += 1
    keys: list[Key] = []
    for who in finished:
        keys += [(Term.TECH, who), (Term.TSL, who), (Term.LEARN,)]
        keys += [(Term.TT, who, operation) for operation in work[who]]
    local = gather(labour.learner, dict.fromkeys(keys), "", at)
    rows = {who: _skill(labour, local, who, work[who], at) for who in finished}
    average = sum(finished[who] * rows[who] for who in rows) / max(1, sum(finished.values()))
    known = sum(finished[who] * labour.learner.past.offset_of(who) for who in rows)
    known /= max(1, sum(finished.values()))
    for who in sorted(finished):
        x = rows[who] - average
        mean = float(x @ local.mean) + labour.learner.past.offset_of(who) - known
        variance = float(x @ local.cov @ x)
        first = local.matrix([{(Term.LEARN,): 1.0, (Term.TSL, who): 1.0}])[0]
        first_mean, first_var = float(first @ local.mean), float(first @ local.cov @ first)
        reach = Z90 * math.sqrt(variance)
        yield PersonTold(
            who, math.exp(mean), math.exp(mean - reach), math.exp(mean + reach),
            _sureness(mean, variance), math.expm1(first_mean),
            _sureness(first_mean, first_var), finished[who],
        )  # fmt: skip


def _skill(labour: Labour, local: Local, who: str, work: Counter[str], at: float) -> Floats:
    """Weights of somebody's effects in the work that they do now."""
    total = sum(work.values())
    entries: dict[Key, float] = {(Term.TECH, who): 1.0}
    fresh = 0.0
    for operation, times in work.items():
        entries[(Term.TT, who, operation)] = times / total
        done = labour.learner.past.seen.experience(who, operation, at)
        fresh += times / total * math.exp(-done / LEARNING_JOBS)
    entries |= {(Term.LEARN,): fresh, (Term.TSL, who): fresh}
    return np.asarray(local.matrix([entries])[0], np.float64)


def _doubted(labour: Labour) -> Iterator[Doubted]:
    learner = labour.learner
    past = learner.past
    for row, records in enumerate(past.records):
        if past.kind.data[row] == LUMPED and past.active.data[row]:
            marked = any(one.lumped_with is not None for one in records)
            if not marked:
                yield from _lumped(labour, records)
            continue
        if not past.active.data[row] or row >= len(learner.share):
            continue
        share = learner.share[row]
        doubt = _fault(share, long=past.y.data[row] > 0)
        if doubt is not None:
            low, high = usual_range(labour, row)
            one = records[0]
            yield Doubted(
                one.job, one.phase, one.seq, one.technician, one.actual_h, doubt, low, high
            )


def _fault(share: Floats, *, long: bool) -> Doubt | None:
    """What a record most likely is, if not work; a freak by whether it is long or short."""
    freak = share[FREAK]
    if share[FORGOTTEN] + (freak if long else 0.0) > IN_DOUBT:
        return "forgotten"
    if share[MISPUNCH] + (0.0 if long else freak) > IN_DOUBT:
        return "mispunch"
    return None


def _lumped(labour: Labour, records: Sequence[Record]) -> Iterator[Doubted]:
    for one, other in zip(records, reversed(records), strict=True):
        row = labour.learner.past.of_job[one.job]
        own = next(
            at
            for at in row
            if len(labour.learner.past.records[at]) == 1
            and labour.learner.past.records[at][0] == one
        )
        low, high = usual_range(labour, own)
        yield Doubted(
            one.job, one.phase, one.seq, one.technician, one.actual_h, "lumped", low, high,
            other.phase,
        )  # fmt: skip


def usual_range(labour: Labour, row: int) -> tuple[float, float]:
    """Return the hours that others let expect of a row: one in ten to nine in ten."""
    learner = labour.learner
    mean, variance = learner.left_out(np.array([row]))
    record = learner.past.records[row][0]
    chains = row_of(_facts(record, record.variant), learner.past.seen).chains
    noise, df, odds = noise_of(learner, chains)
    low, _, high = _range(float(mean[0]), float(variance[0]) + noise, df, odds, labour)
    return low * record.book_h, high * record.book_h
