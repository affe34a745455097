"""Hired kits of an owner's month: what they came to, and the days on which they were in use."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.kits.now import fixed_until
from store.file.kits.terms import terms_of
from store.sums.clock_labour import counts_to
from store.sums.hires.charge import charge
from store.sums.hires.days import ShopDays
from store.sums.hires.terms import Terms
from store.sums.month.hires import HireDays
from store.sums.month.span import MonthSpan
from store.sums.working_time import Calendar

HIRES = (
    "select hire.*, coalesce(kit.name, hire.kit) as name from hire left join kit "
    "on kit.code = hire.kit left join job using (job) where received_at is not null "
    "and received_at < ?1 and (sent_at is null or sent_at >= ?2 or deposit_at is null "
    "or deposit_at >= ?1 or (hire.job is not null and (closed_at is null or closed_at >= ?1))) "
    "order by received_at"
)
"""Those that were here in a month, whose deposit was not back, or whose job was not closed."""
ENTRIES = (
    "select payload ->> '$.hire', seq from ledger where kind in ('hire-asked', 'hire-received', "
    "'hire-extended', 'hire-sent-back', 'hire-invoiced', 'deposit-returned') order by seq"
)
NEEDING = (
    "select phase.job, phase.phase, code, phase.version, begun_at, phase.finished_at, closed_at, "
    "kit.value as kit from phase join job using (job), json_each(phase.kits) as kit "
    "where begun_at is not null and (closed_at is null or closed_at >= ?) and kit.value in ({})"
)
LONGEST_PAID = timedelta(days=120)
"""A hire may be paid so long after it was handed over: no carrier comes in a shop's holidays."""
WORKED = "select job, phase, since, until from clock where job is not null and {}"


@dataclass(frozen=True, slots=True)
class HiredKit:
    """A hire that was here before some month's end.

    Attributes:
        invoiced: what it came to is the supplier's; else it is reckoned by the terms.
        deposit: paid; `deposit_at` when it came back.
        events: its entries.
    """

    hire: str
    kit: str
    name: str
    supplier: str
    job: str | None
    invoiced: bool
    deposit: float
    received_at: datetime
    deposit_at: datetime | None
    days: HireDays
    events: tuple[int, ...]


def hires_until(
    db: sqlite3.Connection, calendar: Calendar, span: MonthSpan, now: datetime
) -> list[HiredKit]:
    """Return the hires that a month has to do with, as they came; what runs is reckoned to now.

    The days on which one was in use are told of those that were here in the month.
    """
    since = to_text(span.since - LONGEST_PAID)
    rows = db.execute(HIRES, [to_text(span.until), since]).fetchall()
    if not rows:
        return []
    here = [row for row in rows if row["sent_at"] is None or row["sent_at"] >= since]
    entries: dict[str, list[int]] = defaultdict(list)
    for hire, seq in db.execute(ENTRIES):
        entries[hire].append(seq)
    uses = _uses(db, calendar, here, now)
    shop_days, stays = ShopDays(calendar), _stays(here, calendar)

    def used(row: sqlite3.Row) -> frozenset[date]:
        return _used(row["hire"], stays[row["kit"]], uses.get(row["kit"], {}))

    return [_hired(row, shop_days, now, used(row), tuple(entries[row["hire"]])) for row in rows]


def _hired(
    row: sqlite3.Row, days: ShopDays, now: datetime, used: Collection[date], events: tuple[int, ...]
) -> HiredKit:
    terms, came = terms_of(row["terms"]), from_text(row["received_at"])
    deposit = terms.rates.deposit if terms is not None else 0.0
    return HiredKit(
        row["hire"], row["kit"], row["name"], row["supplier"], row["job"],
        row["invoiced"] is not None, deposit, came, _maybe(row["deposit_at"]),
        _days(row, terms, came, days, now, used), events,
    )  # fmt: skip


def _days(
    row: sqlite3.Row, terms: Terms | None, came: datetime, days: ShopDays, now: datetime,
    used: Collection[date],
) -> HireDays:  # fmt: skip
    calendar = days.calendar
    first, last = calendar.day_of(came), calendar.day_of(_maybe(row["sent_at"]) or now)
    # today is not over: what is here may still be used
    sent = last if row["sent_at"] else last - timedelta(days=1)
    if terms is not None and row["sent_at"]:
        last = days.handed(from_text(row["sent_at"]), terms.house.cut_off)
    last = max(first, last)
    due = days.calendar.day_of(from_text(row["due"])) if row["due"] else None
    reckoned = charge(terms, came, last, days, due=due) if terms is not None else None
    late = reckoned.late if reckoned is not None else 0.0
    whole = reckoned.hire + reckoned.carriage if reckoned is not None else None
    carriage = reckoned.carriage if reckoned is not None else 0.0
    extras = 0.0
    if row["invoiced"] is not None:
        late, extras = row["late_fee"] or 0.0, row["extras"] or 0.0
        whole = max(0.0, row["invoiced"] - late)
    a_day = None
    if whole is not None:
        a_day = max(0.0, whole - carriage - extras) / ((last - first).days + 1)
    return HireDays(first, last, sent, due, whole, a_day, late, used)


