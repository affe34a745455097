"""Replays a history: which dates would have been forecast then, knowing what was known then."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from store.learn.arrays import Floats
from store.learn.dates.events import events
from store.learn.dates.forecast import Finish, finish
from store.learn.dates.learned import Learned
from store.learn.dates.plan import Plan
from store.learn.dates.shop import Floor, Job
from store.learn.dates.spans import OpenHours, Span
from store.learn.dates.stay import Stay
from store.learn.records import Record

MomentKind = Literal["booked", "started"]


@dataclass(frozen=True, slots=True)
class Moment:
    """When a forecast is made, and of what.

    Attributes:
        seq: the phase that begins now; 0 at `booked`.
        as_of: POSIX seconds; what is known is what happened before.
        left: `seq` of the job's phases of labour still to do, in the order in which draws are
            wanted.
    """

    job: str
    moment: MomentKind
    seq: int
    as_of: float
    left: tuple[int, ...]


Draws = Callable[[Moment], Floats]
"""(draws, phases left) labour hours of the phases left, drawn together, from before the moment."""


@dataclass(frozen=True, slots=True)
class Row:
    """A forecast and what came of it: open hours from `as_of` until the last phase is finished.

    Attributes:
        naive: mean labour hours still to do, as if somebody were on the job in all open hours.
    """

    job: str
    seq: int
    moment: MomentKind
    as_of: float
    open_hours: float
    mean: float
    quantiles: tuple[float, ...]
    naive: float


def replay(
    records: Sequence[Record],
    spans: Sequence[Span],
    open_spans: Sequence[tuple[float, float]],
    draws: Draws,
) -> Iterator[Row]:
    """Forecast every job when it is booked and whenever a phase of it is started.

    Rows come in the order of time; of one instant, by job, `booked` first, then by `seq`.

    Args:
        records, spans: in any order.
        open_spans: POSIX seconds.
    """
    hours = OpenHours(open_spans)
    plans = plans_of(records, spans)
    told = [one for one in spans if one.job in plans]
    happened = iter(events(records, told, hours))
    replayed = _Replayed(Floor(hours, Learned(), plans))
    upcoming = next(happened, None)
    for as_of, job, seq, kind in _moments(records):
        while upcoming is not None and upcoming.at < as_of:
            replayed.floor.take(upcoming)
            replayed.judge(upcoming.job, hours.upto(upcoming.at))
            upcoming = next(happened, None)
        yield replayed.row(job, kind, seq, as_of, draws)


@dataclass(slots=True)
class _Replayed:
    """The floor so far, and the ranges that wait for their jobs' ends."""

    floor: Floor
    waiting: dict[str, list[Finish]] = field(default_factory=lambda: defaultdict(list))

    def row(self, job: str, kind: MomentKind, seq: int, as_of: float, draws: Draws) -> Row:
        floor, plan = self.floor, self.floor.plans[job]
        known = floor.job(job)
        if kind == "booked":
            known = Job(Stay(job, known.stay.route, floor.hours))
        blocks = floor.learned.away.blocks()
        ahead = known.ahead(seq, floor.hours.upto(as_of), known.left_from(seq, blocks))
        left = tuple(step.seq for step in ahead.steps if step.kind == "labour")
        labour = draws(Moment(job, kind, 0 if kind == "booked" else seq, as_of, left))
        said = finish(floor.learned, floor.hours, ahead, labour, as_of)
        self.waiting[job].append(said)
        return Row(
            job, 0 if kind == "booked" else seq, kind, as_of,
            floor.hours.between(as_of, plan.ends), said.mean, said.quantiles,
            float(labour.sum(axis=1).mean()),
        )  # fmt: skip

    def judge(self, job: str, reading: float) -> None:
        """Hold a finished job's ranges against what came, if anybody was seen at work on it."""
        known = self.floor.jobs[job]
        if known.stay.remaining or not known.own:
            return
        for said in self.waiting.pop(job, ()):
            self.floor.learned.ranges.learn(
                said.quantiles[1], said.quantiles[17], reading - said.reading
            )


def plans_of(records: Sequence[Record], spans: Sequence[Span]) -> Mapping[str, Plan]:
    """Every job's route, as it was in the end."""
    phases: dict[str, list[Record]] = defaultdict(list)
    away: dict[str, list[Span]] = defaultdict(list)
    for record in records:
        phases[record.job].append(record)
    for span in spans:
        if span.kind in {"standing", "outwork"}:
            away[span.job].append(span)
    return {job: Plan.of(of_job, away.get(job, ())) for job, of_job in phases.items()}


def _moments(records: Sequence[Record]) -> list[tuple[float, str, int, MomentKind]]:
    """As of when, which job, which phase begins, sorted; a booking has the phase begun first."""
    found: list[tuple[float, str, int, MomentKind]] = []
    first: dict[str, tuple[float, int]] = {}
    for one in records:
        found.append((one.started, one.job, one.seq, "started"))
        here = (one.started, one.seq)
        first[one.job] = min(here, first.get(one.job, here))
    for job, (at, seq) in first.items():
        found.append((at, job, seq, "booked"))
    return sorted(found, key=lambda one: (one[0], one[1], one[3], one[2]))
