"""Who is here now, and who may do an act."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import cast

from store.edges.instants import to_text
from store.rules.roles import TABLE, Act, Role, is_apprentice
from store.sums.working_time import Calendar


@dataclass(frozen=True, slots=True)
class Somebody:
    """Somebody who works here today and is not absent.

    Attributes:
        held: qualifications that hold today.
        job: on which their clock runs; `busy`: it runs on something that is not left at once.
    """

    person: str
    badge: str
    name: str
    role: Role
    experience: str
    held: frozenset[str]
    job: str | None
    busy: bool

    def may(self, act: Act) -> bool:
        """Whether their role and experience allow it."""
        rule = TABLE[act]
        return self.role in rule.roles and (rule.apprentice or not is_apprentice(self.experience))


def people_here(db: sqlite3.Connection, calendar: Calendar, now: datetime) -> list[Somebody]:
    """Return who works here today, technicians first, in the order of coming."""
    day, at = calendar.day_of(now).isoformat(), to_text(now)
    held: dict[str, set[str]] = defaultdict(set)
    for person, what in db.execute(
        "select person, what from qualification where until >= ?", [day]
    ):
        held[person].add(what)
    rows = db.execute(
        "select person.person, badge, name, role, experience, clock.job, clock.reason, "
        "clock.seq from person left join clock on clock.person = person.person "
        "and clock.until is null where from_day <= ?1 and (until_day is null or until_day >= ?1) "
        "and not exists (select 1 from absence where absence.person = person.person "
        "and absence.since <= ?2 and absence.until > ?2) "
        "order by role != 'technician', role = 'owner', experience like 'apprentice%', from_day, "
        "badge",
        [day, at],
    )
    return [
        Somebody(
            row[0], row[1], row[2], cast("Role", row[3]), row[4], frozenset(held[row[0]]), row[5],
            row[7] is not None and (row[5] is not None or row[6] == "away"),
        )
        for row in rows
    ]  # fmt: skip


def able(
    people: Iterable[Somebody],
    act: Act,
    *,
    needs: Iterable[str] = (),
    roles: Collection[Role] | None = None,
    not_persons: Collection[str] = (),
) -> list[Somebody]:
    """Return who may do an act.

    Args:
        needs: qualifications that it takes.
        not_persons: who may not, whatever their role.
    """
    return [
        one
        for one in people
        if one.may(act)
        and one.held.issuperset(needs)
        and (roles is None or one.role in roles)
        and one.person not in not_persons
    ]


def named(people: Sequence[Somebody], otherwise: str) -> str:
    """Say who could: two names, or how many, else who it takes."""
    if not people:
        return otherwise
    if len(people) <= 2:
        return " or ".join(one.name for one in people)
    return f"{people[0].name}, {people[1].name} or {len(people) - 2} more"
