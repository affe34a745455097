"""Reads all that goes on, as far as open acts ask; a fixed number of queries."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.line_now import IN_LINE
from store.file.open_acts.going import AskedNow, Gathered, Going, HoldNow, LiftNow
from store.file.open_acts.people import people_here
from store.file.route_now import PHASE, STEP, PhaseRow, StepRow, step_row
from store.file.work_lists import all_lines
from store.rules.gate_times import Name


def gathered(db: sqlite3.Connection, now: datetime) -> Gathered:
    """Return the shop at one moment of the file."""
    calendar = calendar_of(db)
    return Gathered(
        db, calendar, now, _jobs(db), people_here(db, calendar, now), _lifts(db), _yards(db),
        _names(db), _needs(db), _forbidden(db), _listed(db),
    )  # fmt: skip


LIVE = "state not in ('closed', 'declined', 'turned-away')"


def _jobs(db: sqlite3.Connection) -> dict[str, Going]:
    live = f"(select job from job where {LIVE})"
    phases = _by_job(
        db, f"select job, {PHASE} from phase where job in {live} order by job, position"
    )
    gates: dict[str, list[StepRow]] = defaultdict(list)
    for row in db.execute(
        f"select {STEP} where step.job in {live} and step.kind != 'step' "
        "order by step.job, phase.position, step.position"
    ):
        gates[row["job"]].append(step_row(row))
    holds = _by_job(
        db,
        "select job, seq, phase, reason, since, expected_now, next_move, text from hold "
        f"where until is null and job in {live} order by since, seq",
    )
    asked = _by_job(
        db,
        "select job, line, phase, text, hours, asked_at from supplement where state = 'asked' "
        f"and job in {live} order by job, line",
    )
    clocks = _by_job(
        db,
        "select job, phase, person, until, part from clock "
        f"where job in {live} order by since desc, seq desc",
    )
    rows = db.execute(
        "select job.job, state, small, mass_kg, place.code, place.kind, "
        "coalesce(queue_at, opened_at) as queued from job join vehicle using (vehicle) "
        "left join job_place on job_place.job = job.job and part = 'body' "
        f"left join place using (place) where {LIVE} order by {IN_LINE}"
    )
    return {
        row["job"]: Going(
            row["job"], row["state"], bool(row["small"]), row["mass_kg"], row["code"],
            row["code"] if row["kind"] == "lift" else None, _at(row["queued"]),
            [PhaseRow(*one[1:]) for one in phases[row["job"]]], gates[row["job"]],
            [
                HoldNow(one[1], one[2], one[3], from_text(one[4]), _at(one[5]), one[6], one[7])
                for one in holds[row["job"]]
            ],
            [
                AskedNow(one[1], one[2], one[3], one[4], from_text(one[5]))
                for one in asked[row["job"]]
            ],
            _clocked(clocks[row["job"]]), _worked(clocks[row["job"]]), _rested(clocks[row["job"]]),
        )
        for row in rows
    }  # fmt: skip


def _by_job(db: sqlite3.Connection, query: str) -> dict[str, list[sqlite3.Row]]:
    found: dict[str, list[sqlite3.Row]] = defaultdict(list)
    for row in db.execute(query):
        found[row[0]].append(row)
    return found


def _clocked(clocks: Sequence[sqlite3.Row]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for one in clocks:
        if one["until"] is None:
            found.setdefault(one["phase"], []).append(one["person"])
    return found


def _worked(clocks: Sequence[sqlite3.Row]) -> list[str]:
    return list(dict.fromkeys(one["person"] for one in clocks if one["part"] != "learner"))


def _rested(clocks: Sequence[sqlite3.Row]) -> datetime | None:
    if not clocks or any(one["until"] is None for one in clocks):
        return None
    return max(from_text(one["until"]) for one in clocks)


def _lifts(db: sqlite3.Connection) -> list[LiftNow]:
    rows = db.execute(
        "select place.place, code, rated_kg, in_service, inspected, months, looked_over, job, "
        "(select max(stay.until) from stay where stay.place = place.place and part = 'body') "
        "as free_since from place left join job_place on job_place.place = place.place "
        "and part = 'body' where kind = 'lift' order by position"
    )
    return [
        LiftNow(
            row["place"], row["code"], row["rated_kg"], bool(row["in_service"]), row["inspected"],
            row["months"], row["looked_over"], row["job"],
            _at(row["free_since"]) if row["job"] is None else None,
        )
        for row in rows
    ]  # fmt: skip


def _yards(db: sqlite3.Connection) -> list[str]:
    rows = db.execute("select code from place where kind = 'yard' order by position")
    return [row[0] for row in rows]


def _names(db: sqlite3.Connection) -> dict[tuple[str, str, str], list[Name]]:
    found: dict[tuple[str, str, str], list[Name]] = defaultdict(list)
    for row in db.execute(
        "select signature.job, phase, step, person, at, in_limits, as_is_at, void_at "
        "from step cross join signature using (job, phase, step) where step.state = 'half' "
        "order by signature.seq"
    ):
        counts_from = row["at"] if row["in_limits"] else row["as_is_at"]
        found[row["job"], row["phase"], row["step"]].append(
            Name(row["person"], row["at"], counts_from, row["void_at"])
        )
    return found


def _needs(db: sqlite3.Connection) -> dict[tuple[int | None, str], frozenset[str]]:
    rows = db.execute("select version, code, needs from book_phase where needs != '[]'")
    return {(row[0], row[1]): frozenset(json.loads(row[2])) for row in rows}


def _forbidden(db: sqlite3.Connection) -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for job, forbids in db.execute(
        "select condition.job, forbids from condition join job using (job) "
        "join book_condition using (version, code)"
    ):
        found[job].update(json.loads(forbids))
    return {job: frozenset(deeds) for job, deeds in found.items()}


def _listed(db: sqlite3.Connection) -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for line in all_lines(db):
        found[line.job].add(line.person)
    return {job: frozenset(persons) for job, persons in found.items()}


def _at(text: str | None) -> datetime | None:
    return None if text is None else from_text(text)
