"""A stay walked from now to its end, in many draws at once."""

from __future__ import annotations

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates import drawn_holds, drawn_waits
from store.learn.dates.drawn_holds import Holds
from store.learn.dates.route import Step
from store.learn.dates.scene import Scene


def hours_left(on: Scene) -> Floats:
    """(draws,) open hours from now until the last phase is finished."""
    inside, between = drawn_waits.inside(on), drawn_waits.between(on)
    holds, earliest = drawn_holds.holds(on), drawn_holds.running(on)
    at = drawn_waits.rest(on)
    for i, step in enumerate(on.ahead.steps):
        if i in earliest:
            at = _kept_until(on, at, earliest[i], i)
        at = at + between[:, i]
        if step.kind == "labour":
            start = at
            at = start + holds.kept[:, i] + on.open_h[:, i] + inside[:, i]
            _order(holds, i, start, at, earliest)
        elif step.seq not in on.ahead.begun:
            at = _away(on, step, at)
    return at


def _kept_until(on: Scene, at: Floats, ready: Floats, column: int) -> Floats:
    """Nothing goes on before it is ready; whoever waited for that waits for hands too."""
    return np.where(ready > at, ready + drawn_waits.one(on, "after", column), at)


def _order(
    holds: Holds, during: int, start: Floats, end: Floats, earliest: dict[int, Floats]
) -> None:
    """What was found lacking during a phase is there at the earliest so much later."""
    found = np.flatnonzero(holds.during == during)
    if not len(found):
        return
    rows, held = holds.rows[found], holds.held[found]
    ready = start[rows] + holds.share[found] * (end[rows] - start[rows]) + holds.hours[found]
    for column in sorted(set(held.tolist())):
        here = held == column
        known = earliest.setdefault(column, np.zeros(len(start)))
        np.maximum.at(known, rows[here], ready[here])


def _away(on: Scene, step: Step, at: Floats) -> Floats:
    """Hours after a standing, by the wall clock, or an outwork that begins at `at`."""
    z = on.dice.apart("away", step.seq).normal()
    if step.kind == "outwork":
        law = on.learned.away.outwork_law(step, on.reading)
        return at + np.minimum(np.exp(law.centre + law.wide * z), drawn_holds.LONGEST_HOLD_H)
    law = on.learned.away.standing_law(step, on.reading)
    begins = on.hours.when_all(on.reading + at)
    return on.hours.upto_all(begins + np.exp(law.m + law.wide * z) * 3600) - on.reading
