"""What belongs to the shop's past beside its hours: clocks, holds, standing times, people."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime

from store.edges.instants import from_text
from store.file.facts import CHECKED_UNTIL, calendar_of, day_bounds
from store.learn.dates.spans import Span
from store.learn.records import People
from store.sums.working_time import Calendar

CLOSED = "not small and job.not_teaching is null and job.state = 'closed'"
RUNNING = (
    "not small and job.not_teaching is null and job.state in "
    "('booked', 'arrived', 'quoted', 'waiting', 'on-lift', 'off-lift', 'finished', 'closed')"
)
"""Jobs that teach; the second with those that still go on."""

PHASE = (
    "select job, phase, phase.kind, phase.state, begun_at, phase.finished_at, number, "
    "row_number() over (partition by job order by position) as seq from phase "
    "join job using (job) where {} order by number, seq"
)
CLOCK = (
    "select clock.job, clock.phase, badge, clock.since, clock.until from clock "
    "join person using (person) join job using (job) where part != 'learner' "
    f"and clock.since >= coalesce({CHECKED_UNTIL}, '') and {{}}"
)
HOLD = (
    "select hold.job, hold.phase, hold.reason, hold.since, hold.until, "
    "case when hold.until is null then hold.expected_now else hold.expected end "
    "from hold join job using (job) "
    f"where coalesce(hold.until, '9') > coalesce({CHECKED_UNTIL}, '') and {{}}"
)
"""The end as it was said at first; of a hold that goes on as it was said last."""
FIRM = (
    "select outwork.job, outwork.phase, firm, case when back_at is null and "
    "phase.finished_at is null then promised_now else promised end as promised "
    "from outwork join phase using (job, phase) join job using (job) "
    "where sent_at >= begun_at and {} order by outwork.seq"
)
"""Where the work of a phase went, and what the firm said likewise; its last row counts."""


def spans(db: sqlite3.Connection, *, running: bool = False) -> list[Span]:
    """Return the clocks, holds, standing and outwork of what teaches, job by job, as they began.

    A hold of the whole job belongs to the phase under way then, else to the next that began, else
    to the next to come.

    Args:
        running: also of jobs that still go on.
    """
    return _spans(db, RUNNING if running else CLOSED, ())


def own_spans(db: sqlite3.Connection, jobs: Sequence[str]) -> list[Span]:
    """Return the same of some jobs, whether they teach or not."""
    return _spans(db, f"job.job in ({', '.join('?' * len(jobs))})", jobs)


def _spans(db: sqlite3.Connection, where: str, values: Sequence[str]) -> list[Span]:
    jobs: dict[str, list[sqlite3.Row]] = defaultdict(list)
    for row in db.execute(PHASE.format(where), list(values)):
        jobs[row["job"]].append(row)
    order = {job: at for at, job in enumerate(jobs)}
    clocks = db.execute(CLOCK.format(where), list(values))
    holds = db.execute(HOLD.format(where), list(values))
    firms = {
        (row["job"], row["phase"]): (row["firm"], row["promised"])
        for row in db.execute(FIRM.format(where), list(values))
    }
    found = [*_clocks(clocks, jobs), *_holds(holds, jobs), *_without_labour(jobs, firms)]
    return sorted(found, key=lambda one: (order[one.job], one.started, one.seq, one.kind))


def _clocks(clocks: Iterable[sqlite3.Row], jobs: Mapping[str, list[sqlite3.Row]]) -> Iterator[Span]:
    seqs = {(job, row["phase"]): row["seq"] for job, rows in jobs.items() for row in rows}
    for job, phase, badge, since, until in clocks:
        yield Span(job, seqs[job, phase], "labour", "", badge, _at(since), _maybe(until))


def _holds(holds: Iterable[sqlite3.Row], jobs: Mapping[str, list[sqlite3.Row]]) -> Iterator[Span]:
    for job, phase, reason, since, until, expected in holds:
        seq = _held_seq(jobs[job], phase, since)
        yield Span(job, seq, "held", reason, "", _at(since), _maybe(until), _maybe(expected))


def _held_seq(phases: Sequence[sqlite3.Row], phase: str | None, since: str) -> int:
    if phase is not None:
        return int(next(row["seq"] for row in phases if row["phase"] == phase))
    begun = [row for row in phases if row["begun_at"] is not None]
    under_way = [
        row for row in begun if row["begun_at"] <= since and (row["finished_at"] or since) >= since
    ]
    later = [row for row in begun if row["begun_at"] > since]
    going = [row for row in phases if row["state"] in ("to come", "under way")]
    if under_way:
        return int(under_way[-1]["seq"])
    return int((later or going or begun[-1:] or phases)[0]["seq"])


def _without_labour(
    jobs: Mapping[str, list[sqlite3.Row]], firms: Mapping[tuple[str, str], tuple[str, str | None]]
) -> Iterator[Span]:
    for job, rows in jobs.items():
        for row in rows:
            if row["kind"] != "labour" and row["begun_at"] and row["state"] != "skipped":
                firm, promised = firms.get((job, row["phase"]), ("", None))
                yield Span(
                    job, row["seq"], row["kind"], firm, "", _at(row["begun_at"]),
                    _maybe(row["finished_at"]), _maybe(promised),
                )  # fmt: skip


def people(db: sqlite3.Connection) -> People:
    """Return who works or worked here, whole local days, and how experienced they are."""
    zone = calendar_of(db).zone
    employed: dict[str, tuple[tuple[float, float | None], ...]] = {}
    experience: dict[str, str] = {}
    for badge, since, until, experienced in db.execute(
        "select badge, from_day, until_day, experience from person order by badge"
    ):
        start = day_bounds(date.fromisoformat(since), zone)[0].timestamp()
        end = day_bounds(date.fromisoformat(until), zone)[1].timestamp() if until else None
        employed[badge] = ((start, end),)
        experience[badge] = experienced
    return People(employed, experience)


def open_spans(calendar: Calendar, first: float, last: float) -> list[tuple[float, float]]:
    """Return when the shop is open between two instants, breaks cut out; all in POSIX seconds."""
    since, until = datetime.fromtimestamp(first, UTC), datetime.fromtimestamp(last, UTC)
    return [
        (start.timestamp(), end.timestamp()) for start, end in calendar.open_spans(since, until)
    ]


def _at(text: str) -> float:
    return from_text(text).timestamp()


def _maybe(text: str | None) -> float | None:
    return None if text is None else _at(text)
