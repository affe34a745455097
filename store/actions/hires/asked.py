"""Hired tool kits: asked for, kept longer, given to another job, called off.

Receiving stands in `here`, sending back and what follows in `back`.
"""

from __future__ import annotations

import sqlite3
from datetime import datetime

from store.actions.acting import Acting, Done, acting
from store.actions.hires.back import arrived, deposit, invoice, refuse_in_use, send_back
from store.actions.hires.days import check_day, check_due, comes_after, day_words
from store.actions.hires.here import mend, pieces_of, receive
from store.actions.hires.kits_found import hire_out, kit_row
from store.actions.hires.needed import (
    asked_at,
    frozen,
    needs_kit,
    refuse_needless,
    refuse_twice,
    unknown_words,
)
from store.actions.jobs_now import live_job
from store.edges.events.hires import HireAsked, HireExtended, HireGiven, HireTakenBack
from store.edges.instants import from_text, to_text
from store.file.change import By
from store.file.shop import Shop
from store.trouble import Refused

__all__ = [
    "arrived", "ask", "cancel", "deposit", "extend", "give", "invoice", "kit_row", "mend",
    "pieces_of", "receive", "send_back",
]  # fmt: skip


def ask(
    shop: Shop,
    by: By,
    *,
    kit: str,
    supplier: str | None = None,
    job: str | None = None,
    expected: datetime | None = None,
    due: datetime | None = None,
    why: str | None = None,
) -> Done:
    """Write down that a kit was asked for, with the supplier's terms as they are now.

    Args:
        kit: its code in the work book.
        supplier: None where only one offers it.
        job: what it is for; None where any job may use it.
        expected: when it is to be here; None: as long as the supplier usually takes.
        due: when it is to be handed to the carrier again; may be said later.
        why: a reason to hire what no job needs, or a second one of what the shop owns.

    Raises:
        NoSuch: no such kit or job.
        Refused: nobody needs it, it is hired for that job already, or a day cannot be.
    """
    with acting(shop, by, "hire kit") as doing:
        if job is not None:
            live_job(doing, job)
        row = kit_row(doing, kit)
        if why is None:
            refuse_needless(doing, row, job)
        named, terms = asked_at(doing, kit, supplier)
        refuse_twice(doing, kit, job)
        check_day(doing, expected, "It is expected")
        check_due(doing, due)
        if expected is None and terms is not None:
            expected = comes_after(doing.calendar, doing.at, terms.house.lead_days)
        if expected is not None and due is not None and due <= expected:
            raise Refused("It would go back before it is here. Check the two days.")
        doing.record(
            HireAsked(
                hire=doing.change.new_id("h"), kit=kit, supplier=named, job=job,
                expected=_text(expected), due=_text(due),
                terms=None if terms is None else frozen(terms), note=why,
            )
        )  # fmt: skip
        says = _asked_words(doing, row, named, job, expected, due)
        return doing.done(
            says if terms is not None else says + unknown_words(doing, kit, named), job=job
        )


def _text(at: datetime | None) -> str | None:
    return None if at is None else to_text(at)


def _asked_words(
    doing: Acting,
    row: sqlite3.Row,
    supplier: str,
    job: str | None,
    expected: datetime | None,
    due: datetime | None,
) -> str:
    when = f", expected {day_words(doing, expected)}" if expected else ", nobody said when"
    back = f", goes back {day_words(doing, due)}" if due else ""
    forjob = f" for {job}" if job else ""
    return f"{row['name']} asked for at {supplier}{forjob}{when}{back}."


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
        row = hire_out(doing, hire, kit, job)
        check_due(doing, due)
        if row["due"] == to_text(due):
            raise Refused(f"{row['name']} goes back {day_words(doing, due)} already.")
        if row["received_at"] is None and row["expected"] and due <= from_text(row["expected"]):
            raise Refused("It would go back before it is here. Check the two days.")
        doing.record(HireExtended(hire=row["hire"], due=to_text(due)))
        return doing.done(
            f"{row['name']} goes back {day_words(doing, due)}: tell {row['supplier']}.",
            job=row["job"],
        )


def give(
    shop: Shop,
    by: By,
    *,
    to: str | None,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
) -> Done:
    """Let another job use a hired kit, or any.

    Args:
        to: the job's number; None: any that needs it, once it is free.

    Raises:
        NoSuch: no such hire or job.
        Refused: it is in use or fixed on an open unit, it is for that job already, or that job
            does not need it or has its own.
    """
    with acting(shop, by, "hire kit") as doing:
        row = hire_out(doing, hire, kit, job)
        whom = to or "any job"
        if row["job"] == to:
            raise Refused(f"{row['name']} is for {whom} already.")
        if to is not None:
            live_job(doing, to)
            if not needs_kit(doing, to, row["kit"]):
                raise Refused(f"{to} has no phase to come that needs {row['name']}.")
            refuse_in_use(doing, row, "be given away")
        refuse_twice(doing, row["kit"], to)
        doing.change.job = to or row["job"]
        doing.record(HireGiven(hire=row["hire"], to=to))
        return doing.done(f"{row['name']} is for {whom} now{_before(row)}.", job=to or row["job"])


def _before(row: sqlite3.Row) -> str:
    return f", no longer for {row['job']} alone" if row["job"] else ""


def cancel(
    shop: Shop, by: By, *, hire: str | None = None, kit: str | None = None, job: str | None = None
) -> Done:
    """Take back that a kit was asked for: it is not wanted any more.

    Raises:
        NoSuch: no such hire.
        Refused: it is here already.
    """
    with acting(shop, by, "hire kit") as doing:
        row = hire_out(doing, hire, kit, job)
        if row["received_at"]:
            raise Refused(f"{row['name']} is here: send it back instead.")
        doing.record(HireTakenBack(hire=row["hire"], kit=row["kit"]))
        return doing.done(
            f"{row['name']} is not wanted any more: tell {row['supplier']}.", job=row["job"]
        )
