"""Jobs of an owner's month as their price is reckoned, and those that are not billed yet."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text, to_text
from store.file.month.clocks import Rates, clocks_of
from store.file.month.facts import Facts
from store.sums.job_money import beside_labour
from store.sums.month.hours import ClockIn
from store.sums.month.jobs import JobJudged
from store.sums.month.sold import Paid
from store.sums.month.span import MonthSpan
from store.sums.working_time import Calendar

CLOSED = (
    "select job, ceiling, fault, pays, "
    "(select coalesce(sum(price), 0) from part where part.job = job.job "
    "and part.state in ('here', 'fitted')) + "
    "(select coalesce(sum(coalesce(charged, price)), 0) from outwork where outwork.job = job.job "
    "and back_at is not null) as bought, "
    "(select coalesce(sum(hours), 0) from finding where finding.job = job.job "
    "and kind = 'surprise' and not withdrawn and not exists (select 1 from supplement where "
    "supplement.job = finding.job and finding = finding.seq and state = 'approved')) as extra_h "
    "from job left join comeback using (job) "
    "where job.state = 'closed' and closed_at >= ? and closed_at < ?"
)
APPROVED = (
    "select job, money, hours, asked_at from supplement join job using (job) "
    "where job.state = 'closed' and closed_at >= ? and closed_at < ? "
    "and supplement.state = 'approved'"
)
CHECKS = (
    "select job, at, basis, content ->> '$.total.quantiles[9]' as middle_h from estimate "
    "where more ->> '$.check' order by seq"
)
LIVE = (
    "select job, work from job where opened_at < ?1 and (closed_at is null or closed_at >= ?1) "
    "order by number"
)


@dataclass(frozen=True, slots=True)
class PaidJob:
    """A job whose work is over.

    Attributes:
        clocks: of lead and helpers, whenever they were.
        at: when it was over.
        seq: of the entry that says so, where the caller does not know better.
    """

    job: str
    work: str
    at: datetime
    paid: Paid
    clocks: tuple[ClockIn, ...]
    seq: int | None = None


def closed_in(
    db: sqlite3.Connection,
    facts: Facts,
    span: MonthSpan,
    calendar: Calendar,
    rates: Rates,
    now: datetime,
) -> Iterator[PaidJob]:
    """Yield the jobs closed in a month, as their price is reckoned."""
    values = [to_text(span.since), to_text(span.until)]
    rows = {row["job"]: row for row in db.execute(CLOSED, values)}
    extras: dict[str, list[tuple[float | None, float, float | None]]] = defaultdict(list)
    for row in db.execute(APPROVED, values):
        asked = rates.on(calendar.day_of(from_text(row["asked_at"])))
        extras[row["job"]].append((row["money"], row["hours"], asked))
    clocks = by_job(clocks_of(db, calendar, list(rows), span.until, now))
    for one in facts.jobs_of(span):
        row = rows[one.job]
        beside = row["bought"] + beside_labour(extras[one.job])
        yield _closed(one, row, beside, clocks.get(one.job, []), calendar, rates)


def _closed(
    one: JobJudged,
    row: sqlite3.Row,
    beside: float,
    clocks: list[ClockIn],
    calendar: Calendar,
    rates: Rates,
) -> PaidJob:
    agreed = [
        (change.added_h, rates.on(calendar.day_of(change.at)))
        for at, change in enumerate(one.changes)
        if at == 0 or change.cause == "supplement"
    ]
    paid = Paid(
        one.basis, sum(each.whole_h for each in clocks), _worked(clocks, rates),
        sum(hours for hours, _ in agreed), _money(agreed), row["extra_h"], max(0.0, one.route_h),
        row["ceiling"], beside, row["pays"], row["fault"] == "ours",
    )  # fmt: skip
    return PaidJob(one.job, one.work, one.closed_at, paid, tuple(clocks))


def declined_in(
    db: sqlite3.Connection,
    gone: Mapping[str, tuple[datetime, int]],
    span: MonthSpan,
    calendar: Calendar,
    rates: Rates,
    now: datetime,
) -> Iterator[PaidJob]:
    """Yield the jobs that came to nothing in a month though somebody had worked on them.

    Where the check had been sold it is paid as it was agreed.
    """
    jobs = {job for job, (at, _) in gone.items() if span.holds(at)}
    if not jobs:
        return
    checks = {row["job"]: row for row in db.execute(CHECKS) if row["job"] in jobs}
    works = {row[0]: row[1] for row in db.execute("select job, work from job")}
    for job, clocks in by_job(clocks_of(db, calendar, jobs, span.until, now)).items():
        at, seq = gone[job]
        check = checks.get(job)
        agreed = 0.0 if check is None else float(check["middle_h"])
        rate = None if check is None else rates.on(calendar.day_of(from_text(check["at"])))
        paid = Paid(
            None if check is None else check["basis"], sum(one.whole_h for one in clocks),
            _worked(clocks, rates), agreed, None if rate is None else rate * agreed, declined=True,
        )  # fmt: skip
        yield PaidJob(job, works[job], at, paid, tuple(clocks), seq)


@dataclass(frozen=True, slots=True)
class LiveJob:
    """A job that was not over at a month's end, with what was clocked on it until then."""

    job: str
    work: str
    clocks: tuple[ClockIn, ...]


def live_at(
    db: sqlite3.Connection,
    gone: Mapping[str, tuple[datetime, int]],
    span: MonthSpan,
    calendar: Calendar,
    now: datetime,
) -> list[LiveJob]:
    """Return the jobs that were neither closed nor declined when a month ended."""
    rows = [
        (row[0], row[1])
        for row in db.execute(LIVE, [to_text(span.until)])
        if row[0] not in gone or gone[row[0]][0] >= span.until
    ]
    clocks = by_job(clocks_of(db, calendar, [job for job, _ in rows], span.until, now))
    return [LiveJob(job, work, tuple(clocks.get(job, ()))) for job, work in rows]


def by_job(clocks: list[ClockIn]) -> dict[str, list[ClockIn]]:
    """Return the labour of lead and helpers by job."""
    found: dict[str, list[ClockIn]] = defaultdict(list)
    for one in clocks:
        if one.labour and one.job is not None:
            found[one.job].append(one)
    return dict(found)


def _worked(clocks: Iterable[ClockIn], rates: Rates) -> float | None:
    return _money((one.whole_h, rates.on(one.day)) for one in clocks)


def _money(worked: Iterable[tuple[float, float | None]]) -> float | None:
    """Hours x rate, summed; None where a day of them has no rate."""
    total = 0.0
    for hours, rate in worked:
        if rate is None:
            return None
        total += hours * rate
    return total
