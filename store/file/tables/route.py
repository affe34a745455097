"""A job's phases and steps as they come, go and come back."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence

from store.edges.events.phases import (
    PhaseBegun,
    PhaseFinished,
    PhaseNoted,
    PhaseReopened,
    PhaseSkipped,
    PhaseTakenBack,
)
from store.edges.events.route import Rated, RouteChanged, RoutePhase, RouteStep
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies, json_list
from store.file.tables.jobs import void


@applies(RouteChanged)
def changed(db: sqlite3.Connection, row: Row, event: RouteChanged) -> None:
    job = event.job
    _add(db, job, event.version, event.added)
    for gone in event.dropped:
        db.execute(
            "update phase set state = 'skipped', note = ?, cut_off = ? where job = ? and phase = ?",
            (gone.note, gone.cut_off, job, gone.phase),
        )
    for back in event.restored:
        db.execute(
            "update phase set state = case when begun_at is null then 'to come' else 'under way' "
            "end, note = null, cut_off = 0 where job = ? and phase = ?",
            (job, back),
        )
    for rated in event.rated:
        _rate(db, job, rated)
    _add_steps(db, job, ((more.phase, more.steps) for more in event.steps))
    for state, steps in (("gone", event.steps_gone), ("open", event.steps_restored)):
        db.executemany(
            "update step set state = ? where job = ? and phase = ? and step = ?",
            [(state, job, phase_number, step) for phase_number, step in steps],
        )
    for phase_number, step in event.steps_removed:
        db.execute(
            "delete from step_limit where job = ? and phase = ? and step = ?",
            (job, phase_number, step),
        )
        db.execute(
            "delete from step where job = ? and phase = ? and step = ?", (job, phase_number, step)
        )
    for removed in event.removed:
        db.execute("delete from step where job = ? and phase = ?", (job, removed))
        db.execute("delete from phase where job = ? and phase = ?", (job, removed))
    db.execute("update job set options = ? where job = ?", (canonical(dict(event.options)), job))


def _add(
    db: sqlite3.Connection, job: str, version: int | None, phases: Sequence[RoutePhase]
) -> None:
    db.executemany(
        "insert into phase (job, phase, position, code, version, name, kind, class, after, state, "
        "low_h, book_h, high_h, estimate_middle_h, estimate_cautious_h, estimate_mean_h, serves, "
        "kits) values (?, ?, ?, ?, ?, ?, ?, ?, ?, 'to come', ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (job, one.phase, one.position, one.code, version, one.name, one.phase_kind,
             one.phase_class, one.after, *one.book, one.estimate.middle, one.estimate.cautious,
             one.estimate.mean, json_list(tuple(one.serves)), json_list(tuple(one.kits)))
            for one in phases
        ],
    )  # fmt: skip
    _add_steps(db, job, ((one.phase, one.steps) for one in phases))


def _rate(db: sqlite3.Connection, job: str, rated: Rated) -> None:
    db.execute(
        "update phase set low_h = ?, book_h = ?, high_h = ?, estimate_middle_h = ?, "
        "estimate_cautious_h = ?, estimate_mean_h = ?, kits = ? where job = ? and phase = ?",
        (*rated.book, rated.estimate.middle, rated.estimate.cautious, rated.estimate.mean,
         json_list(tuple(rated.kits)), job, rated.phase),
    )  # fmt: skip


def _add_steps(
    db: sqlite3.Connection, job: str, added: Iterable[tuple[str, Sequence[RouteStep]]]
) -> None:
    db.executemany(
        "insert into step values (?, ?, ?, ?, ?, ?, ?, ?, ?, 'open')",
        [
            (job, phase, one.step, one.position, one.code, one.step_kind, one.signs,
             one.void_on_lift, json_list(tuple(one.blocks)))
            for phase, steps in added
            for one in steps
        ],
    )  # fmt: skip


def begin(db: sqlite3.Connection, row: Row, job: str, phase: str, opens: list[str]) -> None:
    """Write down that a phase is under way, and the conditions that come with it."""
    db.execute(
        "update phase set state = 'under way', begun_at = ? where job = ? and phase = ?",
        (row.happened_at, job, phase),
    )
    db.execute(
        "update job set state = 'off-lift' where job = ? and state = 'waiting'",
        (job,),
    )
    open_conditions(db, row, job, opens)


def open_conditions(db: sqlite3.Connection, row: Row, job: str, codes: list[str]) -> None:
    """Hang tags on the vehicle; one that hangs already keeps its date."""
    for code in codes:
        db.execute(
            "insert into condition values (?, ?, ?, ?) on conflict (job, code) do nothing",
            (job, code, row.happened_at, row.seq),
        )


def close_conditions(db: sqlite3.Connection, job: str, codes: list[str]) -> None:
    """Take tags off."""
    for code in codes:
        db.execute("delete from condition where job = ? and code = ?", (job, code))


def empty(db: sqlite3.Connection, job: str, phases: list[str]) -> None:
    """Write down that a phase has not begun after all."""
    for phase in phases:
        db.execute(
            "update phase set state = 'to come', begun_at = null where job = ? and phase = ?",
            (job, phase),
        )


@applies(PhaseBegun)
def begun(db: sqlite3.Connection, row: Row, event: PhaseBegun) -> None:
    begin(db, row, event.job, event.phase, event.opens)


@applies(PhaseFinished)
def finished(db: sqlite3.Connection, row: Row, event: PhaseFinished) -> None:
    db.execute(
        "update phase set state = 'finished', finished_at = ?, note = coalesce(?, note), "
        "begun_at = coalesce(begun_at, ?) where job = ? and phase = ?",
        (row.happened_at, event.note, row.happened_at, event.job, event.phase),
    )
    close_conditions(db, event.job, event.closes)


@applies(PhaseNoted)
def noted(db: sqlite3.Connection, row: Row, event: PhaseNoted) -> None:
    db.execute(
        "update phase set note = ? where job = ? and phase = ?",
        (event.note, event.job, event.phase),
    )


@applies(PhaseSkipped)
def skipped(db: sqlite3.Connection, row: Row, event: PhaseSkipped) -> None:
    db.execute(
        "update phase set state = 'skipped', note = ?, cut_off = begun_at is not null "
        "where job = ? and phase = ?",
        (event.note, event.job, event.phase),
    )


@applies(PhaseTakenBack)
def taken_back(db: sqlite3.Connection, row: Row, event: PhaseTakenBack) -> None:
    db.execute(
        "update phase set state = ?, finished_at = null, note = null, cut_off = 0, "
        "begun_at = case when ? = 'to come' then null else begun_at end "
        "where job = ? and phase = ?",
        (event.state, event.state, event.job, event.phase),
    )
    open_conditions(db, row, event.job, event.opens)
    close_conditions(db, event.job, event.closes)


@applies(PhaseReopened)
def reopened(db: sqlite3.Connection, row: Row, event: PhaseReopened) -> None:
    for phase in (event.phase, *event.reopens):
        db.execute(
            "update phase set state = 'under way', finished_at = null, cut_off = 0, "
            "begun_at = coalesce(begun_at, ?) where job = ? and phase = ?",
            (row.happened_at, event.job, phase),
        )
    void(db, row, event.job, event.voids)
    open_conditions(db, row, event.job, event.opens)
    empty(db, event.job, event.empties)
    db.execute(
        "update job set state = case when exists (select 1 from job_place join place using (place)"
        " where job_place.job = job.job and part = 'body' and kind = 'lift') then 'on-lift' "
        "else 'off-lift' end, finished_at = null where job = ? and state = 'finished'",
        (event.job,),
    )
