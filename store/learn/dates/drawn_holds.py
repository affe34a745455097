"""Holds still to come and holds under way, drawn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.dates.dice import scattered
from store.learn.dates.drawn_waits import after
from store.learn.dates.normal import rest_of
from store.learn.dates.route import Running, Step
from store.learn.dates.scene import Scene

LONGEST_HOLD_H = 400.0


@dataclass(frozen=True, slots=True)
class Holds:
    """Holds still to come.

    Attributes:
        kept: (draws, phases) open hours before and inside each phase, waits after them too.
        cells, each_h: (n,) of which that is the sum: flat indices of draw and phase, open hours.
        rows: (k,) in which draw a hold on a phase further on begins beside the work.
        during: (k,) column of the phase under way.
        held: (k,) column of the phase that cannot begin before.
        share: (k,) of the phase under way that is through when it begins.
        hours: (k,) open hours that it lasts.
    """

    kept: Floats
    cells: Ints
    each_h: Floats
    rows: Ints
    during: Ints
    held: Ints
    share: Floats
    hours: Floats


def holds(on: Scene) -> Holds:
    """Draw all holds still to come."""
    rng, (draws, m) = on.dice.apart("holds").rng, on.shape
    here, later = _expected(on)
    counts = rng.poisson(np.concatenate([here, later], axis=1) * np.tile(on.trouble, 2))
    rows, columns = np.divmod(np.repeat(np.arange(counts.size), counts.ravel()), 2 * m)
    now = columns < m
    held = np.where(now, columns, columns - m)
    held[~now] = _targets(on, held[~now], rng)
    hours = _hours(on, held, rng)
    cells = rows[now] * m + columns[now]
    each_h = hours[now] + after(on, rows[now], columns[now], rng)
    kept = scattered(cells, each_h, (draws, m))
    share = rng.random(int(np.count_nonzero(~now)))
    return Holds(kept, cells, each_h, rows[~now], columns[~now] - m, held[~now], share, hours[~now])


def before(on: Scene, found: Holds) -> Floats:
    """(draws, phases) the part of `Holds.kept` by which a phase is begun later.

    How many holds come before a phase and how many inside it are two Poisson counts; given their
    sum, each is one before it with the chance that its part of the expected number has.
    """
    fresh, inside, _ = _rates(on)
    whole = fresh + inside * on.open_h
    chance = np.divide(fresh, whole, out=np.zeros(on.shape), where=whole > 0).ravel()
    even = on.dice.apart("before").rng.random(len(found.cells))
    first = even < chance[found.cells]
    return scattered(found.cells[first], found.each_h[first], on.shape)


def _expected(on: Scene) -> tuple[Floats, Floats]:
    """(draws, phases) holds on each phase, and on a later one beside it, before any factor."""
    fresh, inside, later = _rates(on)
    return fresh + inside * on.open_h, later * on.open_h


def _rates(on: Scene) -> tuple[Floats, Floats, Floats]:
    """(phases,) holds before each phase; inside it and on a later one an hour of labour."""
    steps = on.ahead.steps
    labour = np.array([step.kind == "labour" for step in steps])
    fresh = np.array([step.seq not in on.ahead.begun for step in steps])
    last = max((i for i in range(len(steps)) if labour[i]), default=0)
    rates = [on.pooled.rates(step.phase_class) for step in steps]
    first = np.array([rate.before for rate in rates]) * (labour & fresh)
    inside = np.array([rate.inside for rate in rates])
    later = np.array([rate.later for rate in rates]) * (np.arange(len(steps)) < last)
    return first, inside, later


def _targets(on: Scene, during: Ints, rng: np.random.Generator) -> Ints:
    """(k,) columns of the phases on which holds lie that begin during others."""
    working: Ints = np.array([i for i, step in enumerate(on.ahead.steps) if step.kind == "labour"])
    shares = np.cumsum(on.learned.holds.ahead_shares())[:2]
    ahead = np.searchsorted(shares, rng.random(len(during)))
    first = np.searchsorted(working, during, side="right")
    columns: Ints = working[np.minimum(first + ahead, len(working) - 1)]
    return columns


def running(on: Scene) -> dict[int, Floats]:
    """By column, (draws,) open hours from now before which the phase there cannot go on."""
    columns = {step.seq: i for i, step in enumerate(on.ahead.steps)}
    earliest: dict[int, Floats] = {}
    for one in on.ahead.running:
        if one.seq in columns:
            column = columns[one.seq]
            rest = _rest(on, one, on.ahead.steps[column])
            earliest[column] = np.maximum(earliest.get(column, 0.0), rest)
    return earliest


def _rest(on: Scene, one: Running, step: Step) -> Floats:
    """(draws,) open hours still to come of something under way."""
    u = on.dice.apart(f"{one.kind} {one.reason}", one.seq).even()
    if one.kind == "standing":
        return _standing_rest(on, one, step, u)
    usual = on.learned.length_law(one.reason, on.reading)
    if one.kind == "outwork":
        usual = on.learned.away.outwork_law(step, on.reading)
    law = on.learned.running_law(one, usual, on.hours, on.reading)
    so_far = on.reading - on.hours.upto(one.began)
    return np.minimum(rest_of(law.m, law.wide, so_far, u), LONGEST_HOLD_H)


def _standing_rest(on: Scene, one: Running, step: Step, u: Floats) -> Floats:
    law = on.learned.away.standing_law(step, on.reading)
    wall_h = rest_of(law.m, law.wide, (on.now - one.began) / 3600, u)
    return on.hours.upto_all(on.now + wall_h * 3600) - on.reading


def _hours(on: Scene, columns: Ints, rng: np.random.Generator) -> Floats:
    """(k,) lengths of holds of the phases in `columns`, open hours."""
    mixes = [on.pooled.mix(step.phase_class) for step in on.ahead.steps]
    reasons = sorted({reason for mix in mixes for reason in mix})
    laws = [on.learned.length_law(reason, on.reading) for reason in reasons]
    shares = np.cumsum([[mix.get(reason, 0.0) for reason in reasons] for mix in mixes], axis=1)
    u = rng.random(len(columns))
    which = np.minimum((u[:, None] > shares[columns]).sum(axis=1), len(reasons) - 1)
    m, wide = np.array([law.centre for law in laws]), np.array([law.wide for law in laws])
    drawn: Floats = np.exp(m[which] + wide[which] * rng.standard_normal(len(columns)))
    capped: Floats = np.minimum(drawn, LONGEST_HOLD_H)
    return capped
