"""Forecasts: one phase, all that is left, a whole job, jointly."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.labour import terms
from store.learn.labour.crew import Crew
from store.learn.labour.draws import DRAWS, LATTICE, Kind, lead, normals, uniforms
from store.learn.labour.gathered import CLASS_NUMBER, NO_CLASS, facts_of
from store.learn.labour.learner import Learner
from store.learn.labour.local import JOB, SINCE, Local, gather, together
from store.learn.labour.mixtures import LEVELS, NORMAL_FROM, Mixture, student
from store.learn.labour.rows import Entry, Facts, Key, Row, hands_of, revision_of, row_of
from store.learn.labour.sites import match
from store.learn.labour.terms import Term
from store.learn.records import AtHand, PhaseClass, Planned, Record

MOST_SD = 1.2
"""A phase's spread is not taken to be larger for its mean, whose far tail would be all of it."""
EVEN = (np.arange(400) + 0.5) / 400
"""Levels that stand for equal shares of all cases."""
TABLE = np.concatenate([[1e-4, 1e-3, 0.005], np.arange(1, 100) / 100, [0.995, 0.999, 1 - 1e-4]])


@dataclass(frozen=True, slots=True)
class Hours:
    """Labour hours: the mean and the 19 quantiles at .05, .10 ... .95."""

    mean: float
    quantiles: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Target:
    """A phase that is asked about, as levels.

    Attributes:
        noise, df: variance of a clean phase and what it rests on.
        odds: of a surprise.
    """

    planned: Planned
    owners: tuple[str, ...]
    row: Row
    noise: float
    df: float
    odds: float


@dataclass(frozen=True, slots=True)
class Ready:
    """A job at hand, ready to be drawn: who may do it, and what they would take.

    Attributes:
        weight: (k,) odds of each candidate.
        mean: (k, m) of the linear predictors, what is known of grade and experience included.
        cov: (k, m, m).
        open: which phases nobody is assigned to.
    """

    targets: tuple[Target, ...]
    weight: Floats
    mean: Floats
    cov: Floats
    open: tuple[bool, ...]
    follow: float
    size: float
    size_sd: float

    @property
    def book(self) -> Floats:
        """(m,) book hours."""
        return np.array([one.planned.book_h for one in self.targets])

    @property
    def noise(self) -> Floats:
        """(m,) variances of clean phases."""
        return np.array([one.noise for one in self.targets])

    @property
    def odds(self) -> Floats:
        """(m,) odds of a surprise."""
        return np.array([one.odds for one in self.targets])


def ready(learner: Learner, crew: Crew, job: AtHand, phases: Sequence[Planned]) -> Ready:
    """Gather what a job's phases hang on, and let its own finished phases speak."""
    targets = tuple(_target(learner, job, one) for one in phases)
    is_open = tuple(one.technician is None for one in phases)
    pending = _pending(learner, job)
    people: list[tuple[str | None, float]] = [(None, 1.0)]
    if any(is_open):
        operations = sorted({one for target in targets for one in target.owners})
        people = crew.shares(operations, job.employed)
    drift: list[Entry] = [((Term.PER,), 1.0), (SINCE, 1.0)]
    fixed = [[*_entries(learner, one), *drift] for one in targets]
    hands = [
        [_hands(learner, one, one.planned.technician or who, job.as_of) for one in targets]
        for who, _ in people
    ]
    own = [(record, _own_entries(learner, record, drift)) for record in pending]
    keys = dict.fromkeys(
        key
        for entries in (
            *fixed,
            *(one for each in hands for one in each),
            *(e.items() for _, e in own),
        )
        for key, _ in entries
        if key != JOB
    )
    local = gather(learner, keys, job.job, job.as_of)
    for record, entries in own:
        _hear(learner, local, record, entries)
    means, covs = list[Floats](), list[Floats]()
    offset = np.array([one.row.offset for one in targets])
    for (who, _), each in zip(people, hands, strict=True):
        x = local.matrix([together([*a, *b]) for a, b in zip(fixed, each, strict=True)])
        skill = np.array([learner.past.offset_of(p.technician or who) for p in phases])
        means.append(x @ local.mean + offset + skill)
        covs.append(x @ local.cov @ x.T)
    return Ready(
        targets, np.array([weight for _, weight in people]), np.array(means), np.array(covs),
        is_open, crew.follow, learner.spreads.size, learner.spreads.size_sd,
    )  # fmt: skip


def _target(learner: Learner, job: AtHand, one: Planned) -> Target:
    facts = Facts(
        job.template, job.variant, one.phase, one.book_h, job.grade, one.phase_class, one.serves
    )
    seen = learner.past.seen
    row, owners = row_of(facts, seen), seen.owners(facts)
    noise, df, odds = noise_of(learner, row.chains)
    return Target(one, owners, row, noise, df, odds)


