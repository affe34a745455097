"""Hired kits handed to the carrier again, and what follows: arrival, deposit, invoice."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from store.actions.acting import Acting, Done, acting
from store.actions.hires.days import counted_day, day_words
from store.actions.hires.here import pieces_of, refuse_unsaid
from store.actions.hires.kits_found import hire_back, hire_out, refuse_figure
from store.actions.words import money_words
from store.edges.events.hires import DepositReturned, HireArrivedBack, HireInvoiced, HireSentBack
from store.edges.instants import from_text
from store.file.change import By
from store.file.kits.now import OUT, uses_of
from store.file.kits.terms import terms_of
from store.file.shop import Shop
from store.sums.hires.charge import late_fee
from store.trouble import Refused


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
    dirty: bool = False,
    damage: str | None = None,
) -> Done:
    """Write down that a hired kit was handed to the carrier.

    Args:
        pieces: how many were counted.
        note: what lacks, where it is not complete.
        damage: what is broken or worn.

    Raises:
        NoSuch: no such hire.
        Refused: it never was here, a phase has it in use, or what was counted does not fit.
    """
    with acting(shop, by, "receive kit") as doing:
        row = hire_out(doing, hire, kit, job)
        if row["received_at"] is None:
            raise Refused(
                f"{row['name']} has not come yet, so it cannot go back. Where it is not wanted any "
                f"more: hoistbook hire cancel {row['kit']}."
            )
        if doing.at_text < row["received_at"]:
            raise Refused(f"{row['name']} came later than that. Give a later time.")
        if not complete:
            refuse_unsaid(note)
        _refuse_count(doing, row, complete, pieces)
        refuse_in_use(doing, row, "go back")
        doing.record(
            HireSentBack(
                hire=row["hire"], complete=complete, pieces=pieces, note=note, clean=not dirty,
                damage=damage,
            )
        )  # fmt: skip
        counted = (
            "" if pieces is None else f", {pieces} {'piece' if pieces == 1 else 'pieces'} counted"
        )
        lacks = "" if complete else f", not complete: {note}"
        says = f"{row['name']} went back to {row['supplier']}{counted}{lacks}."
        return doing.done(says + _day_paid(doing, row) + _looks(row, dirty, damage), job=row["job"])


def _refuse_count(doing: Acting, row: sqlite3.Row, complete: bool, pieces: int | None) -> None:
    if pieces is None:
        return
    if not 0 <= pieces <= 10_000:
        raise Refused("The pieces counted are 0 or more.")
    wanted = len(pieces_of(doing, row["kit"]))
    if complete and wanted and pieces < wanted:
        raise Refused(
            f"{row['name']} has {wanted} pieces and {pieces} were counted: say what lacks."
        )


def refuse_in_use(doing: Acting, row: sqlite3.Row, what: str) -> None:
    """Refuse to part with a kit that a phase has in use, or that is fixed on an open unit.

    Args:
        what: that it cannot: `go back`.

    Raises:
        Refused: naming the phase.
    """
    own = {
        one["job"]
        for one in doing.db.execute(
            f"select job from hire where kit = ? and hire != ? and {OUT} "
            "and received_at is not null",
            [row["kit"], row["hire"]],
        )
    }
    for use in uses_of(doing.db, [row["kit"]]):
        if row["job"] not in (None, use.job) or use.job in own or row["received_at"] is None:
            continue
        why = "is fixed on the open unit of" if use.captive else "is in use on"
        raise Refused(f"{row['name']} {why} {use.job}.{use.phase}: it cannot {what} yet.")


def _day_paid(doing: Acting, row: sqlite3.Row) -> str:
    """The day for which the hand-over counts, where it is another; and whether that is late."""
    terms = terms_of(row["terms"])
    if terms is None:
        return ""
    cut_off = terms.house.cut_off
    day = counted_day(doing.calendar, doing.at, cut_off)
    says = ""
    if day != doing.today:
        counts = day_words(doing, datetime.combine(day, cut_off, doing.calendar.zone))
        says = f" That is after the cut-off at {cut_off:%H:%M}: it goes, and counts, {counts}."
    due = doing.calendar.day_of(from_text(row["due"])) if row["due"] else day
    over = (day - due).days
    if over > 0:
        days = "1 day" if over == 1 else f"{over} days"
        says += (
            f" {days} late: {money_words(late_fee(terms, due, day))} besides, "
            f"{terms.house.late:g} x {money_words(terms.rates.day)} a day."
        )
    return says


def _looks(row: sqlite3.Row, dirty: bool, damage: str | None) -> str:
    terms = terms_of(row["terms"])
    says = ""
    if dirty:
        fee = f": {money_words(terms.house.cleaning)} for cleaning" if terms else ""
        says += f" Dirty{fee}."
    return f"{says} Damaged: {damage}." if damage else says


def arrived(
    shop: Shop,
    by: By,
    *,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
    note: str | None = None,
) -> Done:
    """Write down that the supplier has a kit again.

    Args:
        note: what the supplier says of it.

    Raises:
        NoSuch: no such kit.
        Refused: it was not sent back, that is written down already, or it was sent later.
    """
    with acting(shop, by, "receive kit") as doing:
        row = hire_back(doing, hire, kit, job, "arrived_at")
        if doing.at_text < row["sent_at"]:
            raise Refused(f"{row['name']} was handed to the carrier later. Give a later time.")
        doing.record(HireArrivedBack(hire=row["hire"], note=note))
        return doing.done(f"{row['supplier']} has {row['name']} again.", job=row["job"])


def deposit(
    shop: Shop,
    by: By,
    *,
    amount: float,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
    note: str | None = None,
) -> Done:
    """Write down that a deposit came back.

    Args:
        amount: less than was paid where something was kept.

    Raises:
        NoSuch: no such kit.
        Refused: it was not sent back, the deposit came already, or more comes than was paid.
    """
    with acting(shop, by, "hire kit") as doing:
        refuse_figure(amount, "The deposit")
        row = hire_back(doing, hire, kit, job, "deposit_at")
        terms = terms_of(row["terms"])
        paid = None if terms is None else terms.rates.deposit
        if paid is not None and amount > paid:
            raise Refused(
                f"{money_words(amount)} is more than the deposit of {row['name']}, "
                f"{money_words(paid)}. Check the amount."
            )
        doing.record(DepositReturned(hire=row["hire"], amount=amount, note=note))
        kept = "" if paid is None or amount == paid else f", {money_words(paid - amount)} were kept"
        return doing.done(
            f"Deposit of {row['name']} came back from {row['supplier']}: "
            f"{money_words(amount)}{kept}.",
            job=row["job"],
        )


def invoice(
    shop: Shop,
    by: By,
    *,
    amount: float,
    late_fee: float = 0.0,
    extras: float = 0.0,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
    note: str | None = None,
) -> Done:
    """Write down what a hire came to.

    Args:
        amount: all of it, late fee and extras included.
        extras: missing pieces, damage, cleaning.

    Raises:
        NoSuch: no such kit.
        Refused: it was not sent back, it is written down already, or the parts are more than all.
    """
    with acting(shop, by, "hire kit") as doing:
        refuse_figure(amount, "The amount")
        refuse_figure(late_fee, "The late fee")
        refuse_figure(extras, "The extras")
        if late_fee + extras > amount:
            raise Refused("Late fee and extras are parts of the amount: together not more than it.")
        row = hire_back(doing, hire, kit, job, "invoiced_at")
        doing.record(
            HireInvoiced(hire=row["hire"], amount=amount, late_fee=late_fee, extras=extras,
                         note=note)
        )  # fmt: skip
        return doing.done(
            f"Hire of {row['name']} at {row['supplier']} came to {money_words(amount)}.",
            job=row["job"],
        )
