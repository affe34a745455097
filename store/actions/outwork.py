"""Work of other firms: sent, asked after, back with its report."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from datetime import date, datetime, timedelta

from store.actions.acting import Acting, Done, acting
from store.actions.conditions import opened_by
from store.actions.gates import refuse_blocked
from store.actions.jobs_now import (
    live_job,
    phase_row,
    refuse_workable_hold,
    refuse_workable_state,
)
from store.actions.outwork_report import sign_report
from store.actions.phases import finished, refuse_unfinishable
from store.actions.words import clock_time, named
from store.edges.events.parts import OutworkBack, OutworkChased, OutworkSent
from store.edges.events.phases import PhaseBegun
from store.edges.instants import from_text, to_text
from store.file.change import By
from store.file.route_now import PhaseRow, phases_of
from store.file.shop import Shop
from store.trouble import Refused

LONGEST = timedelta(days=2 * 366)
"""A promise farther ahead is a slip of the fingers, and every forecast would wait for it."""


def send(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str,
    what: str,
    firm: str,
    promised: datetime | None = None,
    chase: date | None = None,
    price: float | None = None,
) -> Done:
    """Send work of a phase to another firm; the phase begins with it where it has not yet.

    Args:
        what: goes there, and what is to be done to it.
        promised: when the firm says that it is back.
        chase: the day on which it is to be asked.
        price: as it was said.

    Raises:
        NoSuch: no such job or phase.
        Refused: it is no outwork; it is over, held, blocked, or away already; a day has been.
    """
    with acting(shop, by, "send outwork") as doing:
        row, phases = _outwork(doing, job, phase)
        refuse_workable_state(job, row)
        away = _away(doing, job, phase)
        if away is not None:
            raise Refused(
                f"{named(job, row)} is at {away['firm']} already. When it is here again: "
                f"hoistbook outwork back {job}.{phase}."
            )
        refuse_workable_hold(doing, job, row)
        refuse_blocked(doing, job, row, phases)
        if row.begun_at is not None and doing.at_text < row.begun_at:
            raise Refused(f"{named(job, row)} had not begun yet at that time. Give a later one.")
        _refuse_days(doing, promised, chase)
        if not what.strip() or not firm.strip():
            raise Refused("Say what is sent, and to which firm.")
        if row.state == "to come":
            doing.record(PhaseBegun(job=job, phase=phase, opens=opened_by(doing, job, row)))
        to = _firm(doing, firm)
        doing.record(
            OutworkSent(
                job=job, phase=phase, what=what.strip(), firm=to, promised=_text(promised),
                chase=_day(chase), price=price,
            )
        )  # fmt: skip
        says = f"{named(job, row)} is at {to}: {what.strip()}{_till(doing, promised, chase)}."
        return doing.done(says, job=job)


def _outwork(doing: Acting, job: str, phase: str) -> tuple[PhaseRow, list[PhaseRow]]:
    live_job(doing, job)
    phases = phases_of(doing.db, job)
    row = phase_row(phases, job, phase)
    if row.kind != "outwork":
        theirs = ", ".join(f"{job}.{one.phase}" for one in phases if one.kind == "outwork")
        raise Refused(
            f"{named(job, row)} is no work of another firm. Such are: {theirs or 'none'}."
        )
    return row, phases


def _away(doing: Acting, job: str, phase: str) -> sqlite3.Row | None:
    """What is away of a phase that is under way; what never came back of another try is not."""
    row: sqlite3.Row | None = doing.db.execute(
        "select outwork.* from outwork join phase using (job, phase) where job = ? and phase = ? "
        "and back_at is null and state = 'under way' and sent_at >= begun_at "
        "order by seq desc limit 1",
        [job, phase],
    ).fetchone()
    return row


def _firm(doing: Acting, firm: str) -> str:
    """A firm as it was written first: what is learned of it belongs together."""
    said = " ".join(firm.split())
    known = {
        one[0].casefold(): one[0]
        for one in doing.db.execute("select firm from outwork order by seq desc")
    }
    return str(known.get(said.casefold(), said))


def _refuse_days(doing: Acting, promised: datetime | None, chase: date | None) -> None:
    if promised is not None and promised <= doing.at:
        raise Refused("The time that was promised has been. Give a later one, or leave it out.")
    if promised is not None and promised > doing.at + LONGEST:
        raise Refused("The time that was promised lies years ahead. Check the year.")
    if chase is not None and chase < doing.today:
        raise Refused("The day to ask has been. Give a later one, or leave it out.")


def _text(at: datetime | None) -> str | None:
    return None if at is None else to_text(at)


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _till(doing: Acting, promised: datetime | None, chase: date | None) -> str:
    says = f", promised for {clock_time(promised, doing.calendar)}" if promised else ""
    return says + (f", to be asked on {chase:%a} {chase.day} {chase:%b}" if chase else "")


def chase(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str,
    said: str,
    promised: datetime | None = None,
    chase: date | None = None,
) -> Done:
    """Write down what the firm said when it was asked.

    Args:
        promised: when it says now that it is back; None leaves what it said before.
        chase: the day on which it is to be asked again; None: not again.

    Raises:
        NoSuch: no such job or phase.
        Refused: nothing of it is away, nothing was said, or a day has been.
    """
    with acting(shop, by, "send outwork") as doing:
        row, away = _sent(doing, job, phase)
        _refuse_days(doing, promised, chase)
        if not said.strip():
            raise Refused(f"Say what {away['firm']} answered.")
        now = promised or (from_text(away["promised_now"]) if away["promised_now"] else None)
        doing.record(
            OutworkChased(
                job=job, phase=phase, said=said.strip(), promised=_text(now), chase=_day(chase)
            )
        )
        says = f"{named(job, row)}: {away['firm']} says: {said.strip()}"
        return doing.done(f"{says}{_till(doing, promised, chase)}.", job=job)


def _sent(doing: Acting, job: str, phase: str) -> tuple[PhaseRow, sqlite3.Row]:
    row, _ = _outwork(doing, job, phase)
    away = _away(doing, job, phase)
    if away is None:
        raise Refused(
            f"Nothing of {named(job, row)} is away. Send it: hoistbook outwork send {job}.{phase}."
        )
    if doing.at_text < away["sent_at"]:
        raise Refused("It was not away yet at that time. Give a later one.")
    return row, away


def receive(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str,
    report: str | None = None,
    readings: Mapping[str, float] | None = None,
    answers: Mapping[str, str] | None = None,
    price: float | None = None,
) -> Done:
    """Take work of another firm in again; what its report says is signed, the phase finished.

    A result may be a decision that changes the route, or a reading outside its limits that holds
    the phase; where something in the phase stays open, so does the phase, and that is said.

    Args:
        readings: by name, as the phase's steps ask for them; `STEP:NAME` where two ask for one
            name. Figures that no step asks for stay in the report.
        answers: code of an answer by step; "" for the only decision.
        price: what it came to.

    Raises:
        NoSuch: no such job, phase or step.
        Refused: nothing of it is away, or the person may not sign what the report says.
    """
    with acting(shop, by, "receive outwork") as doing:
        row, away = _sent(doing, job, phase)
        given = dict(readings or {})
        doing.record(
            OutworkBack(job=job, phase=phase, report=report or None, readings=given, price=price)
        )
        said = [f"{named(job, row)} is back from {away['firm']}."]
        said += sign_report(doing, job, phase, given, dict(answers or {}))
        said.append(_over(doing, job, phase))
        return doing.done(" ".join(said), job=job)


def _over(doing: Acting, job: str, phase: str) -> str:
    """Finish the phase, or say what keeps it open."""
    phases = phases_of(doing.db, job)
    row = phase_row(phases, job, phase)
    try:
        refuse_unfinishable(doing, job, row, phases)
    except Refused as waits:
        return str(waits)
    return finished(doing, job, row)