def noise_of(learner: Learner, chains: Sequence[tuple[Key, float]]) -> tuple[float, float, float]:
    """Return variance of a clean phase, the observations it rests on, and odds of a surprise."""
    spreads = learner.spreads
    noise = df = odds = 0.0
    for key, weight in chains:
        number = learner.past.keys.get(key, len(spreads.noise))
        if number < len(spreads.noise):
            noise += weight * float(spreads.noise[number])
            df += weight * float(spreads.noise_worth[number])
            odds += weight * float(spreads.surprise[number])
        else:
            noise += weight * spreads.noise_common
            df += weight * terms.NOISE_WORTH
            odds += weight * spreads.surprise_common
    return noise, df, odds


def _entries(learner: Learner, target: Target) -> list[Entry]:
    row = target.row
    moved = [(key, weight) for key, weight in revision_of(row) if _rewritten(learner, row)]
    drift: list[Entry] = [((Term.TPW, *key[1:]), share) for key, share in row.chains]
    loading = learner.spreads.loading[_class_number(target.planned.phase_class)]
    return [*row.entries, *moved, *drift, (JOB, float(loading))]


def _rewritten(learner: Learner, row: Row) -> bool:
    return any(key in learner.past.rewritten for key, _ in row.chains) or row.log_revision != 0


def _class_number(name: PhaseClass | None) -> int:
    return NO_CLASS if name is None else CLASS_NUMBER[name]


def _hands(learner: Learner, target: Target, who: str | None, at: float) -> list[Entry]:
    return hands_of(who if who is not None else "", target.owners, learner.past.seen, at)


def _pending(learner: Learner, job: AtHand) -> list[Record]:
    """Its own finished phases that the last fit has not seen. A lumped one waits for its other."""
    fitted, at = learner.fitted_rows, learner.past.row_at
    return [
        one
        for one in job.own
        if at.get((one.job, one.seq), fitted) >= fitted and one.lumped_with is None
    ]


def _own_entries(learner: Learner, record: Record, drift: list[Entry]) -> dict[Key, float]:
    facts = facts_of(record)
    seen = learner.past.seen
    row, owners = row_of(facts, seen), seen.owners(facts)
    loading = float(learner.spreads.loading[_class_number(record.phase_class)])
    return together(
        [
            *row.entries, *revision_of(row), *drift, (JOB, loading),
            *(((Term.TPW, *key[1:]), share) for key, share in row.chains),
            *hands_of(record.technician, owners, seen, record.started),
        ]
    )  # fmt: skip


def _hear(learner: Learner, local: Local, record: Record, entries: dict[Key, float]) -> None:
    """Let one finished phase of the job at hand speak, as robustly as in the fit."""
    x = local.matrix([entries])[0]
    row = row_of(facts_of(record), learner.past.seen)
    offset = row.offset + learner.past.offset_of(record.technician)
    mean, variance = float(x @ local.mean) + offset, float(x @ local.cov @ x)
    noise, _, odds = noise_of(learner, row.chains)
    s = learner.spreads
    hours = max(record.actual_h - (record.surprise_h or 0.0), 0.05 * record.actual_h)
    if record.surprise_h is not None:
        odds = 0.0
    kinds = s.kinds(np.array([noise]), np.array([odds]))
    site = match(
        np.array([math.log(hours / record.book_h)]), np.array([mean]), np.array([variance]), kinds
    )
    tau = float(site.tau[0])
    local.observe(x, tau, float(site.nu[0]) - tau * offset)


def phase_mixture(job: Ready, which: slice = slice(None)) -> Mixture:
    """Return the distributions of ln(hours / book hours) of phases: clean and surprised."""
    targets = job.targets[which]
    mean = job.mean[:, which].T
    variance = np.diagonal(job.cov, axis1=1, axis2=2)[:, which].T
    noise, worth, odds = (
        np.array(each)[:, None]
        for each in zip(*((one.noise, one.df, one.odds) for one in targets), strict=True)
    )
    total = variance + noise
    df = np.minimum(4 + (worth - 4) * (total / noise) ** 2, NORMAL_FROM)
    return Mixture(
        np.concatenate([job.weight * (1 - odds), job.weight * odds], axis=1),
        np.concatenate([mean, mean + job.size], axis=1),
        np.sqrt(np.concatenate([total, total + job.size_sd**2], axis=1)),
        np.concatenate([df, np.full(df.shape, NORMAL_FROM)], axis=1),
    )


def phase_hours(job: Ready, which: slice = slice(None)) -> list[Hours]:
    """Return the forecasts of phases; of one under way, its whole length."""
    targets = job.targets[which]
    mixture = phase_mixture(job, which)
    logs = mixture.quantiles(LEVELS)
    sd = np.minimum(mixture.scale, MOST_SD)
    means = (mixture.weight * np.exp(mixture.mean + sd**2 / 2)).sum(axis=1)
    elapsed = np.array([one.planned.elapsed_h for one in targets])
    book = np.array([one.planned.book_h for one in targets])
    running = np.where(elapsed > 0)[0]
    if len(running):
        floor = np.log(elapsed[running] / book[running])
        some = mixture.some(running)
        logs[running] = some.beyond(floor, LEVELS)
        means[running] = np.exp(some.beyond(floor, EVEN)).mean(axis=1)
    extra = np.array([one.planned.extra_h for one in targets])
    hours = book[:, None] * np.exp(logs) + extra[:, None]
    return [
        Hours(float(mean), tuple(each))
        for mean, each in zip(book * means + extra, hours.tolist(), strict=True)
    ]


