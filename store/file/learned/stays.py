"""One way that a job may go, walked: when it ends, and where asked when each phase does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from store.file.learned.branches import Branch
from store.file.learned.kept import Spread
from store.file.learned.needs import WayWalked
from store.file.learned.spreads import LEAST_H, ways_mixed
from store.file.learned.standing import Standing
from store.learn.dates import forecast

if TYPE_CHECKING:
    from store.learn.arrays import Floats
    from store.learn.dates.ahead import Ahead


@dataclass(frozen=True, slots=True)
class Way:
    """One way that a job may go.

    Attributes:
        hours: (draws, phases of labour left) labour still to do.
        seqs: which phases those are.
    """

    branch: Branch
    hours: Floats
    seqs: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Stay:
    """What is left of a job that goes one way; `spread` None: nothing is."""

    spread: Spread | None
    walked: WayWalked


def ended(standing: Standing, ahead: Ahead, way: Way) -> Spread:
    """Return the open hours until it is finished."""
    hours = _columns(ahead, way)
    said = forecast.finish(standing.learned, standing.hours, ahead, hours, standing.now)
    return Spread(said.mean, said.quantiles)


def stay(standing: Standing, ahead: Ahead | None, way: Way, *, phases: bool) -> Stay:
    """Return what is left of it; with every phase's start and end where they are asked."""
    odds = way.branch.odds
    if ahead is None:
        return Stay(None, WayWalked(odds))
    if not phases:
        return Stay(ended(standing, ahead, way), WayWalked(odds))
    hours = _columns(ahead, way)
    one = len(hours) == 1  # no labour is left, so nothing was drawn of it
    many = np.repeat(hours, forecast.DRAWS, axis=0) if one else hours
    found = forecast.walked(standing.learned, standing.hours, ahead, many, standing.now)
    said = found.finish
    spread = ended(standing, ahead, way) if one else Spread(said.mean, said.quantiles)
    seqs = tuple(step.seq for step in ahead.steps)
    return Stay(spread, WayWalked(odds, seqs, found.starts, found.ends, found.shop))


def mixed(stays: Sequence[Stay]) -> Spread | None:
    """Return the ways that a job may go as one; None where nothing is left on any."""
    found = [(one.walked.odds, one.spread) for one in stays if one.spread is not None]
    return ways_mixed(found) if found else None


def _columns(ahead: Ahead, way: Way) -> Floats:
    """(draws, phases of labour ahead) in the order in which they come; 0 for one without hours."""
    place = {seq: n for n, seq in enumerate(way.seqs)}
    nothing = np.full(len(way.hours), LEAST_H)
    columns = [
        way.hours[:, place[step.seq]] if step.seq in place else nothing
        for step in ahead.steps
        if step.kind == "labour"
    ]
    return np.stack(columns, axis=1) if columns else np.zeros((len(way.hours), 0))
