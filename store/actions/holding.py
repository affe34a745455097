"""What holds a job up: held with a reason, released; findings."""

from __future__ import annotations

import sqlite3
from datetime import datetime, timedelta
from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.clock import stop_all
from store.actions.hires.kit_gate import still_lacking
from store.actions.jobs_now import live_job, phase_row, refuse_workable_state
from store.actions.supplements import answer_supplement, asked_for, note_answer, raised
from store.actions.words import clock_time, extra_words, named
from store.edges.events.holds import Asked, Found, Held, HoldChanged, Released
from store.edges.instants import to_text
from store.file.change import By
from store.file.route_now import PhaseRow, phases_of
from store.file.shop import Shop
from store.rules.kit_at_hand import all_words
from store.trouble import Refused

__all__ = ["answer_supplement", "find", "hold", "note_answer", "raised", "release"]

Reason = Literal["parts", "approval", "person", "tool", "reading", "place", "other"]
LONGEST_HOLD = timedelta(days=2 * 366)
"""An end further ahead is a slip of the fingers, and every forecast would wait for it."""
REASONS: tuple[Reason, ...] = ("parts", "approval", "person", "tool", "reading", "place", "other")


def hold(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str | None,
    reason: Reason,
    until: datetime | None = None,
    next_move: str | None = None,
    text: str | None = None,
) -> Done:
    """Hold a phase, or the whole job; clocks on it stop, since held time is never labour.

    Held already for the same reason, the expected end and the next move are told anew.

    Args:
        until: when it is likely to go on; None is unknown.
        next_move: whose move it is.

    Raises:
        NoSuch: no such job or phase.
        LeftRunning: a clock on it ran past its shift's end.
        Refused: the phase is over, or the expected end lies in the past or years ahead.
    """
    with acting(shop, by, "hold") as doing:
        live_job(doing, job)
        if phase is not None:
            refuse_workable_state(job, phase_row(phases_of(doing.db, job), job, phase))
        if until is not None and until <= doing.at:
            raise Refused("The expected end lies in the past. Give a later one, or leave it out.")
        if until is not None and until > doing.at + LONGEST_HOLD:
            raise Refused("The expected end lies years ahead. Check the year, or leave it out.")
        expected = to_text(until) if until is not None else None
        running = _running(doing, job, phase, reason)
        where = job if phase is None else f"{job}.{phase}"
        if running is not None:
            _refuse_same(running, expected, next_move, where, reason)
            doing.record(HoldChanged(hold=running["seq"], expected=expected, next_move=next_move))
            return doing.done(f"{where} is still held: {reason}{_until(doing, until)}.", job=job)
        stopped = stop_all(doing, job, phase)
        doing.record(
            Held(job=job, phase=phase, reason=reason, expected=expected, next_move=next_move,
                 text=text)
        )  # fmt: skip
        clocks = f" Stopped: the clock of {', '.join(stopped)}." if stopped else ""
        return doing.done(f"{where} is held: {reason}{_until(doing, until)}.{clocks}", job=job)


def _until(doing: Acting, until: datetime | None) -> str:
    return "" if until is None else f", expected until {clock_time(until, doing.calendar)}"


def _refuse_same(
    running: sqlite3.Row, expected: str | None, next_move: str | None, where: str, reason: str
) -> None:
    if (running["expected_now"], running["next_move"]) == (expected, next_move):
        raise Refused(
            f"{where} is held already: {reason}. Say a new end with --until, or release it."
        )


def _running(doing: Acting, job: str, phase: str | None, reason: str) -> sqlite3.Row | None:
    row: sqlite3.Row | None = doing.db.execute(
        "select seq, expected_now, next_move from hold "
        "where job = ? and phase is ? and reason = ? and until is null",
        [job, phase, reason],
    ).fetchone()
    return row


def release(shop: Shop, by: By, *, job: str, phase: str | None = None) -> Done:
    """Release what holds a phase, or the whole job.

    Raises:
        NoSuch: no such job or phase.
        Refused: nothing holds it, or a reading outside its limits does and nobody has said what
            becomes of it.
    """
    with acting(shop, by, "release") as doing:
        live_job(doing, job)
        if phase is not None:
            phase_row(phases_of(doing.db, job), job, phase)
        holds = doing.db.execute(
            "select seq, phase, reason from hold where job = ? and until is null and phase is ? "
            "order by seq",
            [job, phase],
        ).fetchall()
        where = job if phase is None else f"{job}.{phase}"
        if not holds:
            _refuse_for_kit(doing, job, phase)
            raise Refused(f"{where} is not held. {_elsewhere(doing, job)}".strip())
        for one in holds:
            _refuse_release(doing, job, phase, one["reason"])
        for one in holds:
            doing.record(Released(hold=one["seq"]))
        return doing.done(f"{where} can go on.", job=job)


