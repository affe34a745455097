"""The forecast rows of a history, in the order in which a replay gives them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal, Protocol

from store.learn.records import Record

Moment = Literal["booked", "started"]


@dataclass(frozen=True, slots=True)
class Row:
    """A forecast: mean and 19 quantiles, hours, never falling."""

    job: str
    phase: str
    seq: int
    moment: Moment
    as_of: float
    mean: float
    quantiles: Sequence[float]


class AnyRow(Protocol):
    """What a learner has to give for each row."""

    @property
    def job(self) -> str: ...
    @property
    def phase(self) -> str: ...
    @property
    def seq(self) -> int: ...
    @property
    def moment(self) -> str: ...
    @property
    def as_of(self) -> float: ...
    @property
    def mean(self) -> float: ...
    @property
    def quantiles(self) -> Sequence[float]: ...


@dataclass(frozen=True, slots=True)
class Slot:
    """A forecast that is asked for.

    Attributes:
        covers: what it is a forecast of; several on a `*` row.
        own: the job's phases closed before; empty at `booked`.
        technician: who is on it; None at `booked`.
    """

    job: str
    phase: str
    seq: int
    moment: Moment
    as_of: float
    covers: tuple[Record, ...]
    own: tuple[Record, ...]
    technician: str | None

    @property
    def book_h(self) -> float:
        return sum(one.book_h for one in self.covers)

    @property
    def actual_h(self) -> float:
        return sum(one.actual_h for one in self.covers)

    def row(self, mean: float, quantiles: Sequence[float]) -> Row:
        return Row(self.job, self.phase, self.seq, self.moment, self.as_of, mean, quantiles)


def jobs_in_order(records: Iterable[Record]) -> list[tuple[Record, ...]]:
    """The phases of each job by seq; jobs by their first start, then by name."""
    by_job = sorted(records, key=lambda one: (one.job, one.seq))
    jobs = [tuple(phases) for _, phases in groupby(by_job, key=lambda one: one.job)]
    return sorted(jobs, key=lambda one: (min(p.started for p in one), one[0].job))


def slots(records: Iterable[Record]) -> Iterator[Slot]:
    """Every row of a scored history: per job `booked` by seq and its total, then `started`."""
    for phases in jobs_in_order(records):
        yield from _booked(phases)
        for i in range(len(phases)):
            yield from _started(phases, i)


def _booked(phases: tuple[Record, ...]) -> Iterator[Slot]:
    first = phases[0]
    for one in phases:
        yield Slot(one.job, one.phase, one.seq, "booked", first.started, (one,), (), None)
    yield Slot(first.job, "*", 0, "booked", first.started, phases, (), None)


def _started(phases: tuple[Record, ...], i: int) -> Iterator[Slot]:
    one = phases[i]
    own = tuple(p for p in phases if p.closed < one.started)
    for name, covers in ((one.phase, (one,)), ("*", phases[i:])):
        yield Slot(one.job, name, one.seq, "started", one.started, covers, own, one.technician)
