"""What is to be done in the months after a job: set, moved, done, or not to be done."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import JobRow, job_row
from store.actions.odometers import last_reading
from store.actions.trouble import NoSuch
from store.edges.events.end import (
    FollowUpDone,
    FollowUpLine,
    FollowUpMoved,
    FollowUpsSet,
    FollowUpTakenBack,
)
from store.file.change import By
from store.file.ledger import Row
from store.file.shop import Shop
from store.rules.follow_ups import ToDo, without_odometer
from store.rules.odometer import in_unit
from store.trouble import Refused


def set_follow_ups(shop: Shop, by: By, *, job: str, lines: Sequence[ToDo]) -> Done:
    """Set what follows a job, beside what was set before.

    Args:
        lines: days as local dates, distances in km driven from now on.

    Raises:
        NoSuch: no such job.
        Refused: nothing is to be done, or at no time, or at one that is past.
    """
    with acting(shop, by, "follow up") as doing:
        row = job_row(doing.db, job)
        doing.change.job = job
        numbers = record_follow_ups(
            doing, row, [replace(one, counted_from="entry") for one in lines]
        )
        if not numbers:
            raise Refused("Say what is to be done, by whom and when.")
        told = "; ".join(one.what for one in lines)
        return doing.done(f"To follow {job}: {told}.", job=job)


def record_follow_ups(doing: Acting, row: JobRow, lines: Sequence[ToDo]) -> list[int]:
    """Write down what follows a job; return the numbers of its lines.

    Raises:
        Refused: a line is to be done at no time, or at one that is past.
    """
    first = 1 + int(
        doing.db.execute(
            "select coalesce(max(line), 0) from follow_up where job = ?", [row.job]
        ).fetchone()[0]
    )
    found = [_line(doing, row, n, one) for n, one in enumerate(lines, first)]
    if found:
        doing.record(FollowUpsSet(job=row.job, lines=found))
    return [one.line for one in found]


def _line(doing: Acting, row: JobRow, line: int, wanted: ToDo) -> FollowUpLine:
    if wanted.day is None and wanted.distance_km is None:
        raise Refused(f"Say when: {wanted.what}. A day, a distance, or whichever comes first.")
    _refuse_past(doing, wanted.day)
    if wanted.distance_km is not None and not 0 < wanted.distance_km <= 1e6:
        raise Refused("A distance to be driven is more than 0 and at most 1,000,000 km.")
    read = last_reading(doing.db, row.vehicle)
    one = wanted if read else without_odometer(wanted, doing.today)
    return FollowUpLine(
        line=line, what=one.what.strip(), who=one.who.strip(),
        day=None if one.day is None else one.day.isoformat(), distance=_target(one, read),
        since=doing.today.isoformat(), counted_from=one.counted_from,
    )  # fmt: skip


def _target(one: ToDo, read: tuple[float, str] | None) -> float | None:
    """The distance on the odometer, in its unit."""
    if one.distance_km is None or read is None:
        return None
    return round(read[0] + in_unit(one.distance_km, "km", read[1]), 1)


def _refuse_past(doing: Acting, day: date | None) -> None:
    if day is not None and day < doing.today:
        raise Refused(f"{day} is past. Give today or a later day.")


def move_follow_up(
    shop: Shop,
    by: By,
    *,
    job: str,
    line: int,
    day: date | None = None,
    distance: float | None = None,
    why: str | None = None,
) -> Done:
    """Do it on another day, or at another distance.

    Args:
        day: at the latest; None where only the distance counts.
        distance: on the odometer, in its unit; None where only the day counts.

    Raises:
        NoSuch: no such job or line.
        Refused: it is done already; no time was given, or one that is past.
    """
    with acting(shop, by, "follow up") as doing:
        _open_line(doing, job, line)
        if day is None and distance is None:
            raise Refused("Say when: a day, a distance on the odometer, or both.")
        _refuse_past(doing, day)
        doing.record(
            FollowUpMoved(
                job=job, line=line, day=None if day is None else day.isoformat(),
                distance=distance, why=why,
            )
        )  # fmt: skip
        when = " or ".join(
            [*([f"{day}"] if day else []), *([f"{distance:,.0f}"] if distance is not None else [])]
        )
        return doing.done(f"Follow-up {line} of {job} is for {when} now.", job=job)


def follow_up_done(
    shop: Shop, by: By, *, job: str, line: int, outcome: str, dropped: bool = False
) -> Done:
    """Say what came of it; `dropped`: it is not to be done, and why.

    Raises:
        NoSuch: no such job or line.
        Refused: it is done already, or nothing was said of it.
    """
    with acting(shop, by, "follow up") as doing:
        what = _open_line(doing, job, line)
        said = outcome.strip()
        if not said:
            raise Refused("Say what came of it, or why it is not to be done.")
        doing.record(FollowUpDone(job=job, line=line, outcome=said, dropped=dropped))
        became = "not to be done" if dropped else "done"
        return doing.done(f"{job}, {what}: {became}, {said}.", job=job)


def _open_line(doing: Acting, job: str, line: int) -> str:
    """What an open line says.

    Raises:
        NoSuch: no such job or line.
        Refused: it is open no more.
    """
    job_row(doing.db, job)
    doing.change.job = job
    row = doing.db.execute(
        "select what, state, outcome from follow_up where job = ? and line = ?", [job, line]
    ).fetchone()
    if row is None or row["state"] == "withdrawn":
        raise NoSuch("follow-up", f"{line} of {job}", "See them with `hoistbook followups`.")
    if row["state"] != "open":
        raise Refused(f"Follow-up {line} of {job} was {row['state']}: {row['outcome']}.")
    return str(row["what"])


def follow_ups_gone(doing: Acting, row: Row, event: FollowUpsSet) -> None:
    """Take lines back that were set.

    Raises:
        Refused: something came of one since, or it was moved.
    """
    for one in event.lines:
        now = doing.db.execute(
            "select day, distance, state from follow_up where job = ? and line = ?",
            [event.job, one.line],
        ).fetchone()
        if (now["day"], now["distance"], now["state"]) != (one.day, one.distance, "open"):
            raise Refused(f"Something came of follow-up {one.line} of {event.job} since: it stays.")
        doing.record(FollowUpTakenBack(job=event.job, line=one.line, never_set=True))


def follow_up_open_again(doing: Acting, row: Row, event: FollowUpDone) -> None:
    """Let a follow-up wait again."""
    doing.record(FollowUpTakenBack(job=event.job, line=event.line))


def follow_up_as_before(doing: Acting, row: Row, event: FollowUpMoved) -> None:
    """Put a follow-up back to the day and distance that it had.

    Raises:
        Refused: it was moved anew, or something came of it.
    """
    _open_line(doing, event.job, event.line)
    told: list[tuple[str | None, float | None]] = []
    for found in doing.db.execute(
        "select seq, kind, payload from ledger where seq in (select ledger.seq from entry "
        "cross join ledger on ledger.seq between entry.seq and entry.last where entry.job = ?) "
        "and kind in ('follow-ups-set', 'follow-up-moved') order by seq",
        [event.job],
    ):
        told += _said(found["seq"], json.loads(found["payload"]), event.line, row.seq)
    before = told[-1]
    doing.record(
        FollowUpMoved(
            job=event.job, line=event.line, day=before[0], distance=before[1], why="taken back"
        )
    )  # fmt: skip


def _said(
    seq: int, fields: dict[str, Any], line: int, until: int
) -> list[tuple[str | None, float | None]]:
    """Day and distance of a line as an entry before another one has them."""
    if seq >= until:
        return []
    lines = fields.get("lines", [fields])
    return [(one.get("day"), one.get("distance")) for one in lines if one["line"] == line]
