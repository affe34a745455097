"""The kit, the supplier and the hire that somebody means."""

from __future__ import annotations

import math
import sqlite3
from collections.abc import Sequence

from store.actions.acting import Acting
from store.actions.trouble import NoSuch
from store.file.kits.now import OUT
from store.file.kits.terms import Offer, offers_now
from store.trouble import Refused

MOST = 1_000_000.0
"""More money than that for a kit is a slip of the fingers."""


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


def plain(name: str) -> str:
    """A supplier's name as it is compared: without case and blanks."""
    return "".join(name.split()).casefold()


def supplier_named(doing: Acting, name: str) -> str:
    """Return the name under which a supplier is known already, else what was typed.

    Raises:
        Refused: nothing was typed.
    """
    typed = " ".join(name.split())
    if not typed:
        raise Refused("Say which supplier: its name.")
    known = doing.db.execute(
        "select supplier from supplier union select supplier from offer "
        "union select supplier from hire order by supplier"
    )
    return next((row[0] for row in known if plain(row[0]) == plain(typed)), typed)


def offer_of(doing: Acting, kit: str, supplier: str) -> Offer | None:
    """Return what a kit costs at a supplier's now; None where nobody said."""
    return next(
        (one for one in offers_now(doing.db).get(kit, ()) if one.supplier == supplier), None
    )


def refuse_figure(value: float | None, what: str, *, most: float = MOST) -> None:
    """Refuse what is negative, no number, or more than it can be.

    Raises:
        Refused: naming the figure.
    """
    if value is None or (math.isfinite(value) and 0 <= value <= most):
        return
    raise Refused(f"{what} is 0 to {most:,.0f}, not {value:,.12g}. Type it anew.")


HIRE = "select hire.*, coalesce(name, hire.kit) as name from hire left join kit on code = hire.kit"
ANY = "any"
"""Instead of a job's number: the hire that is for any job."""
WHOM = (
    "(?1 is null or hire = ?1) and (?2 is null or hire.kit = ?2) "
    f"and (?3 is null or job = ?3 or (?3 = '{ANY}' and job is null))"
)


def hire_out(doing: Acting, hire: str | None, kit: str | None, job: str | None) -> sqlite3.Row:
    """Return the hire meant, not sent back yet.

    Raises:
        NoSuch: the work book has no such kit, or it is not hired.
        Refused: it is hired more than once, and it is not said for which job; or for another one.
    """
    if kit is not None:
        kit_row(doing, kit)
    rows: list[sqlite3.Row] = doing.db.execute(
        f"{HIRE} where {OUT} and {WHOM} order by asked_at, hire", [hire, kit, job]
    ).fetchall()
    if not rows:
        what = kit or hire or "kit"
        _refuse_other(doing, hire, kit)
        raise NoSuch(
            "hire of", what, f'Ask for it first: hoistbook hire ask {what} --supplier "…".'
        )
    return _the_one(doing, rows)


def _refuse_other(doing: Acting, hire: str | None, kit: str | None) -> None:
    """Refuse a job that a kit is not hired for, naming those that it is."""
    rows = doing.db.execute(f"{HIRE} where {OUT} and {WHOM}", [hire, kit, None]).fetchall()
    if rows:
        whom = ", ".join(row["job"] or "any job" for row in rows)
        raise Refused(f"{rows[0]['name']} is hired for {whom}, and for nobody else: {_say(rows)}.")


def _say(rows: Sequence[sqlite3.Row]) -> str:
    return f"say --job {' or --job '.join(row['job'] or ANY for row in rows)}"


def hire_back(
    doing: Acting, hire: str | None, kit: str | None, job: str | None, lacks: str
) -> sqlite3.Row:
    """Return the hire meant that was sent back, the oldest that lacks something.

    Args:
        lacks: the column that is still empty, like `arrived_at`.

    Raises:
        NoSuch: the work book has no such kit.
        Refused: it was not sent back, or nothing of that kind is to come of it.
    """
    if kit is not None:
        kit_row(doing, kit)
    rows: list[sqlite3.Row] = doing.db.execute(
        f"{HIRE} where sent_at is not null and {WHOM} order by sent_at, hire", [hire, kit, job]
    ).fetchall()
    if not rows:
        what = kit or hire or "that kit"
        raise Refused(f"Nothing of {what} was sent back: hoistbook hire return {what} comes first.")
    left = [row for row in rows if row[lacks] is None]
    if not left:
        raise Refused(f"That is written down of {rows[-1]['name']} already.")
    oldest = {row["job"]: row for row in reversed(left)}
    return _the_one(doing, sorted(oldest.values(), key=lambda row: (row["sent_at"], row["hire"])))


def _the_one(doing: Acting, rows: Sequence[sqlite3.Row]) -> sqlite3.Row:
    if len(rows) > 1:
        which = ", ".join(row["job"] or "any job" for row in rows)
        raise Refused(f"{rows[0]['kit']} is hired more than once, for {which}: {_say(rows)}.")
    doing.change.job = rows[0]["job"]
    return rows[0]
