"""Parts that a job needs: listed, ordered, here, wrong, returned, fitted."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from datetime import datetime, timedelta

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import job_row, live_job, phase_row, refuse_workable_state
from store.edges.events.parts import PartLine, PartsListed, PartsMoved
from store.edges.instants import from_text, to_text
from store.file.books import book_of
from store.file.change import By
from store.file.route_now import PhaseRow, phases_of
from store.file.shop import Shop
from store.rules.part_states import PartState, why_not
from store.rules.renewed import Renewed, renewed
from store.rules.route_when import Vehicle
from store.trouble import Refused

FURTHEST = timedelta(days=2 * 366)
"""A day further ahead is a slip of the fingers."""
STILL_TO_DO = ("to come", "under way")


def list_parts(
    shop: Shop, by: By, *, job: str, texts: Sequence[str], phase: str | None = None
) -> Done:
    """Write down parts that a job needs.

    Args:
        phase: number of the phase for which they must be here; None for the job.

    Raises:
        NoSuch: no such job or phase.
        Refused: the phase is over, nothing is named, or the job has such a line already.
    """
    with acting(shop, by, "list parts") as doing:
        live_job(doing, job)
        if phase is not None:
            refuse_workable_state(job, phase_row(phases_of(doing.db, job), job, phase))
        said = list(dict.fromkeys(one.strip() for one in texts if one.strip()))
        if not said:
            raise Refused("Say which part: what it is, and how many.")
        _refuse_listed(doing, job, said, phase)
        lines = _record_lines(doing, job, [(one, phase) for one in said])
        where = job if phase is None else f"{job}.{phase}"
        listed = ", ".join(f"{line} {text}" for line, text in zip(lines, said, strict=True))
        return doing.done(f"{where} needs: {listed}.", job=job)


def _refuse_listed(doing: Acting, job: str, said: Sequence[str], phase: str | None) -> None:
    there = {(row["text"].casefold(), row["phase"]): row for row in lines_of(doing.db, job)}
    for one in said:
        row = there.get((one.casefold(), phase))
        if row is not None and row["state"] != "not needed":
            raise Refused(f"{job} has that part already: line {row['line']}, {row['state']}.")


def _record_lines(
    doing: Acting, job: str, parts: Sequence[tuple[str, str | None]], *, renews: bool = False
) -> list[int]:
    first = max((row["line"] for row in lines_of(doing.db, job)), default=0) + 1
    lines = [
        PartLine(line=line, text=text, phase=phase, renewed=renews)
        for line, (text, phase) in enumerate(parts, first)
    ]
    doing.record(PartsListed(job=job, lines=lines))
    return [one.line for one in lines]


def lines_of(db: sqlite3.Connection, job: str) -> list[sqlite3.Row]:
    """Return the part lines of a job as the table has them."""
    return db.execute("select * from part where job = ? order by line", [job]).fetchall()


def move_parts(
    shop: Shop,
    by: By,
    *,
    job: str,
    lines: Sequence[int],
    state: PartState,
    expected: datetime | None = None,
    supplier: str | None = None,
    batch: str | None = None,
    note: str | None = None,
    price: float | None = None,
) -> Done:
    """Write down what became of parts: ordered, here, wrong, returned, fitted, not needed.

    In the state they are in already, what else is said of them is told anew.

    Args:
        expected: when they are likely to be here; said as not known where they are ordered
            without.
        batch: batch or serial number, where it matters.
        price: of each line, in the shop's currency.

    Raises:
        NoSuch: no such job.
        Refused: no such line; what cannot follow what it is now; the day lies in the past or
            years ahead; nothing new is said.
    """
    with acting(shop, by, "list parts") as doing:
        live_job(doing, job)
        rows = _named(doing, job, lines)
        for row in rows:
            reason = why_not(row["state"], state)
            if reason:
                raise Refused(f"{job}: line {row['line']}, {row['text']}, {reason}")
        if price is not None and not 0 <= price <= 1e9:
            raise Refused("The price of a part is 0 or more.")
        day = _expected(doing, expected)
        details = (day, supplier, batch, note, price)
        if all(row["state"] == state for row in rows) and not any(
            one is not None for one in details
        ):
            raise Refused(f"{job}: that is {state} already. Nothing was changed.")
        doing.record(
            PartsMoved(
                job=job, lines=[row["line"] for row in rows], state=state, expected=day,
                supplier=supplier, batch=batch, note=note, price=price,
            )
        )  # fmt: skip
        return doing.done(_moved_says(doing, job, rows, state, expected), job=job)


def _named(doing: Acting, job: str, lines: Sequence[int]) -> list[sqlite3.Row]:
    there = {row["line"]: row for row in lines_of(doing.db, job)}
    if not there:
        raise Refused(f'{job} has no parts listed. List them: hoistbook parts add {job} "TEXT".')
    if not lines:
        raise Refused(f"Say which lines: {job} has 1 to {max(there)}.")
    lacking = next((line for line in lines if line not in there), None)
    if lacking is not None:
        raise Refused(f"{job} has no part line {lacking}. It has 1 to {max(there)}.")
    return [there[line] for line in dict.fromkeys(lines)]


def _expected(doing: Acting, expected: datetime | None) -> str | None:
    if expected is None:
        return None
    if expected <= doing.at:
        raise Refused("They are expected in the past. Give a later day, or say that they are here.")
    if expected > doing.at + FURTHEST:
        raise Refused("They are expected years ahead. Check the year, or leave the day out.")
    return to_text(expected)


def _moved_says(
    doing: Acting, job: str, rows: Sequence[sqlite3.Row], state: PartState, at: datetime | None
) -> str:
    what = ", ".join(f"{row['line']} {row['text']}" for row in rows)
    if state == "ordered" and at is None:
        return f"{job} ordered: {what}. Nobody has said when they come: ask the supplier."
    day = "" if at is None else f", expected {_day(doing, at)}"
    says = f"{job} {state}: {what}{day}."
    phase = _waiting_phase(doing, job, rows) if state == "wrong" else None
    if phase is None:
        return says
    return f"{says} {job}.{phase} is under way: hoistbook hold {job}.{phase} --reason parts."


def _day(doing: Acting, at: datetime) -> str:
    local = at.astimezone(doing.calendar.zone)
    return f"{local:%a} {local.day} {local:%b}"


def _waiting_phase(doing: Acting, job: str, rows: Sequence[sqlite3.Row]) -> str | None:
    """The phase under way that cannot go on without these parts."""
    wanted = {row["phase"] for row in rows}
    return next(
        (
            one.phase
            for one in phases_of(doing.db, job)
            if one.state == "under way" and one.phase in wanted
        ),
        None,
    )


# -- what the work book renews every time


def list_renewed(doing: Acting, job: str) -> str | None:
    """List what the work book renews every time on a job whose route was just laid.

    Returns:
        A sentence about it; None where there is nothing to list.
    """
    return _list_missing(doing, job, to_renew(doing, job, phases_of(doing.db, job)))


def to_renew(doing: Acting, job: str, phases: Sequence[PhaseRow]) -> tuple[Renewed, ...]:
    """Return what the work book renews for these phases of a job; nothing for a small one."""
    row = job_row(doing.db, job)
    if row.version is None:
        return ()
    vehicle = Vehicle(row.family, row.grade, json.loads(row.options))
    live = {one.code: one.phase for one in phases if one.state != "skipped"}
    return renewed(book_of(doing.db, row.version), json.loads(row.operations), vehicle, live)


def _list_missing(doing: Acting, job: str, parts: Sequence[Renewed]) -> str | None:
    there = {(row["text"].casefold(), row["phase"]) for row in lines_of(doing.db, job)}
    new = [one for one in parts if one.same() not in there]
    if not new:
        return None
    _record_lines(doing, job, [(one.text, one.phase) for one in new], renews=True)
    return f"Parts to renew: {len(new)} listed." if len(new) > 1 else f"To renew: {new[0].text}."


def follow_route(doing: Acting, job: str, before: Sequence[Renewed]) -> str | None:
    """Let the part lines follow a changed route; what was ordered or is here is only said.

    Args:
        before: what the work book renewed with the route as it was.

    Returns:
        What changed, in words; None where nothing did.
    """
    now = to_renew(doing, job, phases_of(doing.db, job))
    wanted, was = {one.same() for one in now}, {one.same() for one in before}
    lines = {(row["text"].casefold(), row["phase"]): row for row in lines_of(doing.db, job)}
    gone = [row for same, row in lines.items() if _falls_away(doing, job, row, was - wanted, same)]
    back = [
        row for same, row in lines.items() if same in wanted - was and row["state"] == "not needed"
    ]
    says = [
        _turn(doing, job, [row for row in gone if row["state"] == "wanted"], "not needed"),
        _kept(job, [row for row in gone if row["state"] in ("ordered", "here", "wrong")]),
        _turn(doing, job, back, "wanted"),
        _list_missing(doing, job, [one for one in now if one.same() not in was]),
    ]
    return " ".join(one for one in says if one) or None


def _falls_away(
    doing: Acting, job: str, row: sqlite3.Row, lost: set[tuple[str, str]], same: tuple[str, str]
) -> bool:
    """It is renewed no more, or somebody listed it for a phase that is not done any more."""
    if same in lost:
        return True
    states = {one.phase: one.state for one in phases_of(doing.db, job)}
    return row["phase"] is not None and states.get(row["phase"], "skipped") == "skipped"


def _turn(doing: Acting, job: str, rows: Sequence[sqlite3.Row], state: PartState) -> str | None:
    if not rows:
        return None
    doing.record(PartsMoved(job=job, lines=[row["line"] for row in rows], state=state))
    what = ", ".join(row["text"] for row in rows)
    return f"Parts not needed any more: {what}." if state == "not needed" else f"Needed: {what}."


def _kept(job: str, rows: Sequence[sqlite3.Row]) -> str | None:
    """What somebody has paid for is not dropped behind their back."""
    if not rows:
        return None
    what = ", ".join(f"{row['line']} {row['text']} ({row['state']})" for row in rows)
    return f"Not needed, but bought: {what}. Send it back, or hoistbook parts drop {job}."


def expected_of(row: sqlite3.Row) -> datetime | None:
    """Return when a line is expected."""
    return from_text(row["expected"]) if row["expected"] else None
