"""Replays a history: what would have been forecast then, knowing only what was known then."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from store.learn.arrays import Floats
from store.learn.dates import replay as dates_replay
from store.learn.dates.spans import Span
from store.learn.labour.ahead import Hours, Ready, draw, phase_hours, total_hours
from store.learn.labour.labour import Labour, in_order
from store.learn.records import AtHand, People, Planned, Record

Moment = Literal["booked", "started"]
Progress = Callable[[int, int], None]
"""Called with how many moments are done, of how many."""


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


@dataclass(frozen=True, slots=True)
class Asked:
    """One moment of the replay: a job's phases still to do, and those that had been finished."""

    records: tuple[Record, ...]
    moment: Moment
    as_of: float
    own: tuple[Record, ...]


def hours(
    records: Sequence[Record], people: People | None = None, progress: Progress | None = None
) -> Iterator[Scored]:
    """Replay the hours of a history.

    Every forecast uses only phases that were closed strictly before its moment. Jobs come in the
    order of their first start, then of their names; within a job the forecasts at booking by seq,
    the total last, then those at the starts by seq, each followed by all that was left.

    Args:
        records: in any order.
        people: who was employed when, where that is known.
    """
    feed = Feed(records, people or People())
    jobs = jobs_in_order(records)
    waiting: dict[str, list[Scored]] = defaultdict(list)
    left = {job: 1 + len(phases) for job, phases in jobs.items()}
    queue = iter(jobs)
    upcoming = next(queue, None)
    every = moments(jobs)
    for done, asked in enumerate(every, 1):
        job = asked.records[0].job
        known = feed.ready(asked)
        waiting[job] += scores(asked, known, draw(known))
        left[job] -= 1
        while upcoming is not None and left[upcoming] == 0:
            yield from sorted(waiting.pop(upcoming), key=_place)
            upcoming = next(queue, None)
        if progress is not None:
            progress(done, len(every))


def dates(
    records: Sequence[Record],
    spans: Sequence[Span],
    open_spans: Sequence[tuple[float, float]],
    people: People | None = None,
    progress: Progress | None = None,
) -> list[dates_replay.Row]:
    """Replay the dates of a history; see `both`."""
    return both(records, spans, open_spans, people, progress)[1]


def both(
    records: Sequence[Record],
    spans: Sequence[Span],
    open_spans: Sequence[tuple[float, float]],
    people: People | None = None,
    progress: Progress | None = None,
) -> tuple[list[Scored], list[dates_replay.Row]]:
    """Replay hours and dates of a history in one go, in the order that `hours` gives.

    The dates' draws of labour are those of the hours.
    """
    jobs = jobs_in_order(records)
    every = {(one.records[0].job, one.moment, one.records[0].seq): one for one in moments(jobs)}
    feed = Feed(records, people or People())
    found: list[Scored] = []
    total = len(every)

    def labour(moment: dates_replay.Moment) -> Floats:
        seq = moment.seq or jobs[moment.job][0].seq
        asked = every[(moment.job, moment.moment, seq)]
        known = feed.ready(asked)
        drawn = draw(known)
        found.extend(scores(asked, known, drawn))
        if progress is not None:
            progress(feed.asked, total)
        place = {one.seq: index for index, one in enumerate(asked.records)}
        if all(one in place for one in moment.left):
            return drawn[:, [place[one] for one in moment.left]]
        return draw(feed.ready(_only(asked, jobs[moment.job], moment.left)))

    rows = list(dates_replay.replay(records, spans, open_spans, labour))
    rank = {job: index for index, job in enumerate(jobs)}
    found.sort(key=lambda one: (rank[one.job], *_place(one)))
    rows.sort(key=lambda one: (rank[one.job], one.moment, one.seq))
    return found, rows


def _only(asked: Asked, phases: Iterable[Record], left: Sequence[int]) -> Asked:
    """The same moment, asked of other phases: some begin out of their order."""
    by = {one.seq: one for one in phases}
    return Asked(tuple(by[seq] for seq in left), asked.moment, asked.as_of, asked.own)


def jobs_in_order(records: Sequence[Record]) -> dict[str, list[Record]]:
    """Return each job's phases by seq; jobs by their first start, then by name."""
    jobs: dict[str, list[Record]] = defaultdict(list)
    for one in records:
        jobs[one.job].append(one)
    for phases in jobs.values():
        phases.sort(key=lambda one: one.seq)
    order = sorted(jobs, key=lambda job: (min(one.started for one in jobs[job]), job))
    return {job: jobs[job] for job in order}


def moments(jobs: dict[str, list[Record]]) -> list[Asked]:
    """Return every moment of the replay in the order of time."""
    found: list[tuple[float, int, int, Asked]] = []
    for number, phases in enumerate(jobs.values()):
        first = min(one.started for one in phases)
        found.append((first, number, 0, Asked(tuple(phases), "booked", first, ())))
        for index, one in enumerate(phases):
            own = tuple(
                other for other in phases if other.closed < one.started and other.seq != one.seq
            )
            asked = Asked(tuple(phases[index:]), "started", one.started, own)
            found.append((one.started, number, index + 1, asked))
    return [one[3] for one in sorted(found, key=lambda one: one[:3])]


@dataclass(slots=True)
class Feed:
    """Lets the learner see what was closed before a moment, and asks it. Moments in order."""

    records: Sequence[Record]
    people: People
    labour: Labour = field(init=False)
    asked: int = 0
    _closing: list[Record] = field(init=False)
    _at: int = 0

    def __post_init__(self) -> None:
        self.labour = Labour(self.people)
        self._closing = in_order(self.records)

    def ready(self, asked: Asked) -> Ready:
        """Gather what a moment's phases hang on."""
        self.asked += 1
        while self._at < len(self._closing) and self._closing[self._at].closed < asked.as_of:
            self.labour.add(self._closing[self._at])
            self._at += 1
        self.labour.keep_up(asked.as_of)
        return self.labour.ready(*at_hand(asked, self.people))


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


def scores(asked: Asked, known: Ready, drawn: Floats) -> Iterator[Scored]:
    """Yield what was said at a moment beside what came."""
    first = asked.records[0]
    whole = total_hours(known, drawn)
    if asked.moment == "booked":
        for record, said in zip(asked.records, phase_hours(known), strict=True):
            yield _scored(asked, record, said)
        yield _whole(asked, 0, whole)
    else:
        yield _scored(asked, first, phase_hours(known, slice(0, 1))[0])
        yield _whole(asked, first.seq, whole)


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
