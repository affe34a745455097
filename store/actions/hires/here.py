"""Hired kits received: looked through against their list on the day they come."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Sequence
from datetime import date, datetime

from store.actions.acting import Acting, Done, acting
from store.actions.hires.days import check_due, day_words
from store.actions.hires.kits_found import hire_out, plain
from store.edges.events.hires import HireMended, HireReceived
from store.edges.instants import from_text, to_text
from store.file.books import NoBook, book_on
from store.file.change import By
from store.file.kits.now import OUT
from store.file.shop import Shop
from store.trouble import Refused


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
    missing: Sequence[str] = (),
    wrong: bool = False,
    serial: str | None = None,
    valid_until: date | None = None,
) -> Done:
    """Write down that a hired kit is here, looked through against its list.

    Args:
        hire: its id; else `kit`, with `job` where several of that kit are hired.
        note: what lacks, where it is not complete and no piece is named.
        due: when it goes back, where that was not said before.
        missing: pieces of its list that lack; one that is there twice may lack twice.
        wrong: the wrong variant came.
        valid_until: its own calibration or inspection date, where it carries one.

    Raises:
        NoSuch: no such hire.
        Refused: it is here already, what lacks or when it goes back is not said, a piece is not of
            its list, its serial number is here already, or the day cannot be.
    """
    with acting(shop, by, "receive kit") as doing:
        row = hire_out(doing, hire, kit, job)
        if row["received_at"]:
            raise Refused(f"{row['name']} is here since {_since(doing, row['received_at'])}.")
        if doing.at_text < row["asked_at"]:
            raise Refused(
                f"{row['name']} was asked for later than that, {_since(doing, row['asked_at'])}. "
                "Give a later time."
            )
        lacks = _pieces(doing, row, missing)
        whole = complete and not lacks and not wrong
        if not whole and not lacks and not wrong:
            refuse_unsaid(note)
        check_due(doing, due)
        if due is None and row["due"] is None:
            raise Refused(f"Say when {row['name']} goes back to {row['supplier']}: its due day.")
        serial = _serial(doing, row, serial)
        doing.record(
            HireReceived(
                hire=row["hire"], complete=whole, note=note,
                due=None if due is None else to_text(due), serial=serial, missing=lacks,
                wrong=wrong, valid_until=None if valid_until is None else valid_until.isoformat(),
            )
        )  # fmt: skip
        goes = day_words(doing, due or from_text(row["due"]))
        says = (
            f"{row['name']} is here{_state(row, whole, lacks, wrong, note)}; it goes back {goes}."
        )
        return doing.done(says + _further(doing, row, whole, valid_until), job=row["job"])


def refuse_unsaid(note: str | None) -> None:
    """Refuse a kit that is not complete and nobody says what lacks.

    Raises:
        Refused: so.
    """
    if not (note or "").strip():
        raise Refused("Say what lacks of the kit.")


def _state(
    row: sqlite3.Row, whole: bool, lacks: Sequence[str], wrong: bool, note: str | None
) -> str:
    if whole:
        return ""
    what = "the wrong variant" if wrong else "not complete"
    named = ", ".join(lacks) or (note if not wrong else None)
    return f", {what}{f': {named}' if named else ''}. Tell {row['supplier']} now"


def _further(doing: Acting, row: sqlite3.Row, whole: bool, valid_until: date | None) -> str:
    """What is to be done now, and not at the bench."""
    says = ""
    if not whole:
        says += (
            " No phase that needs it begins before it is whole. When that came: "
            f"hoistbook hire mend {row['kit']}."
        )
    if valid_until is not None and valid_until < doing.today:
        says += f" It must not be used: its date ran out on {valid_until}. Ask for another."
    return says


def _pieces(doing: Acting, row: sqlite3.Row, missing: Sequence[str]) -> list[str]:
    """The pieces as the work book writes them."""
    there = pieces_of(doing, row["kit"])
    if not there:
        return [one.strip() for one in missing if one.strip()]
    left = Counter(there)
    found: list[str] = []
    for typed in missing:
        fits = [one for one in left if left[one] and plain(one) == plain(typed)]
        if not fits:
            raise Refused(f"{row['name']} has no {typed.strip()!r} more. It has: {_listed(there)}.")
        left[fits[0]] -= 1
        found.append(fits[0])
    return found


def _listed(pieces: Sequence[str]) -> str:
    return ", ".join(f"{n} x {one}" if n > 1 else one for one, n in Counter(pieces).items())


def pieces_of(doing: Acting, kit: str) -> tuple[str, ...]:
    """Return the pieces of a kit by the work book; none where it does not say."""
    try:
        _, book = book_on(doing.db, doing.today)
    except NoBook:
        return ()
    return next((one.contains for one in book.kits if one.code == kit), ())


def _serial(doing: Acting, row: sqlite3.Row, serial: str | None) -> str | None:
    """The serial number, where no other kit here bears it."""
    if serial is None or not serial.strip():
        return None
    for other in doing.db.execute(
        f"select supplier, job, serial from hire where kit = ? and serial is not null and {OUT}",
        [row["kit"]],
    ):
        if plain(other["serial"]) == plain(serial):
            whom = f" for {other['job']}" if other["job"] else ""
            raise Refused(
                f"{row['name']} with serial number {serial.strip()} is here already, from "
                f"{other['supplier']}{whom}: one kit is hired once at a time. Read it again."
            )
    return serial.strip()


def _since(doing: Acting, at: str) -> str:
    return day_words(doing, from_text(at))


def mend(
    shop: Shop,
    by: By,
    *,
    hire: str | None = None,
    kit: str | None = None,
    job: str | None = None,
    note: str | None = None,
) -> Done:
    """Write down that what lacked of a kit came, or the right variant did.

    Raises:
        NoSuch: no such hire.
        Refused: it has not come, or nothing lacks of it.
    """
    with acting(shop, by, "receive kit") as doing:
        row = hire_out(doing, hire, kit, job)
        if row["received_at"] is None:
            raise Refused(f"{row['name']} has not come yet: hoistbook hire receive {row['kit']}.")
        if row["complete"]:
            raise Refused(f"Nothing lacks of {row['name']}.")
        doing.record(HireMended(hire=row["hire"], note=note))
        return doing.done(f"{row['name']} is whole now.", job=row["job"])