def draw(job: Ready, draws: int = DRAWS) -> Floats:
    """Return (draws, m) joint draws of the phases' hours."""
    m = len(job.targets)
    who = _who(job, m, draws)
    mean = np.empty((draws, m))
    noise = _noise(job, m, draws)
    effect = np.empty((draws, m))
    z = normals(Kind.EFFECT, m, draws)
    for k in range(len(job.weight)):
        root = _root(job.cov[k])
        chosen = who == k
        rows = chosen.any(axis=1)
        if not rows.any():
            continue
        effect[chosen] = (z[rows] @ root.T)[chosen[rows]]
        mean[chosen] = np.broadcast_to(job.mean[k], (draws, m))[chosen]
    logs = mean + effect + noise
    running = [i for i, one in enumerate(job.targets) if one.planned.elapsed_h > 0]
    for index in running:
        logs = _given(job, index, logs)
    extra = np.array([one.planned.extra_h for one in job.targets])
    found: Floats = job.book * np.exp(logs) + extra
    return found


def _who(job: Ready, m: int, draws: int) -> Ints:
    """Which candidate does which phase: mostly the same one all of a job."""
    edges = np.cumsum(job.weight)
    if len(edges) == 1:
        return np.zeros((draws, m), np.int64)
    last = np.minimum(np.searchsorted(edges, lead(draws)), len(edges) - 1)
    other = np.minimum(np.searchsorted(edges, uniforms(Kind.OTHER, m, draws)), len(edges) - 1)
    stays = uniforms(Kind.STAYS, m, draws) < job.follow
    found = np.empty((draws, m), np.int64)
    for index in range(m):
        last = np.where(stays[:, index] | (index == 0), last, other[:, index])
        found[:, index] = last
    return found


def _noise(job: Ready, m: int, draws: int) -> Floats:
    df = np.array([one.df for one in job.targets])
    clean = np.sqrt(job.noise) * student(normals(Kind.NOISE, m, draws), df)
    chance = uniforms(Kind.SURPRISE, m, draws)
    hit = chance < job.odds
    size = job.size + job.size_sd * normals(Kind.SIZE, m, draws)
    return np.where(hit, np.sqrt(job.noise) * normals(Kind.NOISE, m, draws) + size, clean)


def _root(cov: Floats) -> Floats:
    """A root of a covariance matrix that may be short of full rank."""
    return np.asarray(np.linalg.cholesky(cov + 1e-9 * np.eye(len(cov))), np.float64)


def _given(job: Ready, index: int, logs: Floats) -> Floats:
    """Let the draws know that one phase has had its hours already and is not finished.

    The phase itself follows its exact conditional distribution, the others move as far as a long
    phase tells of them: cov(other, phase) / var(phase) times the difference.
    """
    planned = job.targets[index].planned
    mixture = phase_mixture(job, slice(index, index + 1))
    floor = np.array([math.log(planned.elapsed_h / planned.book_h)])
    rank = np.argsort(np.argsort(logs[:, index], kind="stable"), kind="stable")
    levels = (np.arange(len(logs), dtype=np.float64) + 0.5) / len(logs)
    table: Floats = mixture.beyond(floor, TABLE)[0]
    own: Floats = np.interp(levels, TABLE, table)[rank]
    cov = np.einsum("k,kij->ij", job.weight, job.cov)
    total = cov[index, index] + job.targets[index].noise
    clean = float(job.weight @ job.mean[:, index])
    usual = clean + job.size
    odds = job.targets[index].odds
    moved = own - logs[:, index]
    share = _clean_share(own, clean, usual, float(total), job.size_sd, odds)
    found: Floats = logs + (share * moved)[:, None] * (cov[index] / total)
    found[:, index] = own
    return found


def _clean_share(
    own: Floats, clean: float, usual: float, total: float, size_sd: float, odds: float
) -> Floats:
    wide = total + size_sd**2
    a = (1 - odds) / math.sqrt(total) * np.exp(-0.5 * (own - clean) ** 2 / total)
    b = odds / math.sqrt(wide) * np.exp(-0.5 * (own - usual) ** 2 / wide)
    found: Floats = np.where(a + b > 0, a / np.maximum(a + b, 1e-300), 0.0)
    return found


def total_hours(job: Ready, hours: Floats | None = None) -> Hours:
    """Return the forecast of all the phases together."""
    draws = draw(job, LATTICE) if hours is None else hours
    whole = np.sort(draws.sum(axis=1))
    return Hours(float(whole.mean()), tuple(float(one) for one in quantiles_of(whole)))


def quantiles_of(rising: Floats) -> Floats:
    """Return (19,) quantiles of draws in rising order, each draw in the middle of its part."""
    at = LEVELS * len(rising) - 0.5
    low = np.floor(at).astype(np.int64)
    high = np.minimum(low + 1, len(rising) - 1)
    found: Floats = rising[low] + (at - low) * (rising[high] - rising[low])
    return found
