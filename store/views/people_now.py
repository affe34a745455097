"""Who is here and what their clocks say, in one query."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.sums.clock_labour import counts_to, labour_h
from store.sums.working_time import Calendar
from store.views.values import PersonNow, Stop

HALF_HOUR = timedelta(minutes=30)


def people_now(db: sqlite3.Connection, now: datetime) -> dict[str, PersonNow]:
    """Return everybody on the roll today, by id, in the order of coming."""
    calendar = calendar_of(db)
    day = calendar.day_of(now).isoformat()
    rows = db.execute(
        "select person.person, badge, name, role, until_day, from_day, clock.job, clock.phase, "
        "clock.reason, clock.since, clock.seq, clock.breaks_worked from person "
        "left join clock on clock.person = person.person and clock.until is null "
        "order by from_day, badge"
    ).fetchall()
    short = initials([row["name"] for row in rows])
    found: dict[str, PersonNow] = {}
    for row, letters in zip(rows, short, strict=True):
        since = from_text(row["since"]) if row["since"] else None
        gone = row["until_day"] is not None and row["until_day"] < day
        if gone and since is None:
            continue
        end, left = (None, False) if since is None else counts_to(calendar, since, now)
        found[row["person"]] = PersonNow(
            row["badge"], row["name"], row["role"], letters, row["job"], row["phase"],
            row["reason"], since, left, row["seq"],
            stops_of(calendar, since, end, bool(row["breaks_worked"])) if left and since and end
            else (),
        )  # fmt: skip
    return found


def stops_of(
    calendar: Calendar, since: datetime, end: datetime, breaks_worked: bool
) -> tuple[Stop, ...]:
    """Return the shift's end, and the two half hours before it at which the clock ran already."""
    before = end.astimezone(calendar.zone)
    half = before.replace(minute=before.minute // 30 * 30, second=0, microsecond=0)
    if half == before:
        half -= HALF_HOUR
    found = [end, *(half.astimezone(UTC) - nth * HALF_HOUR for nth in (0, 1))]
    return tuple(
        Stop(at, labour_h(calendar, since, at, breaks_worked)) for at in found if at > since
    )


def initials(names: Sequence[str]) -> list[str]:
    """Return two capitals for each name, unlike those of all others where letters allow it."""
    taken: set[str] = set()
    found: list[str] = []
    for name in names:
        letters = [one for one in name.upper() if one.isalnum()] or ["?"]
        words = [word for word in name.upper().split() if word[0].isalnum()]
        tries = [letters[0] + one for one in letters[1:]]
        if len(words) > 1:
            tries.insert(0, words[0][0] + words[-1][0])
        tries += [letters[0] + str(n) for n in range(2, 100)]
        short = next(one for one in tries if one not in taken)
        taken.add(short)
        found.append(short)
    return found
