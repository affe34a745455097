"""What was agreed, asked, fitted, sent away and advised on a job: for its record."""

from __future__ import annotations

import json
import sqlite3
from datetime import date, datetime
from typing import Any

from store.edges.instants import from_text
from store.file.at_hand_over import kits_to_count
from store.file.privates import customer_of, said_by
from store.sums.months import months_later
from store.sums.working_time import Calendar
from store.views.nameless import hidden
from store.views.record.values import (
    Advice,
    Agreed,
    Answered,
    Checked,
    ExtraWork,
    Handed,
    Outwork,
    PartUsed,
)

ANSWERS: dict[str, Answered] = {"approved": "agreed", "refused": "refused"}
ADVISED = {"declined": "declined", "later": "wanted later", "agreed": "agreed"}
FITTED = {"fitted": "renewed", "here": "delivered for it"}
GATES = (
    "select signature.phase, signature.step, person.name as name, at, spec ->> '$.text' as text "
    "from signature join person using (person) join step using (job, phase, step) "
    "join phase using (job, phase) join book_step on book_step.version = phase.version "
    "and book_step.phase = phase.code and book_step.code = step.code, "
    "json_each(step.blocks) as blocked where signature.job = ? and not void "
    "and blocked.value = 'hand-over' order by signature.seq"
)


def who_gave(db: sqlite3.Connection, text: str | None, *, names: bool) -> str | None:
    """Return who gave a word, as whoever reads may know it."""
    return said_by(db, text) if names else hidden(text)


def customer_name(db: sqlite3.Connection, job: str, *, names: bool) -> str | None:
    """Return the customer's name, for readers who may see it."""
    known = customer_of(db, job) if names else None
    return known.name if known else None


def agreed(db: sqlite3.Connection, job: str, *, names: bool, money: bool) -> tuple[Agreed, ...]:
    """Return every word on a price, oldest first, new ceilings among them."""
    free_hand = db.execute("select free_hand from job where job = ?", [job]).fetchone()[0]
    rows = db.execute("select * from estimate where job = ? order by seq", [job]).fetchall()
    found = [
        _agreed(db, row, names=names, money=money, free_hand=free_hand if n == 1 else None)
        for n, row in zip(range(len(rows), 0, -1), rows, strict=True)
    ]
    found += [
        Agreed(
            from_text(row["at"]), who_gave(db, row["by"], names=names), row["means"], "ceiling",
            row["ceiling"], None, None, (), (),
        )
        for row in db.execute(
            "select * from ceiling_set where job = ? and not withdrawn order by seq", [job]
        )
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda one: one.at))


def _agreed(
    db: sqlite3.Connection, row: sqlite3.Row, *, names: bool, money: bool, free_hand: float | None
) -> Agreed:
    more: dict[str, Any] = json.loads(row["more"])
    return Agreed(
        at=from_text(row["at"]), by=who_gave(db, row["by"], names=names), means=row["means"],
        basis=row["basis"], ceiling=row["ceiling"], free_hand=free_hand,
        money=row["money"] if money else None, left_out=tuple(more.get("left_out", ())),
        check=bool(more.get("check")),
        ahead=tuple(
            (one["about"], one["answer"], one.get("money")) for one in more.get("ahead", ())
        ),
    )  # fmt: skip


def extra_work(
    db: sqlite3.Connection, job: str, *, names: bool, money: bool
) -> tuple[ExtraWork, ...]:
    """Return work that nobody had quoted, with the customer's answers."""
    return tuple(
        ExtraWork(
            row["text"], from_text(row["asked_at"]),
            ANSWERS.get(row["state"], "not answered yet"),
            from_text(row["answered_at"]) if row["answered_at"] else None,
            who_gave(db, row["answered_by"], names=names), row["means"],
            row["money"] if money else None,
        )
        for row in db.execute(
            "select * from supplement where job = ? and state != 'withdrawn' order by line", [job]
        )
    )  # fmt: skip


