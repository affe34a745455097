"""What holds a job up: held with a reason, released; findings; the customer's word."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.clock import stop_all
from store.actions.jobs_now import (
    live_job,
    phase_row,
    record_estimate,
    refuse_workable_state,
)
from store.actions.words import clock_time, hours_words, named
from store.edges.events import (
    AnswerNoted,
    Asked,
    Figures,
    Found,
    Held,
    HoldChanged,
    Raised,
    Released,
    SupplementAnswered,
)
from store.edges.instants import to_text
from store.file.change import By
from store.file.facts import rate_on
from store.file.route_now import PhaseRow, phases_of
from store.file.shop import Shop
from store.trouble import Refused

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
            raise Refused(f"{where} is not held. {_elsewhere(doing, job)}".strip())
        for one in holds:
            _refuse_release(doing, job, phase, one["reason"])
        for one in holds:
            doing.record(Released(hold=one["seq"]))
        return doing.done(f"{where} can go on.", job=job)


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
) -> Done:
    """Report what was discovered.

    A surprise with hours becomes a supplement and holds its phase until the customer's word; a
    route that ends holds it too; advice holds nothing.

    Args:
        hours: labour that it adds.
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
        asked = _asked(doing, job, text, hours) if kind == "surprise" and hours else None
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


def _asked(doing: Acting, job: str, text: str, hours: float) -> Asked:
    line = doing.db.execute(
        "select coalesce(max(line), 0) + 1 from supplement where job = ?", [job]
    ).fetchone()[0]
    rate = rate_on(doing.db, doing.today)
    money = None if rate is None else round(rate * hours, 2)
    return Asked(line=line, text=text, hours=hours, money=money)


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
    says += f", {hours_words(asked.hours)} extra asked (line {asked.line})" if asked else ""
    says += ". It waits for the customer's word."
    return says + (f" Stopped: the clock of {', '.join(stopped)}." if stopped else "")


def answer_supplement(
    shop: Shop,
    by: By,
    *,
    job: str,
    approve: bool,
    lines: Sequence[int] = (),
    told_by: str | None = None,
    means: str | None = None,
) -> Done:
    """Write the customer's word on extra work down.

    Args:
        lines: all lines that were asked where none is named.
        told_by: who gave the word.
        means: how: telephone, in person, in writing.

    Raises:
        NoSuch: no such job.
        Refused: no such line waits for an answer.
    """
    with acting(shop, by, "answer supplement") as doing:
        live_job(doing, job)
        rows = _waiting_lines(doing, job, lines)
        raises = raised(doing, job, rows) if approve else []
        answer: Literal["approved", "refused"] = "approved" if approve else "refused"
        doing.record(
            SupplementAnswered(
                job=job, lines=[row["line"] for row in rows], answer=answer, by=told_by,
                means=means, raises=raises,
            )
        )  # fmt: skip
        if raises:
            record_estimate(doing, job, f"extra work agreed: {', '.join(r['text'] for r in rows)}")
        released = _release_answered(doing, job, rows)
        says = f"{job}: {answer}: {', '.join(row['text'] for row in rows)}."
        if released:
            says += f" {', '.join(released)} can go on."
        return doing.done(says, job=job)


def note_answer(
    shop: Shop,
    by: By,
    *,
    job: str,
    lines: Sequence[int] = (),
    told_by: str | None = None,
    means: str | None = None,
) -> Done:
    """Say afterwards who gave the word on extra work and how it came; the answer stays.

    Args:
        lines: of the newest answer where none is named.

    Raises:
        NoSuch: no such job.
        Refused: no such line was answered, or it says so already.
    """
    with acting(shop, by, "answer supplement") as doing:
        live_job(doing, job)
        rows = _answered_lines(doing, job, lines)
        if all((row["answered_by"], row["means"]) == (told_by, means) for row in rows):
            raise Refused(f"{job}: the answer says so already. Nothing was changed.")
        numbers = [row["line"] for row in rows]
        doing.record(AnswerNoted(job=job, lines=numbers, by=told_by, means=means))
        how = ", ".join(filter(None, (told_by, means))) or "not said"
        return doing.done(f"{job}: the word on extra work came from: {how}.", job=job)


def _answered_lines(doing: Acting, job: str, lines: Sequence[int]) -> list[sqlite3.Row]:
    rows = doing.db.execute(
        "select line, answered_by, means, answered_at from supplement where job = ? and "
        "state in ('approved', 'refused') order by line",
        [job],
    ).fetchall()
    if not rows:
        raise Refused(f"{job} has no extra work that was answered.")
    newest = max(row["answered_at"] for row in rows)
    found = [r for r in rows if (r["line"] in lines if lines else r["answered_at"] == newest)]
    lacking = sorted(set(lines) - {row["line"] for row in found})
    if lacking:
        raise Refused(f"{job}: line {lacking[0]} was not answered yet.")
    return found


def _waiting_lines(doing: Acting, job: str, lines: Sequence[int]) -> list[sqlite3.Row]:
    rows = doing.db.execute(
        "select line, phase, text, hours, state from supplement where job = ? order by line", [job]
    ).fetchall()
    asked = [row for row in rows if row["state"] == "asked"]
    if not asked:
        raise Refused(f"{job} has no extra work that waits for an answer.")
    if not lines:
        return asked
    found = [row for row in asked if row["line"] in lines]
    lacking = sorted(set(lines) - {row["line"] for row in found})
    if lacking:
        there = ", ".join(str(row["line"]) for row in asked)
        raise Refused(f"{job}: line {lacking[0]} waits for no answer. Waiting are: {there}.")
    return found


def raised(
    doing: Acting, job: str, rows: Sequence[sqlite3.Row], *, less: bool = False
) -> list[Raised]:
    """Return the estimates of phases with the hours of supplement lines added, or taken off."""
    sign = -1.0 if less else 1.0
    phases = {one.phase: one for one in phases_of(doing.db, job)}
    more: dict[str, float] = {}
    for row in rows:
        more[row["phase"]] = more.get(row["phase"], 0.0) + row["hours"]
    return [
        Raised(
            phase=phase,
            estimate=Figures(
                middle=round(phases[phase].middle_h + sign * hours, 6),
                cautious=round(phases[phase].cautious_h + sign * hours, 6),
                mean=round(phases[phase].mean_h + sign * hours, 6),
            ),
        )
        for phase, hours in more.items()
        if hours > 0
    ]


def _release_answered(doing: Acting, job: str, rows: Sequence[sqlite3.Row]) -> list[str]:
    released: list[str] = []
    for phase in dict.fromkeys(row["phase"] for row in rows):
        left = doing.db.execute(
            "select 1 from supplement where job = ? and phase = ? and state = 'asked'", [job, phase]
        ).fetchone()
        running = _running(doing, job, phase, "approval")
        if left is None and running is not None:
            doing.record(Released(hold=running["seq"]))
            released.append(f"{job}.{phase}")
    return released
