"""Replays a history: what would have been forecast then, knowing only what was known then."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from typing import Literal

from store.learn.labour.ahead import Hours, Ready, phase_hours, ready, total_hours
from store.learn.labour.crew import Crew
from store.learn.labour.gathered import facts_of
from store.learn.labour.learner import Learner
from store.learn.records import AtHand, People, Planned, Record

Moment = Literal["booked", "started"]
Progress = Callable[[int, int], None]
EACH_UP_TO = 300
"""Records up to which every new one is worth a fit of its own."""
SHARE_NEW, SHARE_NEW_LATE = 0.005, 0.015
LATE_FROM = 2500


@dataclass(frozen=True, slots=True)
class Scored:
    """One forecast and what came of it. `phase` '*' is the sum from `seq` on; hours of labour."""

    job: str
    template: str
    variant: str
    phase: str
    seq: int
    moment: Moment
    as_of: float
    book_hours: float
    actual_hours: float
    mean: float
    quantiles: tuple[float, ...]


@dataclass(slots=True)
class Labour:
    """The learner and what goes with it, fed in the order of closing."""

    people: People = field(default_factory=People)
    learner: Learner = field(init=False)
    crew: Crew = field(default_factory=Crew)

    def __post_init__(self) -> None:
        self.learner = Learner(self.people.experience)

    def add(self, record: Record) -> None:
        """Take in a finished phase."""
        self.learner.add(record)
        self.crew.learn(record, self.learner.past.seen.owners(facts_of(record)))

    def keep_up(self, at: float) -> None:
        """Fit anew where enough was finished since the last fit."""
        rows = self.learner.past.rows
        new = rows - self.learner.fitted_rows
        share = SHARE_NEW if rows < LATE_FROM else SHARE_NEW_LATE
        if new and (rows <= EACH_UP_TO or new >= share * rows):
            self.learner.refit(at)

    def ready(self, job: AtHand, phases: Sequence[Planned]) -> Ready:
        """Gather what a job's phases hang on."""
        return ready(self.learner, self.crew, job, phases)


@dataclass(frozen=True, slots=True)
class Asked:
    """One moment of the replay: a job, its phases still to do, what had been finished."""

    records: tuple[Record, ...]
    moment: Moment
    as_of: float
    own: tuple[Record, ...]


def hours(
    records: Sequence[Record], people: People | None = None, progress: Progress | None = None
) -> Iterator[Scored]:
    """Replay the hours of a history.

    Every forecast uses only phases that were closed strictly before its moment. Jobs come in the
    order of their first start, then of their names; within a job as contract of `scored.csv` says.

    Args:
        records: in any order.
        people: who was employed when, where that is known.
        progress: called with how many moments are done, of how many.
    """
    known = people or People()
    waiting: dict[str, list[Scored]] = defaultdict(list)
    order = jobs_in_order(records)
    left = {job: 1 + len(phases) for job, phases in order.items()}
    queue = iter(order)
    upcoming = next(queue, None)
    for done, (asked, labour) in enumerate(moments(records, known), 1):
        job = asked.records[0].job
        waiting[job] += _score(labour, asked, known)
        left[job] -= 1
        while upcoming is not None and left[upcoming] == 0:
            yield from sorted(waiting.pop(upcoming), key=_place)
            upcoming = next(queue, None)
        if progress is not None:
            progress(done, len(records) + len(order))


def jobs_in_order(records: Sequence[Record]) -> dict[str, list[Record]]:
    """Return each job's phases by seq; jobs by their first start, then by name."""
    jobs: dict[str, list[Record]] = defaultdict(list)
    for one in records:
        jobs[one.job].append(one)
    for phases in jobs.values():
        phases.sort(key=lambda one: one.seq)
    order = sorted(jobs, key=lambda job: (min(one.started for one in jobs[job]), job))
    return {job: jobs[job] for job in order}


def moments(records: Sequence[Record], people: People) -> Iterator[tuple[Asked, Labour]]:
    """Yield every moment of the replay in the order of time, with what was learned by then."""
    labour = Labour(people)
    closing = sorted(records, key=lambda one: (one.closed, one.job, one.seq))
    at = 0
    for asked in _asked(jobs_in_order(records)):
        while at < len(closing) and closing[at].closed < asked.as_of:
            labour.add(closing[at])
            at += 1
        labour.keep_up(asked.as_of)
        yield asked, labour


def _asked(jobs: dict[str, list[Record]]) -> Iterator[Asked]:
    heap: list[tuple[float, int, int, Asked]] = []
    for number, phases in enumerate(jobs.values()):
        first = phases[0].started
        heappush(heap, (first, number, 0, Asked(tuple(phases), "booked", first, ())))
        for index, one in enumerate(phases):
            own = tuple(
                other for other in phases if other.closed < one.started and other.seq != one.seq
            )
            asked = Asked(tuple(phases[index:]), "started", one.started, own)
            heappush(heap, (one.started, number, index + 1, asked))
    while heap:
        yield heappop(heap)[3]


def at_hand(asked: Asked, people: People) -> tuple[AtHand, list[Planned]]:
    """Return the job as it was known at the moment, and its phases still to do."""
    first = asked.records[0]
    who = first.technician if asked.moment == "started" else None
    employed = employed_at(people, asked.as_of)
    job = AtHand(
        first.job, first.template, first.variant, asked.as_of, first.grade, asked.own, employed
    )
    phases = [
        Planned(one.phase, one.seq, one.book_h, one.phase_class, one.serves, who)
        for one in asked.records
    ]
    return job, phases


def employed_at(people: People, at: float) -> frozenset[str] | None:
    """Return who was employed at an instant; None where nobody says."""
    if not people.employed:
        return None
    return frozenset(
        badge
        for badge, spans in people.employed.items()
        if any(since <= at and (until is None or at < until) for since, until in spans)
    )


def _score(labour: Labour, asked: Asked, people: People) -> Iterator[Scored]:
    job, phases = at_hand(asked, people)
    known = labour.ready(job, phases)
    if asked.moment == "booked":
        for record, said in zip(asked.records, phase_hours(known), strict=True):
            yield _scored(asked, record, said)
        yield _whole(asked, 0, total_hours(known))
    else:
        first = asked.records[0]
        yield _scored(asked, first, phase_hours(known, slice(0, 1))[0])
        yield _whole(asked, first.seq, total_hours(known))


def _scored(asked: Asked, record: Record, said: Hours) -> Scored:
    return Scored(
        record.job, record.template, record.variant, record.phase, record.seq, asked.moment,
        asked.as_of, record.book_h, record.actual_h, said.mean, said.quantiles,
    )  # fmt: skip


def _whole(asked: Asked, seq: int, said: Hours) -> Scored:
    first = asked.records[0]
    return Scored(
        first.job, first.template, first.variant, "*", seq, asked.moment, asked.as_of,
        sum(one.book_h for one in asked.records), sum(one.actual_h for one in asked.records),
        said.mean, said.quantiles,
    )  # fmt: skip


def _place(one: Scored) -> tuple[bool, float, bool]:
    if one.moment == "booked":
        return (False, one.seq if one.phase != "*" else float("inf"), one.phase == "*")
    return (True, one.seq, one.phase == "*")
