"""Hired kits of an owner's month: what they came to, and the days on which they were in use."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.kit_terms import terms_of
from store.file.kits_now import fixed_until
from store.sums.clock_labour import counts_to
from store.sums.hire_charge import charge
from store.sums.hire_days import ShopDays
from store.sums.hire_terms import Terms
from store.sums.month_hires import HireDays
from store.sums.working_time import Calendar

HIRES = (
    "select hire.*, coalesce(kit.name, hire.kit) as name from hire left join kit "
    "on kit.code = hire.kit where received_at is not null and received_at < ? order by received_at"
)
ENTRIES = (
    "select payload ->> '$.hire', seq from ledger where kind in ('hire-asked', 'hire-received', "
    "'hire-extended', 'hire-sent-back', 'hire-invoiced', 'deposit-returned') order by seq"
)
NEEDING = (
    "select phase.job, phase.phase, code, phase.version, begun_at, phase.finished_at, closed_at, "
    "kit.value as kit from phase join job using (job), json_each(phase.kits) as kit "
    "where begun_at is not null and kit.value in ({})"
)
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
    db: sqlite3.Connection, calendar: Calendar, until: datetime, now: datetime
) -> list[HiredKit]:
    """Return every hire received before an instant, as it came; what runs is reckoned to now."""
    rows = db.execute(HIRES, [to_text(until)]).fetchall()
    if not rows:
        return []
    entries: dict[str, list[int]] = defaultdict(list)
    for hire, seq in db.execute(ENTRIES):
        entries[hire].append(seq)
    uses = _uses(db, calendar, {row["kit"] for row in rows}, now)
    shop_days, stays = ShopDays(calendar), _stays(rows, calendar)

    def used(row: sqlite3.Row) -> frozenset[date]:
        return _used(row["hire"], row["job"], stays[row["kit"]], uses.get(row["kit"], {}))

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


def _used(
    hire: str, job: str | None, stays: Sequence[_Stay], uses: Mapping[str, set[date]]
) -> frozenset[date]:
    """Days on which a phase used it; a job with its own kit of the same kind uses that one."""
    found: set[date] = set()
    for user, days in uses.items():
        own = [one for one in stays if one.job == user and one.hire != hire and user != job]
        found |= {day for day in days if not any(one.came <= day <= one.back for one in own)}
    return frozenset(found)


def _uses(
    db: sqlite3.Connection, calendar: Calendar, kits: Collection[str], now: datetime
) -> dict[str, dict[str, set[date]]]:
    """By kit and job, the days on which it was in use: somebody worked on a phase that needs it,
    or it was fixed on the open unit."""
    rows = db.execute(NEEDING.format(", ".join("?" * len(kits))), list(kits)).fetchall()
    fixed = fixed_until(db, {row["version"] for row in rows if row["version"] is not None})
    worked = _worked(db, calendar, {(row["job"], row["phase"]) for row in rows}, now)
    ends = _ends(db, {row["job"] for row in rows})
    found: dict[str, dict[str, set[date]]] = defaultdict(lambda: defaultdict(set))
    for row in rows:
        days = found[row["kit"]][row["job"]]
        days |= worked[row["job"], row["phase"]]
        until = fixed.get((row["version"], row["code"], row["kit"]))
        if until is not None and (row["job"], until) in ends:
            end = ends[row["job"], until] or row["closed_at"]
            last = from_text(end) if end is not None else now
            days |= set(_each_day(calendar, from_text(row["begun_at"]), last))
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
