"""Vehicles, jobs, what was agreed and promised, and where they stand."""

from __future__ import annotations

import json
import sqlite3

from store.edges.events.jobs import (
    JobClosed,
    JobNoted,
    JobNoteTakenBack,
    JobOpened,
    NotTeaching,
    OdometerRead,
    Placed,
    Promised,
    StateChanged,
    VehicleKnown,
)
from store.edges.events.route import EstimateAgreed, EstimateChanged, GradeSet, StepRef
from store.edges.instants import from_text
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies
from store.file.tables.desk import quote_agreed

GONE = ("closed", "declined", "turned-away")


@applies(VehicleKnown)
def vehicle(db: sqlite3.Connection, row: Row, event: VehicleKnown) -> None:
    db.execute(
        "insert into vehicle values (?, ?, ?, ?, ?, ?, ?, ?) on conflict (vehicle) do update set "
        "label = excluded.label, family = excluded.family, vin = excluded.vin, "
        "plate = excluded.plate, engine = excluded.engine, gearbox = excluded.gearbox, "
        "mass_kg = excluded.mass_kg",
        (event.vehicle, event.label, event.family, event.vin, event.plate, event.engine,
         event.gearbox, event.mass_kg),
    )  # fmt: skip


@applies(OdometerRead)
def odometer(db: sqlite3.Connection, row: Row, event: OdometerRead) -> None:
    db.execute(
        "insert into odometer values (?, ?, ?, ?, ?)",
        (row.seq, event.vehicle, row.happened_at, event.value, event.unit),
    )


@applies(JobOpened)
def opened(db: sqlite3.Connection, row: Row, event: JobOpened) -> None:
    db.execute(
        "insert into job (job, number, vehicle, customer, state, small, work, operations, family, "
        "options, grade, version, complaint, opened_at, opened_seq, queue_at, in_line) "
        "values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (event.job, int(event.job), event.vehicle, event.customer, event.state, event.small,
         event.work, json.dumps(event.operations), event.family,
         canonical(dict(event.options)), event.grade, event.version, event.complaint,
         row.happened_at, row.seq, row.happened_at if event.state == "waiting" else None,
         _seconds(row.happened_at)),
    )  # fmt: skip


@applies(GradeSet)
def grade(db: sqlite3.Connection, row: Row, event: GradeSet) -> None:
    db.execute("update job set grade = ? where job = ?", (event.grade, event.job))


@applies(EstimateAgreed)
def agreed(db: sqlite3.Connection, row: Row, event: EstimateAgreed) -> None:
    said = {"sources", "says"} if event.sources else set[str]()
    content = canonical(event.model_dump(include={"phases", "total", *said}))
    more = {name for name in ("left_out", "ahead", "check") if getattr(event, name)}
    db.execute(
        "insert into estimate values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, event.job, row.happened_at, event.basis, event.ceiling, event.money,
         event.source, content, event.by, event.means, event.quote,
         canonical(event.model_dump(include=more)) if more else "{}"),
    )  # fmt: skip
    if event.check:
        return
    db.execute(
        "update job set agreed_seq = coalesce(agreed_seq, ?), basis = ?, ceiling = ?, "
        "free_hand = ? where job = ?",
        (row.seq, event.basis, event.ceiling, event.free_hand, event.job),
    )
    if event.quote is not None:
        quote_agreed(db, row, event.job, event.quote, event.by, event.means)


@applies(EstimateChanged)
def estimate_changed(db: sqlite3.Connection, row: Row, event: EstimateChanged) -> None:
    db.execute(
        "insert into estimate_change values (?, ?, ?, ?, ?, ?)",
        (row.seq, event.job, row.happened_at, event.middle, event.cautious, event.cause),
    )


@applies(Promised)
def promised(db: sqlite3.Connection, row: Row, event: Promised) -> None:
    db.execute(
        "insert into promised values (?, ?, ?, ?, ?)",
        (row.seq, event.job, row.happened_at, event.promise, event.chance),
    )
    db.execute(
        "update job set promise = ?, promise_chance = ? where job = ?",
        (event.promise, event.chance, event.job),
    )