def _refuse_for_kit(doing: Acting, job: str, phase: str | None) -> None:
    """What shows as held for a kit that lacks is released by the kit, or by a foreman's word."""
    if phase is None:
        return
    row = phase_row(phases_of(doing.db, job), job, phase)
    lacks = still_lacking(doing, job, row) if row.state == "to come" else ()
    if lacks:
        raise Refused(
            f"{job}.{phase} needs {all_words(lacks, doing.at, doing.calendar.zone)}: it goes on "
            f"when that is at hand. Without it, a foreman: hoistbook hire let {job}.{phase} --why "
            "TEXT."
        )


def _elsewhere(doing: Acting, job: str) -> str:
    held = [
        job if row["phase"] is None else f"{job}.{row['phase']}"
        for row in doing.db.execute("select phase from hold where job = ? and until is null", [job])
    ]
    return f"Held are: {', '.join(held)}." if held else ""


def _refuse_release(doing: Acting, job: str, phase: str | None, reason: str) -> None:
    """A reading that was taken holds until it is dealt with; maker's data sought does not."""
    out = doing.db.execute(
        "select 1 from step where job = ? and phase = ? and state = 'out'", [job, phase]
    ).fetchone()
    if reason == "reading" and out is not None:
        raise Refused(
            f"{job}.{phase} is held for a reading outside its limits. Measure again, report a "
            "finding, or let a foreman sign it with --as-is."
        )
    if reason == "approval":
        doing.may("release customer's word")


def find(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str,
    kind: Literal["surprise", "route-ends", "advice"],
    text: str,
    hours: float | None = None,
    code: str | None = None,
    money: float | None = None,
) -> Done:
    """Report what was discovered.

    A surprise with hours or money becomes a supplement and holds its phase until the customer's
    word; a route that ends holds it too; advice holds nothing.

    Args:
        hours: labour that it adds.
        money: that the customer is asked for; hours x the shop's rate where it is not said.
        code: of the work book's surprise, where it is one.

    Raises:
        NoSuch: no such job or phase.
        Refused: the phase is over, or the hours are no positive number.
    """
    with acting(shop, by, "report finding") as doing:
        live_job(doing, job)
        row = phase_row(phases_of(doing.db, job), job, phase)
        if kind != "advice":
            refuse_workable_state(job, row)
        if hours is not None and not 0 < hours <= 1000:
            raise Refused("The hours of a finding are more than 0 and at most 1000.")
        if money is not None and kind != "surprise":
            raise Refused("Only a surprise asks for money: say it of one, or leave it out.")
        extra = kind == "surprise" and (hours or money)
        asked = asked_for(doing, job, text, hours or 0.0, money) if extra else None
        doing.record(
            Found(
                job=job, phase=phase, person=doing.person.person,
                finding="route ends" if kind == "route-ends" else kind,
                text=text, hours=hours, code=code, asked=asked,
            )
        )  # fmt: skip
        if asked is None and kind != "route-ends":
            return doing.done(f"{named(job, row)}: {kind} reported, {text}.", job=job)
        return doing.done(_hold_for_word(doing, job, row, text, asked), job=job)


def _hold_for_word(doing: Acting, job: str, row: PhaseRow, text: str, asked: Asked | None) -> str:
    """Hold the phase for the customer's word; it takes over from a reading outside its limits."""
    stopped = stop_all(doing, job, row.phase)
    for one in doing.db.execute(
        "select seq from hold where job = ? and phase = ? and reason = 'reading' and until is null",
        [job, row.phase],
    ).fetchall():
        doing.record(Released(hold=one["seq"]))
    if _running(doing, job, row.phase, "approval") is None:
        doing.record(
            Held(job=job, phase=row.phase, reason="approval", next_move="customer", text=text)
        )
    says = f"{named(job, row)}: {text}"
    says += f", {extra_words(asked.hours, asked.money)} asked (line {asked.line})" if asked else ""
    says += ". It waits for the customer's word."
    return says + (f" Stopped: the clock of {', '.join(stopped)}." if stopped else "")
