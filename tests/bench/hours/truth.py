"""What somebody would forecast who knows every parameter of the simulated shop.

At each moment that somebody knows the same of the job as the learner does: operation, family, book
hours, the grade where a column tells it; once a phase has started also its technician and the
job's own phases closed before. Not known are the vehicle's condition, who will do what is to come
(the true odds are), and what chance does to each phase.

Forecasts hold clean work and surprises, and neither forgotten clocks nor mis-punches nor lumped
clocks; rows are scored against the hours as they were recorded, faults included, so that a
faulty shop's score is above a clean one's for everybody. Who knows the truth also knows which
records are false: a forgotten or mis-punched clock tells it nothing of the vehicle, two lumped
clocks their sum.

All by simulation: `DRAWS` stratified draws a row, the vehicle's condition on a grid that is weighed
with the likelihood of the job's own phases.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from store.learn.scores import LEVELS, Floats
from tests.bench.hours.history import Done, History
from tests.bench.hours.law import JobLaw
from tests.bench.hours.rows import Row, Slot, slots

DRAWS = 2000


def truth(history: History, draws: int = DRAWS) -> Iterator[Row]:
    """The true forecast of every row, in the order of `slots`."""
    dice = np.random.default_rng(1)
    for one in history.done:
        asked = list(slots(one.records))
        yield from _rows(asked, _draws(one, history.law.of_job(one.job), draws, dice))


def _rows(asked: list[Slot], drawn: Floats) -> Iterator[Row]:
    """Rows from (rows, draws) hours."""
    ordered = np.sort(drawn, axis=1)
    quantiles = _quantiles(ordered)
    for slot, mean, row in zip(asked, drawn.mean(axis=1).tolist(), quantiles, strict=True):
        yield slot.row(mean, row.tolist())


def _quantiles(ordered: Floats) -> Floats:
    """(rows, 19) of sorted draws: draw i stands in the middle of its stratum."""
    draws = ordered.shape[1]
    place = LEVELS * draws - 0.5
    low = np.floor(place).astype(int)
    part = place - low
    found: Floats = ordered[:, low] * (1 - part) + ordered[:, low + 1] * part
    return found


def _draws(one: Done, law: JobLaw, draws: int, dice: np.random.Generator) -> Floats:
    """(rows, draws) hours of every row of a job, in the order of `slots`."""
    seen = _seen(one, law)
    rows = [*_from_phase(one, law, law.weights, 0, -1, draws, dice)]
    for i, record in enumerate(one.records):
        known = [like for closed, like in seen if closed < record.started]
        weights = _weighed(law.weights, known)
        ahead = _from_phase(one, law, weights, i, one.people[i], draws, dice)
        rows += [ahead[0], ahead[-1]]
    return np.stack(rows)


def _from_phase(
    one: Done,
    law: JobLaw,
    weights: Floats,
    first: int,
    holder: int,
    draws: int,
    dice: np.random.Generator,
) -> list[Floats]:
    """Hours of each phase from `first` on, then of all of them together."""
    hands = one.job.hands(dice, draws, first, holder)
    condition = law.conditions(weights, draws, dice)
    hours = [law.hours(first + n, people, condition, dice) for n, people in enumerate(hands)]
    return [*hours, np.sum(hours, axis=0)]


def _seen(one: Done, law: JobLaw) -> list[tuple[float, Floats]]:
    """When each of the job's own records was closed, and what it says of the vehicle (L,)."""
    found: list[tuple[float, Floats]] = []
    for i, (record, fault) in enumerate(zip(one.records, one.faults, strict=True)):
        if fault == "":
            found.append((record.closed, law.log_density(i, one.people[i], record.actual_h)))
        elif fault == "lumped with the last":
            both = one.records[i - 1].actual_h + record.actual_h
            when = max(one.records[i - 1].closed, record.closed)
            found.append((when, law.log_density_of_two(i - 1, i, one.people[i], both)))
    return found


def _weighed(prior: Floats, known: list[Floats]) -> Floats:
    """(L,) chances of each condition after what is known (Bayes)."""
    if not known:
        return prior
    logs = np.log(prior) + np.sum(known, axis=0)
    chances = np.exp(logs - logs.max())
    weights: Floats = chances / chances.sum()
    return weights
