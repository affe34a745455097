"""Waits for a pair of hands, drawn."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.dates.dice import scattered
from store.learn.dates.route import Step
from store.learn.dates.scene import Scene
from store.learn.dates.seen import WaitKind
from store.learn.dates.stay import NO_WAIT_H
from store.learn.dates.waits import LENGTH_WORTH, LOG_SD, USUAL

AGAIN_SD = 0.15
"""Log standard deviation around a wait that is drawn again."""


def lengths(on: Scene, kind: WaitKind, count: int, rng: np.random.Generator) -> Floats:
    """(count,) open hours of waits of a kind, before any factor.

    One of those seen, a little longer or shorter, or now and then one as the trade has them.
    """
    last_h, longest_h = on.learned.waits.kinds[kind].last_h, on.learned.waits.longest_h
    known = np.log([*last_h, USUAL[kind].middle_h])
    pick = (rng.random(count) * (len(last_h) + LENGTH_WORTH)).astype(np.int64)
    usual = pick >= len(last_h)
    spread = np.where(usual, LOG_SD, AGAIN_SD)
    drawn = np.exp(known[np.minimum(pick, len(last_h))] + spread * rng.standard_normal(count))
    return np.minimum(drawn, longest_h)


def inside(on: Scene) -> Floats:
    """(draws, phases) open hours of waits inside each phase."""
    rng = on.dice.apart("inside").rng
    waits = rng.poisson(on.pace.inside * on.open_h)
    cells = np.repeat(np.arange(waits.size), waits.ravel())
    return scattered(cells, lengths(on, "inside", len(cells), rng), on.shape) * on.slow


def between(on: Scene) -> Floats:
    """(draws, phases) open hours of the wait before each phase but the first."""
    table, rng = np.zeros(on.shape), on.dice.apart("between").rng
    kinds = _kinds(on.ahead.steps)
    chances = [0.0 if kind is None else on.pace.chance[kind] for kind in kinds]
    hits = rng.random(on.shape) < chances
    for kind in dict.fromkeys(kinds):
        if kind is not None:
            here = hits & [one == kind for one in kinds]
            table[here] = lengths(on, kind, int(np.count_nonzero(here)), rng)
    return table * on.slow


def _kinds(steps: Sequence[Step]) -> list[WaitKind | None]:
    """Which kind of wait there may be before each phase."""
    found: list[WaitKind | None] = [None]
    for step, last in zip(steps[1:], steps, strict=False):
        if step.kind != "labour":
            found.append("leaving")
        else:
            found.append("between" if last.kind == "labour" else "after")
    return found


def one(on: Scene, kind: WaitKind, column: int = 0) -> Floats:
    """(draws,) open hours of one occasion to wait, before one phase: none, or a wait."""
    dice = on.dice.apart(kind, on.ahead.steps[column].seq)
    waits = dice.even() < on.pace.chance[kind]
    return np.where(waits, lengths(on, kind, len(waits), dice.rng) * on.slow[:, column], 0.0)


def after(on: Scene, rows: Ints, columns: Ints, rng: np.random.Generator) -> Floats:
    """(k,) open hours of waits, or none, after something that kept the job in draws `rows`."""
    hits = np.flatnonzero(rng.random(len(rows)) < on.pace.chance["after"])
    factor = on.slow[rows, columns]
    hours = np.zeros(len(rows))
    hours[hits] = lengths(on, "after", len(hits), rng) * factor[hits]
    return hours


def rest(on: Scene) -> Floats:
    """(draws,) open hours that the wait under way still takes: one of those longer than so far."""
    so_far, kind = on.ahead.waiting_h, on.ahead.waiting
    if so_far is None:
        return np.zeros(on.shape[0])
    if so_far <= NO_WAIT_H and kind != "inside":
        return one(on, kind)
    dice = on.dice.apart("rest", on.ahead.steps[0].seq)
    if so_far <= NO_WAIT_H:
        return lengths(on, kind, on.shape[0], dice.rng) * on.slow[:, 0]
    many = 8 * on.shape[0]
    drawn = lengths(on, kind, many, dice.rng) * np.tile(on.slow[:, 0], 8)
    longer = drawn[drawn > so_far] - so_far
    if len(longer) < on.shape[0] // 10:
        return -np.log(dice.even()) * so_far / 2
    ranks = np.sort(longer)
    return ranks[(dice.even() * len(ranks)).astype(np.int64)]
