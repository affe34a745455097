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
class Later:
    """Holds on phases further on that begin while one goes on; (k,) each.

    Attributes:
        rows: in which draw.
        during: column of the phase under way.
        held: column of the phase that cannot begin before.
        share: of the phase under way that is through when it begins.
        hours: open hours that it lasts.
    """

    rows: Ints
    during: Ints
    held: Ints
    share: Floats
    hours: Floats


def kept(on: Scene) -> Floats:
    """(draws, phases) open hours of holds before and inside each phase, waits after them too."""
    labour = np.array([step.kind == "labour" for step in on.ahead.steps])
    fresh = np.array([step.seq not in on.ahead.begun for step in on.ahead.steps])
    rates = [on.learned.holds.rates(step.phase_class) for step in on.ahead.steps]
    before = np.array([rate.before for rate in rates]) * (labour & fresh)
    per_h = np.array([rate.inside for rate in rates]) * labour
    holds = on.dice.rng.poisson(on.trouble * (before + per_h * on.open_h))
    cells = np.repeat(np.arange(holds.size), holds.ravel())
    rows, columns = np.divmod(cells, on.shape[1])
    return scattered(cells, _hours(on, columns) + after(on, rows), on.shape)


def later(on: Scene) -> Later:
    """Holds on a later phase that begin beside the work."""
    steps = on.ahead.steps
    targets = [i for i, step in enumerate(steps) if step.kind == "labour" and i > 0]
    during = [
        i for i in range(len(steps)) if steps[i].kind == "labour" and any(t > i for t in targets)
    ]
    rates = np.zeros(len(steps))
    for i in during:
        rates[i] = on.learned.holds.rates(steps[i].phase_class).later
    holds = on.dice.rng.poisson(on.trouble * on.open_h * rates)
    rows, under_way = np.divmod(np.repeat(np.arange(holds.size), holds.ravel()), on.shape[1])
    ahead = np.searchsorted(
        np.cumsum(on.learned.holds.ahead_shares())[:2], on.dice.rng.random(len(rows))
    )
    first = np.searchsorted(targets, under_way, side="right")
    held = (
        np.array(targets, np.int64)[np.minimum(first + ahead, len(targets) - 1)]
        if len(rows)
        else under_way
    )
    share = on.dice.rng.random(len(rows))
    return Later(rows, under_way, held, share, _hours(on, held))


def running(on: Scene) -> dict[int, Floats]:
    """By column, (draws,) open hours from now before which the phase there cannot go on.

    What keeps nothing that is still to do counts for the end: one column beyond the last.
    """
    columns = {step.seq: i for i, step in enumerate(on.ahead.steps)}
    earliest: dict[int, Floats] = {}
    for one in on.ahead.running:
        column = columns.get(one.seq, len(columns))
        rest = _rest(on, one, on.ahead.steps[column] if column < len(columns) else None)
        earliest[column] = np.maximum(earliest.get(column, 0.0), rest)
    return earliest


def _rest(on: Scene, one: Running, step: Step | None) -> Floats:
    """(draws,) open hours still to come of something under way."""
    if one.kind == "standing" and step is not None:
        return _standing_rest(on, one, step)
    usual = on.learned.length_law(one.reason, on.reading)
    if one.kind == "outwork" and step is not None:
        usual = on.learned.away.outwork_law(step, on.reading)
    law = on.learned.running_law(one, usual, on.hours, on.reading)
    so_far = on.reading - on.hours.upto(one.began)
    return np.minimum(rest_of(law.m, law.wide, so_far, on.dice.even()), LONGEST_HOLD_H)


def _standing_rest(on: Scene, one: Running, step: Step) -> Floats:
    law = on.learned.away.standing_law(step, on.reading)
    wall_h = rest_of(law.m, law.wide, (on.now - one.began) / 3600, on.dice.even())
    return on.hours.upto_all(on.now + wall_h * 3600) - on.reading


def _hours(on: Scene, columns: Ints) -> Floats:
    """(k,) lengths of holds of the phases in `columns`, open hours."""
    mixes = [on.learned.holds.mix(step.phase_class) for step in on.ahead.steps]
    reasons = sorted({reason for mix in mixes for reason in mix})
    laws = [on.learned.length_law(reason, on.reading) for reason in reasons]
    shares = np.cumsum([[mix.get(reason, 0.0) for reason in reasons] for mix in mixes], axis=1)
    u = on.dice.rng.random(len(columns))
    which = np.minimum((u[:, None] > shares[columns]).sum(axis=1), len(reasons) - 1)
    m, wide = np.array([law.m for law in laws]), np.array([law.wide for law in laws])
    drawn: Floats = np.exp(m[which] + wide[which] * on.dice.rng.standard_normal(len(columns)))
    capped: Floats = np.minimum(drawn, LONGEST_HOLD_H)
    return capped
