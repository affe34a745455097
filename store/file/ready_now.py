"""What is known of jobs that have not come in yet: a fixed number of queries for all of them."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime

from store.edges.instants import from_text, to_text
from store.file.kits.lacking import known_of
from store.rules.kit_at_hand import KitNeed, kit_for
from store.rules.readiness import Facts, PartNeed
from store.sums.working_time import Calendar

TO_DO = "phase.state in ('to come', 'under way')"
NOT_IN = ("enquiry", "booked", "arrived", "quoted", "waiting")
"""States before a job came in."""


def facts_of(
    db: sqlite3.Connection, jobs: Sequence[str], now: datetime, calendar: Calendar
) -> dict[str, Facts]:
    """Return what is known of each job that has not come in; small ones and others are left out."""
    asked = ", ".join("?" * len(jobs))
    states = ", ".join(f"'{one}'" for one in NOT_IN)
    heads = db.execute(
        "select job, agreed_seq, check_result, version, operations from job "
        f"where job in ({asked}) and state in ({states}) and in_at is null and not small",
        list(jobs),
    ).fetchall()
    if not heads:
        return {}
    numbers = [row["job"] for row in heads]
    marks = ", ".join("?" * len(numbers))
    parts = _parts(db, numbers, marks)
    kits = _kits(db, numbers, marks, calendar.day_of(now))
    needs = _needs(db, numbers, marks)
    people = _people(db, now, calendar)
    return {
        row["job"]: Facts(
            agreed=row["agreed_seq"] is not None, check=_check(db, row),
            parts=tuple(parts[row["job"]]), kits=tuple(kits[row["job"]]),
            needs=tuple(needs[row["job"]]), people=people,
        )
        for row in heads
    }  # fmt: skip


def _check(db: sqlite3.Connection, row: sqlite3.Row) -> str | None:
    """After the customer's word a check that nobody judged is part of the work."""
    if row["check_result"] is not None or row["agreed_seq"] is not None:
        return None if row["check_result"] is None else str(row["check_result"])
    if row["version"] is None:
        return None
    from store.file.books import book_of  # brings models that a first paint does not need

    book = book_of(db, row["version"])
    sold = [book.operations[one] for one in json.loads(row["operations"]) if one in book.operations]
    checks = any(book.phases[use.phase].qualifies for one in sold for use in one.route)
    return "to do" if checks else None


def _parts(db: sqlite3.Connection, jobs: list[str], marks: str) -> dict[str, list[PartNeed]]:
    """Lines of phases that are left out of the route are asked no more."""
    found: dict[str, list[PartNeed]] = defaultdict(list)
    for row in db.execute(
        "select part.job, part.state, expected from part left join phase on phase.job = part.job "
        f"and phase.phase = part.phase where part.job in ({marks}) "
        "and (part.phase is null or phase.state != 'skipped') order by part.job, line",
        jobs,
    ):
        found[row[0]].append(PartNeed(row[1], from_text(row[2]) if row[2] else None))
    return found


def _kits(
    db: sqlite3.Connection, jobs: list[str], marks: str, day: date
) -> dict[str, list[KitNeed]]:
    wanted: dict[str, dict[str, None]] = defaultdict(dict)
    for row in db.execute(
        "select phase.job, kit.value from phase, json_each(phase.kits) as kit "
        f"where phase.job in ({marks}) and {TO_DO} order by phase.job, position",
        jobs,
    ):
        wanted[row[0]][row[1]] = None
    known = known_of(db, {code for kits in wanted.values() for code in kits}, always=True).kits
    return defaultdict(list, {
        job: [kit_for(job, known[code], day) for code in kits] for job, kits in wanted.items()
    })  # fmt: skip


def _needs(db: sqlite3.Connection, jobs: list[str], marks: str) -> dict[str, list[frozenset[str]]]:
    found: dict[str, list[frozenset[str]]] = defaultdict(list)
    for row in db.execute(
        "select distinct phase.job, needs from phase join book_phase using (version, code) "
        f"where phase.job in ({marks}) and {TO_DO} and phase.kind = 'labour' and needs != '[]'",
        jobs,
    ):
        found[row[0]].append(frozenset(json.loads(row[1])))
    return found


def _people(
    db: sqlite3.Connection, now: datetime, calendar: Calendar
) -> tuple[frozenset[str], ...]:
    """Skilled people who are there today for some time yet, by what they are qualified for."""
    day, at = calendar.day_of(now).isoformat(), to_text(now)
    leaves = to_text(max([now, *(until for _, until in calendar.shifts_of(calendar.day_of(now)))]))
    rows = db.execute(
        "select person from person where experience not like 'apprentice%' and from_day <= ?1 and "
        "(until_day is null or until_day >= ?1) and not exists (select 1 from absence where "
        "absence.person = person.person and since <= ?2 and until >= ?3 and until > ?2)",
        [day, at, leaves],
    ).fetchall()
    held = _held(db.execute("select person, what from qualification where until >= ?", [day]))
    return tuple(frozenset(held.get(row[0], ())) for row in rows)


def _held(rows: Iterable[sqlite3.Row]) -> Mapping[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for row in rows:
        found[row[0]].add(row[1])
    return found
