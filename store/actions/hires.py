"""Hired tool kits: asked for, received, kept longer, sent back."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from store.actions.acting import Acting, Done, acting
from store.actions.hire_days import check_day, day_words
from store.actions.jobs_now import live_job
from store.actions.trouble import NoSuch
from store.edges.events_hire import (
    HireAsked,
    HireExtended,
    HireReceived,
    HireSentBack,
    HireTakenBack,
)
from store.edges.instants import from_text, to_text
from store.file.books import NoBook, book_on
from store.file.change import By
from store.file.kits_now import OUT, uses_of
from store.file.shop import Shop
from store.trouble import Refused


def ask(
    shop: Shop,
    by: By,
    *,
    kit: str,
    supplier: str,
    job: str | None = None,
    expected: datetime | None = None,
    due: datetime | None = None,
) -> Done:
    """Write down that a kit was asked for at a supplier's.

    Args:
        kit: its code in the work book.
        job: what it is for; None where any job may use it.
        expected: when it is to be here.
        due: when it is to be handed to the carrier again.

    Raises:
        NoSuch: no such kit or job.
        Refused: the shop owns it, it is hired for that job already, or a day cannot be.
    """
    with acting(shop, by, "hire kit") as doing:
        if job is not None:
            live_job(doing, job)
        row = kit_row(doing, kit)
        if row["owned"]:
            raise Refused(f"The shop owns {row['name']}: it is not hired.")
        if not supplier.strip():
            raise Refused("Say at which supplier's it was asked for.")
        _refuse_twice(doing, kit, job)
        check_day(doing, expected, "It is expected")
        check_day(doing, due, "It goes back")
        if expected is not None and due is not None and due <= expected:
            raise Refused("It would go back before it is here. Check the two days.")
        doing.record(
            HireAsked(
                hire=doing.change.new_id("h"), kit=kit, supplier=supplier.strip(), job=job,
                expected=_text(expected), due=_text(due),
            )
        )  # fmt: skip
        when = f", expected {day_words(doing, expected)}" if expected else ", nobody said when"
        back = f", goes back {day_words(doing, due)}" if due else ""
        forjob = f" for {job}" if job else ""
        says = f"{row['name']} asked for at {supplier.strip()}{forjob}{when}{back}."
        return doing.done(says, job=job)


def kit_row(doing: Acting, code: str) -> sqlite3.Row:
    """Return a kit by its code.

    Raises:
        NoSuch: the work book has none of that code.
    """
    row: sqlite3.Row | None = doing.db.execute(
        "select code, name, owned from kit where code = ?", [code]
    ).fetchone()
    if row is None:
        there = [one[0] for one in doing.db.execute("select code from kit order by code")]
        raise NoSuch("kit", code, f"The work book has: {', '.join(there) or 'none'}.")
    return row


def _refuse_twice(doing: Acting, kit: str, job: str | None) -> None:
    again = doing.db.execute(
        f"select supplier from hire where kit = ? and job is ? and {OUT}", [kit, job]
    ).fetchone()
    if again is not None:
        where = f"for {job}" if job else "for the shop"
        raise Refused(f"{kit} is hired {where} already, at {again['supplier']}.")


def _text(at: datetime | None) -> str | None:
    return None if at is None else to_text(at)


def receive(
    shop: Shop,
    by: By,
    *,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
    complete: bool = True,
    note: str | None = None,
    due: datetime | None = None,
) -> Done:
    """Write down that a hired kit is here, looked through against its list.

    Args:
        hire: its id; else `kit`, with `job` where several of that kit are hired.
        note: what lacks, where it is not complete.
        due: when it goes back, where that was not said before.

    Raises:
        NoSuch: no such hire.
        Refused: it is here already, what lacks or when it goes back is not said, or the day
            cannot be.
    """
    with acting(shop, by, "receive kit") as doing:
        row = _hire(doing, hire, kit, job)
        if row["received_at"]:
            raise Refused(f"{row['name']} is here since {_since(doing, row['received_at'])}.")
        _refuse_unsaid(complete, note)
        check_day(doing, due, "It goes back")
        if due is None and row["due"] is None:
            raise Refused(f"Say when {row['name']} goes back to {row['supplier']}: its due day.")
        doing.record(HireReceived(hire=row["hire"], complete=complete, note=note, due=_text(due)))
        goes = day_words(doing, due or from_text(row["due"]))
        state = "" if complete else f", not complete: {note}. Tell {row['supplier']} now"
        return doing.done(f"{row['name']} is here{state}; it goes back {goes}.", job=row["job"])


def _refuse_unsaid(complete: bool, note: str | None) -> None:
    if not complete and not (note or "").strip():
        raise Refused("Say what lacks of the kit.")


def _since(doing: Acting, at: str) -> str:
    return day_words(doing, from_text(at))


def _hire(doing: Acting, hire: str | None, kit: str | None, job: str | None) -> sqlite3.Row:
    """The hire meant, not sent back yet."""
    if kit is not None:
        kit_row(doing, kit)
    rows: list[sqlite3.Row] = doing.db.execute(
        "select hire.*, kit.name from hire join kit on kit.code = hire.kit "
        f"where {OUT} and (? is null or hire = ?) and (? is null or kit.code = ?) "
        "and (? is null or job = ?) order by asked_at, hire",
        [hire, hire, kit, kit, job, job],
    ).fetchall()
    if not rows:
        what = kit or hire or "kit"
        raise NoSuch(
            "hire of", what, f'Ask for it first: hoistbook hire ask {what} --supplier "…".'
        )
    if len(rows) > 1:
        which = ", ".join(row["job"] or "the shop" for row in rows)
        raise Refused(f"{kit} is hired more than once, for {which}: say for which job.")
    doing.change.job = rows[0]["job"]
    return rows[0]


def extend(
    shop: Shop,
    by: By,
    *,
    due: datetime,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
) -> Done:
    """Keep a hired kit until another day.

    Raises:
        NoSuch: no such hire.
        Refused: it is that day already, or the day cannot be.
    """
    with acting(shop, by, "hire kit") as doing:
        row = _hire(doing, hire, kit, job)
        check_day(doing, due, "It goes back")
        if row["due"] == to_text(due):
            raise Refused(f"{row['name']} goes back {day_words(doing, due)} already.")
        doing.record(HireExtended(hire=row["hire"], due=to_text(due)))
        return doing.done(
            f"{row['name']} goes back {day_words(doing, due)}: tell {row['supplier']}.",
            job=row["job"],
        )


def send_back(
    shop: Shop,
    by: By,
    *,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
    complete: bool = True,
    pieces: int | None = None,
    note: str | None = None,
) -> Done:
    """Write down that a hired kit was handed to the carrier.

    Args:
        pieces: how many were counted.
        note: what lacks, where it is not complete.

    Raises:
        NoSuch: no such hire.
        Refused: it never was here, a phase has it in use, or what was counted does not fit.
    """
    with acting(shop, by, "receive kit") as doing:
        row = _hire(doing, hire, kit, job)
        if row["received_at"] is None:
            raise Refused(
                f"{row['name']} has not come yet, so it cannot go back. Where it is not wanted any "
                f"more: hoistbook hire cancel {row['kit']}."
            )
        if doing.at_text < row["received_at"]:
            raise Refused(f"{row['name']} came later than that. Give a later time.")
        _refuse_unsaid(complete, note)
        _refuse_count(doing, row, complete, pieces)
        _refuse_in_use(doing, row)
        doing.record(HireSentBack(hire=row["hire"], complete=complete, pieces=pieces, note=note))
        counted = "" if pieces is None else f", {pieces} pieces counted"
        lacks = "" if complete else f", not complete: {note}"
        says = f"{row['name']} went back to {row['supplier']}{counted}{lacks}."
        return doing.done(says, job=row["job"])


def _refuse_count(doing: Acting, row: sqlite3.Row, complete: bool, pieces: int | None) -> None:
    if pieces is None:
        return
    if not 0 <= pieces <= 10_000:
        raise Refused("The pieces counted are 0 or more.")
    wanted = pieces_of(doing, row["kit"])
    if complete and wanted and pieces < wanted:
        raise Refused(
            f"{row['name']} has {wanted} pieces and {pieces} were counted: say what lacks."
        )


def pieces_of(doing: Acting, kit: str) -> int:
    """Return how many pieces a kit has by the work book; 0 where it does not say."""
    try:
        _, book = book_on(doing.db, doing.today)
    except NoBook:
        return 0
    return next((len(one.contains) for one in book.kits if one.code == kit), 0)


def _refuse_in_use(doing: Acting, row: sqlite3.Row) -> None:
    for use in uses_of(doing.db, [row["kit"]]):
        if row["job"] not in (None, use.job):
            continue
        why = "is fixed on the open unit of" if use.captive else "is in use on"
        raise Refused(f"{row['name']} {why} {use.job}.{use.phase}: it cannot go back yet.")


def cancel(
    shop: Shop, by: By, *, hire: str | None = None, kit: str | None = None, job: str | None = None
) -> Done:
    """Take back that a kit was asked for: it is not wanted any more.

    Raises:
        NoSuch: no such hire.
        Refused: it is here already.
    """
    with acting(shop, by, "hire kit") as doing:
        row = _hire(doing, hire, kit, job)
        if row["received_at"]:
            raise Refused(f"{row['name']} is here: send it back instead.")
        doing.record(HireTakenBack(hire=row["hire"], kit=row["kit"]))
        return doing.done(
            f"{row['name']} is not wanted any more: tell {row['supplier']}.", job=row["job"]
        )