def parts_used(db: sqlite3.Connection, job: str) -> tuple[PartUsed, ...]:
    """Return what was fitted, or is here for a phase that is done."""
    rows = db.execute(
        "select part.* from part left join phase on phase.job = part.job "
        "and phase.phase = part.phase where part.job = ? and (part.state = 'fitted' or "
        "(part.state = 'here' and coalesce(phase.state, 'finished') = 'finished')) order by line",
        [job],
    )
    return tuple(
        PartUsed(
            row["text"], FITTED[row["state"]], row["batch"], row["supplier"], bool(row["renewed"])
        )
        for row in rows
    )


def outwork(db: sqlite3.Connection, job: str) -> tuple[Outwork, ...]:
    """Return what other firms did."""
    return tuple(
        Outwork(
            row["what"],
            row["firm"],
            from_text(row["sent_at"]),
            from_text(row["back_at"]) if row["back_at"] else None,
            row["report"],
            tuple(json.loads(row["readings"]).items()),
        )
        for row in db.execute("select * from outwork where job = ? order by seq", [job])
    )


def advice(db: sqlite3.Connection, job: str, *, names: bool) -> tuple[Advice, ...]:
    """Return what was recommended, with the answers."""
    return tuple(
        Advice(
            row["text"], from_text(row["found_at"]), row["name"],
            ADVISED.get(row["answer"], "no answer written down"),
            from_text(row["answered_at"]) if row["answered_at"] else None,
            who_gave(db, row["gave"], names=names), row["means"], bool(row["risk_told"]),
        )
        for row in db.execute(
            "select finding.text, finding.at as found_at, name, answer, advice.at as answered_at, "
            "advice.by as gave, means, risk_told from finding join person on person.person = "
            "finding.by left join advice on advice.finding = finding.seq "
            "where finding.job = ? and kind = 'advice' and not withdrawn order by finding.seq",
            [job],
        )
    )  # fmt: skip


def handed(db: sqlite3.Connection, calendar: Calendar, job: str, *, names: bool) -> Handed | None:
    """Return how the vehicle went back; None where no hand-over was written."""
    row = db.execute(
        "select at, name, receiver, content from handed_over join person on person = by "
        "where job = ?",
        [job],
    ).fetchone()
    if row is None:
        return None
    said: dict[str, Any] = json.loads(row["content"])
    at = from_text(row["at"])
    return Handed(
        at=at, by=row["name"], to=who_gave(db, row["receiver"], names=names),
        old_parts=said.get("old_parts"), fluids=tuple(said.get("fluids", ())),
        faults_before=said.get("faults_before"), faults_after=said.get("faults_after"),
        run_in=said.get("run_in"), warranty_until=_until(calendar, at, said),
        warranty_distance=said.get("warranty_distance"),
        kits=_kits(db, job, said.get("kits", {})), missing=said.get("missing"),
        photographs=said.get("photographs"),
    )  # fmt: skip


def _until(calendar: Calendar, at: datetime, said: dict[str, Any]) -> date | None:
    months = said.get("warranty_months")
    return months_later(calendar.day_of(at), months) if months else None


def _kits(
    db: sqlite3.Connection, job: str, counted: dict[str, int]
) -> tuple[tuple[str, int, int], ...]:
    known = {one.code: one for one in kits_to_count(db, job)}
    return tuple(
        (known[code].name, count, len(known[code].pieces))
        if code in known
        else (code, count, count)
        for code, count in counted.items()
    )


def last_check(db: sqlite3.Connection, job: str) -> Checked | None:
    """Return the last point signed of those that stand before the hand-over."""
    rows = db.execute(GATES, [job]).fetchall()
    if not rows:
        return None
    last = rows[-1]
    names = [
        row["name"] for row in rows if (row["phase"], row["step"]) == (last["phase"], last["step"])
    ]
    return Checked(last["text"], from_text(last["at"]), tuple(dict.fromkeys(names)))
