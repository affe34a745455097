"""What of a job is still open: everything that stands between it and its owner."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from datetime import datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.kits.now import still_out
from store.file.route_now import PhaseRow, gates_of, phases_of
from store.rules.blocking import Gate, in_order, who_signs
from store.sums.clock_labour import counts_to

LIVE = ("to come", "under way")


def still_open(db: sqlite3.Connection, job: str, at: datetime) -> list[str]:
    """Return what keeps a job from being closed and handed over, a piece of a sentence each.

    Phases, clocks, holds, extra work without an answer, open conditions, hold points that block
    the hand-over, and hired kits that are still out, in this order.
    """
    phases = phases_of(db, job)
    return [
        *(f"{job}.{one.phase} {one.name} is {one.state}" for one in phases if one.state in LIVE),
        *_clocks(db, job, at),
        *_told(db, "held: ", "select reason from hold where job = ? and until is null", job),
        *_told(db, "extra work waits for the customer's word: ", ASKED, job),
        *_conditions(db, job),
        *_unsigned(db, job, phases),
        *still_out(db, job),
    ]


ASKED = "select text from supplement where job = ? and state = 'asked' order by line"
FORBIDDING = (
    "select text, forbids from condition join job using (job) "
    "join book_condition using (version, code) where job = ? order by condition.seq"
)


def _told(db: sqlite3.Connection, before: str, sql: str, job: str) -> Iterator[str]:
    return (f"{before}{row[0]}" for row in db.execute(sql, [job]))


def _clocks(db: sqlite3.Connection, job: str, at: datetime) -> Iterator[str]:
    calendar = calendar_of(db)
    for row in db.execute(
        "select name, since, phase from clock join person using (person) "
        "where job = ? and until is null",
        [job],
    ):
        _, left = counts_to(calendar, from_text(row["since"]), at)
        word = "was left running" if left else "runs"
        yield f"the clock of {row['name']} on {job}.{row['phase']} {word}"


def _conditions(db: sqlite3.Connection, job: str) -> Iterator[str]:
    for row in db.execute(FORBIDDING, [job]):
        if "hand-over" in json.loads(row["forbids"]):
            yield f"open condition: {row['text']}"


def _unsigned(db: sqlite3.Connection, job: str, phases: list[PhaseRow]) -> Iterator[str]:
    gates = gates_of(db, job, open_only=True)
    for gate in in_order(gates, [one.at() for one in phases]):
        if "hand-over" in gate.spec.blocks:
            yield _gate(job, gate)


def _gate(job: str, gate: Gate) -> str:
    if gate.spec.kind == "decision":
        return f"{job}.{gate.at} {gate.spec.text}: not answered"
    lacks = "lacks a second name" if gate.state == "half" else "not signed"
    return f"{job}.{gate.at} {gate.spec.text}: {lacks} ({who_signs(gate.spec)})"
