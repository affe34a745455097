"""Who works here today, what they are qualified for, and when they are away.

Both what gives people work and what asks who could help read it, so it stands beside the file.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from store.edges.instants import from_text, to_text
from store.file.facts import calendar_of

AWAY = "away"
"""The reason of a clock whose person was called away for a while."""


@dataclass(frozen=True, slots=True)
class Absence:
    """When somebody is away, and why."""

    since: datetime
    until: datetime
    why: str


@dataclass(frozen=True, slots=True)
class OnRoll:
    """Somebody who works here today.

    Attributes:
        qualifications: the last day on which each holds, `2026-12-31`; those that ran out are
            left out.
        absences: those that are not over, in their order.
        job: with `phase`, what their clock runs on; None without a clock or on no job.
        reason: of a clock on no job.
    """

    person: str
    badge: str
    name: str
    role: str
    experience: str
    qualifications: Mapping[str, str] = field(default_factory=dict[str, str])
    absences: tuple[Absence, ...] = ()
    job: str | None = None
    phase: str | None = None
    reason: str | None = None

    def away_at(self, at: datetime) -> Absence | None:
        """The absence that an instant lies in."""
        return next((one for one in self.absences if one.since <= at < one.until), None)


def on_roll(db: sqlite3.Connection, now: datetime) -> list[OnRoll]:
    """Return everybody who works here today, in the order of coming; three queries."""
    day = calendar_of(db).day_of(now).isoformat()
    holds: dict[str, dict[str, str]] = {}
    for row in db.execute(
        "select person, what, until from qualification where until >= ? order by what", [day]
    ):
        holds.setdefault(row[0], {})[row[1]] = row[2]
    away: dict[str, list[Absence]] = {}
    for row in db.execute(
        "select person, since, until, why from absence where until > ? order by since, seq",
        [to_text(now)],
    ):
        away.setdefault(row[0], []).append(Absence(from_text(row[1]), from_text(row[2]), row[3]))
    rows = db.execute(
        "select person.person, badge, name, role, experience, clock.job, clock.phase, clock.reason "
        "from person left join clock on clock.person = person.person and clock.until is null "
        "where from_day <= ?1 and (until_day is null or until_day >= ?1) "
        "order by from_day, badge",
        [day],
    )
    return [
        OnRoll(
            person=row[0], badge=row[1], name=row[2], role=row[3], experience=row[4],
            qualifications=holds.get(row[0], {}), absences=tuple(away.get(row[0], ())),
            job=row[5], phase=row[6], reason=row[7],
        )
        for row in rows
    ]  # fmt: skip


def free_people(db: sqlite3.Connection, now: datetime) -> list[OnRoll]:
    """Return who could take work on now: here, not away, and with no clock on a job."""
    return [
        one
        for one in on_roll(db, now)
        if one.job is None and one.reason != AWAY and one.away_at(now) is None
    ]