@dataclass(frozen=True, slots=True)
class _Stay:
    """The days on which a hire was here."""

    hire: str
    job: str | None
    came: date
    back: date


def _stays(rows: Iterable[sqlite3.Row], calendar: Calendar) -> dict[str, list[_Stay]]:
    """The hires of each kit."""
    found: dict[str, list[_Stay]] = defaultdict(list)
    for row in rows:
        came = calendar.day_of(from_text(row["received_at"]))
        back = calendar.day_of(from_text(row["sent_at"])) if row["sent_at"] else date.max
        found[row["kit"]].append(_Stay(row["hire"], row["job"], came, back))
    return found


def _used(hire: str, stays: Sequence[_Stay], uses: Mapping[date, set[str]]) -> frozenset[date]:
    """Days of its stay on which a phase used it; a job with its own kit of the same kind uses that
    one."""
    this = next((one for one in stays if one.hire == hire), None)
    if this is None:
        return frozenset()
    beside = [one for one in stays if one.came <= this.back and this.came <= one.back]
    found: set[date] = set()
    for day in (one for one in uses if this.came <= one <= this.back):
        own = {one.job for one in beside if one.hire != hire and one.came <= day <= one.back}
        if any(user == this.job or user not in own for user in uses[day]):
            found.add(day)
    return frozenset(found)


def _uses(
    db: sqlite3.Connection, calendar: Calendar, hires: Sequence[sqlite3.Row], now: datetime
) -> dict[str, dict[date, set[str]]]:
    """By kit and day, the jobs that used it: somebody worked on a phase that needs it, or it was
    fixed on the open unit. Of jobs not closed before the first of the hires came."""
    if not hires:
        return {}
    kits = {row["kit"] for row in hires}
    first = min(row["received_at"] for row in hires)
    rows = db.execute(NEEDING.format(", ".join("?" * len(kits))), [first, *kits]).fetchall()
    fixed = fixed_until(db, {row["version"] for row in rows if row["version"] is not None})
    worked = _worked(db, calendar, {(row["job"], row["phase"]) for row in rows}, now)
    ends = _ends(db, {row["job"] for row in rows})
    found: dict[str, dict[date, set[str]]] = defaultdict(lambda: defaultdict(set))
    for row in rows:
        days = set(worked[row["job"], row["phase"]])
        until = fixed.get((row["version"], row["code"], row["kit"]))
        if until is not None and (row["job"], until) in ends:
            end = ends[row["job"], until] or row["closed_at"]
            last = from_text(end) if end is not None else now
            days |= set(_each_day(calendar, from_text(row["begun_at"]), last))
        for day in days:
            found[row["kit"]][day].add(row["job"])
    return found


def _worked(
    db: sqlite3.Connection, calendar: Calendar, phases: Collection[tuple[str, str]], now: datetime
) -> dict[tuple[str, str], set[date]]:
    found: dict[tuple[str, str], set[date]] = defaultdict(set)
    jobs = sorted({job for job, _ in phases})
    for job, phase, since, until in db.execute(
        WORKED.format(f"job in ({', '.join('?' * len(jobs))})"), jobs
    ):
        if (job, phase) in phases:
            begun = from_text(since)
            end = from_text(until) if until is not None else counts_to(calendar, begun, now)[0]
            found[job, phase] |= set(_each_day(calendar, begun, end))
    return found


def _ends(db: sqlite3.Connection, jobs: Collection[str]) -> dict[tuple[str, str], str | None]:
    """When the phases of some jobs were finished, by job and code; skipped ones are none."""
    names = sorted(jobs)
    rows = db.execute(
        "select job, code, finished_at from phase where state != 'skipped' "
        f"and job in ({', '.join('?' * len(names))})",
        names,
    )
    return {(row[0], row[1]): row[2] for row in rows}


def _each_day(calendar: Calendar, since: datetime, until: datetime) -> Iterator[date]:
    first, last = calendar.day_of(since), calendar.day_of(max(since, until))
    for n in range((last - first).days + 1):
        yield first + timedelta(days=n)


def _maybe(text: str | None) -> datetime | None:
    return None if text is None else from_text(text)