@applies(Placed)
def placed(db: sqlite3.Connection, row: Row, event: Placed) -> None:
    if event.takes_back is None:
        _leave(db, row, event.job, event.part)
        since = row.happened_at
        if event.place is not None:
            db.execute(
                "insert into stay (seq, job, part, place, since) values (?, ?, ?, ?, ?)",
                (row.seq, event.job, event.part, event.place, since),
            )
    else:
        since = _stay_again(db, event)
    db.execute("delete from job_place where job = ? and part = ?", (event.job, event.part))
    if event.place is not None:
        db.execute(
            "insert into job_place values (?, ?, ?, ?)",
            (event.job, event.part, event.place, since),
        )
    _state(db, event.job, event.state, row.happened_at)
    if event.takes_back is not None:
        _forget_lift(db, event.job)
    void(db, row, event.job, event.voids)
    if event.unready:
        db.execute(
            "update job set unready = ? where job = ?",
            (json.dumps(event.unready, ensure_ascii=False), event.job),
        )


def _leave(db: sqlite3.Connection, row: Row, job: str, part: str) -> None:
    db.execute(
        "update stay set until = ? where job = ? and part = ? and until is null",
        (row.happened_at, job, part),
    )


def _stay_again(db: sqlite3.Connection, event: Placed) -> str:
    """A move that never was leaves no stay; the one before goes on. Returns its start."""
    db.execute("delete from stay where seq = ?", (event.takes_back,))
    before = db.execute(
        "select max(seq), since from stay where job = ? and part = ?", (event.job, event.part)
    ).fetchone()
    db.execute("update stay set until = null where seq = ?", (before[0],))
    return str(before[1])


def _forget_lift(db: sqlite3.Connection, job: str) -> None:
    """A vehicle that never stood on a lift was not brought in."""
    db.execute(
        "update job set in_at = (select min(since) from stay join place using (place) "
        "where job = ?1 and part = 'body' and kind = 'lift') where job = ?1",
        (job,),
    )
    db.execute("update job set unready = null where job = ? and in_at is null", (job,))


def void(db: sqlite3.Connection, row: Row, job: str, steps: list[StepRef]) -> None:
    """Open steps again; the signatures under them stay on record as void."""
    for ref in steps:
        at = (job, ref.phase, ref.step)
        db.execute("update step set state = 'open' where job = ? and phase = ? and step = ?", at)
        db.execute(
            "update signature set void = 1, void_at = ? "
            "where job = ? and phase = ? and step = ? and not void",
            (row.happened_at, *at),
        )


@applies(StateChanged)
def state(db: sqlite3.Connection, row: Row, event: StateChanged) -> None:
    _state(db, event.job, event.state, row.happened_at)
    gone = row.seq if event.state in GONE else None
    db.execute("update job set gone_seq = ? where job = ?", (gone, event.job))


def _state(db: sqlite3.Connection, job: str, state: str, at: str) -> None:
    db.execute(
        "update job set state = :state, "
        "in_at = case when :state = 'on-lift' then coalesce(in_at, :at) else in_at end, "
        "in_line = case when :state = 'waiting' and queue_at is null then :seconds "
        "else in_line end, "
        "queue_at = case when :state = 'waiting' then coalesce(queue_at, :at) else queue_at end, "
        "finished_at = case when :state = 'finished' then coalesce(finished_at, :at) "
        "else null end where job = :job",
        {"state": state, "at": at, "seconds": _seconds(at), "job": job},
    )


def _seconds(at: str) -> float:
    """Where a job comes into the line: POSIX seconds."""
    return from_text(at).timestamp()


@applies(JobClosed)
def closed(db: sqlite3.Connection, row: Row, event: JobClosed) -> None:
    db.execute(
        "update job set state = 'closed', closed_at = ? where job = ?",
        (row.happened_at, event.job),
    )
    db.execute(
        "update stay set until = ? where job = ? and until is null", (row.happened_at, event.job)
    )
    db.execute("delete from job_place where job = ?", (event.job,))
    db.executemany(
        "update clock set confirmed = 1 where seq = ?", [(clock,) for clock in event.confirms]
    )


@applies(JobNoted)
def noted(db: sqlite3.Connection, row: Row, event: JobNoted) -> None:
    db.execute(
        "insert into note (seq, job, by, at, text) values "
        "(?, ?, (select person from person where badge = ?), ?, ?)",
        (row.seq, event.job, row.badge, row.happened_at, event.text),
    )


@applies(JobNoteTakenBack)
def note_taken_back(db: sqlite3.Connection, row: Row, event: JobNoteTakenBack) -> None:
    db.execute("update note set withdrawn = 1 where seq = ?", (event.noted,))


@applies(NotTeaching)
def not_teaching(db: sqlite3.Connection, row: Row, event: NotTeaching) -> None:
    if event.phase is None:
        db.execute("update job set not_teaching = ? where job = ?", (event.why, event.job))
    else:
        db.execute(
            "update phase set not_teaching = ? where job = ? and phase = ?",
            (event.why, event.job, event.phase),
        )
