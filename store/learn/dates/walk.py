"""A stay walked from now to its end, in many draws at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates import drawn_holds, drawn_waits
from store.learn.dates.drawn_holds import Holds
from store.learn.dates.route import Step
from store.learn.dates.scene import Scene

FOR_TOOL = "tool"
"""Reason of a hold that ends when a tool comes."""


@dataclass(frozen=True, slots=True)
class Phases:
    """When each phase ahead begins and ends: (draws, phases) open hours from now.

    Attributes:
        starts: when somebody is there to begin it and nothing holds it but a tool that lacks; 0 or
            more also for one that is under way.
        ends: never before its start, nor before the end of the phase ahead of it.
    """

    starts: Floats
    ends: Floats


@dataclass(frozen=True, slots=True)
class _Leg:
    """One phase of the walk: (draws,) open hours from now.

    Attributes:
        reached: when what comes before it is finished.
        start, end: `start` with what held it from before and a wait for hands behind it.
    """

    column: int
    reached: Floats
    start: Floats
    end: Floats


def hours_left(on: Scene) -> Floats:
    """(draws,) open hours from now until the last phase is finished."""
    *_, last = _legs(on, drawn_holds.holds(on))
    return last.end


def phases(on: Scene) -> Phases:
    """Walk the same stay with the same dice, and note down every phase."""
    holds = drawn_holds.holds(on)
    before = drawn_holds.before(on, holds)
    lacking = {one.seq for one in on.ahead.running if one.kind == "held" and one.reason == FOR_TOOL}
    starts, ends = np.empty(on.shape), np.empty(on.shape)
    for leg in _legs(on, holds):
        i = leg.column
        wanted = leg.reached if on.ahead.steps[i].seq in lacking else leg.start + before[:, i]
        ends[:, i] = leg.end
        starts[:, i] = np.minimum(wanted, leg.end)
    return Phases(starts, ends)


def _legs(on: Scene, holds: Holds) -> Iterator[_Leg]:
    inside, between = drawn_waits.inside(on), drawn_waits.between(on)
    earliest = drawn_holds.running(on)
    at = drawn_waits.rest(on)
    for i, step in enumerate(on.ahead.steps):
        reached = at
        if i in earliest:
            at = _kept_until(on, at, earliest[i], i)
        at = at + between[:, i]
        start = at
        if step.kind == "labour":
            at = start + holds.kept[:, i] + on.open_h[:, i] + inside[:, i]
            _order(holds, i, start, at, earliest)
        elif step.seq not in on.ahead.begun:
            at = _away(on, step, at)
        yield _Leg(i, reached, start, at)


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
