"""Parts and kits of one job, as the card and its forms need them."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import datetime
from typing import cast

from store.edges.instants import from_text
from store.file.kits.now import Use, uses_of
from store.file.shop import Shop
from store.rules.part_states import PartState
from store.views.parts_values import HireOut, KitAt, KitOnCard, PartOnCard
from store.views.tools.hired import hires_out


def part_lines(db: sqlite3.Connection, job: str) -> tuple[PartOnCard, ...]:
    """Return the part lines of a job in their order."""
    rows = db.execute(
        "select part.*, coalesce(phase.state = 'skipped', part.phase is not null) as left_out "
        "from part left join phase on phase.job = part.job and phase.phase = part.phase "
        "where part.job = ? order by line",
        [job],
    )
    return tuple(
        PartOnCard(
            row["line"], row["text"], row["phase"], bool(row["renewed"]),
            cast("PartState", row["state"]), _at(row["expected"]), row["supplier"], row["batch"],
            row["note"], row["price"], _at(row["moved_at"]), bool(row["left_out"]),
        )
        for row in rows
    )  # fmt: skip


def _at(text: str | None) -> datetime | None:
    return from_text(text) if text else None


def kit_lines(db: sqlite3.Connection, job: str) -> tuple[KitOnCard, ...]:
    """Return the kits of a job: those of phases not done yet, then others hired for it."""
    phases: dict[str, list[str]] = {}
    for row in db.execute(
        "select kit.value, phase from phase, json_each(phase.kits) as kit where job = ? "
        "and state in ('to come', 'under way') order by position",
        [job],
    ):
        phases.setdefault(row[0], []).append(row[1])
    hires = hires_out(db)
    codes = [*phases, *(one.kit for one in hires if one.job == job and one.kit not in phases)]
    codes = list(dict.fromkeys(codes))
    uses = uses_of(db, codes)
    known = {row["code"]: row for row in db.execute("select code, name, owned from kit")}
    return tuple(
        _kit(job, known[code], phases.get(code, []), hires, uses) for code in codes if code in known
    )


def _kit(
    job: str,
    row: sqlite3.Row,
    phases: Sequence[str],
    hires: Sequence[HireOut],
    uses: Sequence[Use],
) -> KitOnCard:
    code, owned = row["code"], bool(row["owned"])
    own = [one for one in hires if one.kit == code and one.job == job]
    hire = next(iter(own or [one for one in hires if one.kit == code and one.job is None]), None)
    mine = any(one.kit == code and one.job == job for one in uses)
    busy = next((one.job for one in uses if one.kit == code and one.job != job), None)
    at: KitAt = "here"
    if mine:
        at = "in use"
    elif not owned and (hire is None or hire.received_at is None):
        at = "not asked" if hire is None else "asked"
    elif not owned and hire is not None and not hire.complete:
        at = "not complete"
    elif busy is not None and (owned or (hire is not None and hire.job is None)):
        at = "elsewhere"
    return KitOnCard(
        code, row["name"], owned, at, busy if at == "elsewhere" else None, tuple(phases),
        None if owned else hire,
    )  # fmt: skip


def pieces_of(shop: Shop, job: str) -> dict[str, tuple[str, ...]]:
    """Return what the kits of a job contain by its work book, by their codes.

    Raises:
        Trouble: the file cannot be read.
    """
    from store.file.books import book_of  # brings models that a card does not need

    with shop.reading() as db:
        row = db.execute("select version from job where job = ?", [job]).fetchone()
        if row is None or row[0] is None:
            return {}
        return {one.code: one.contains for one in book_of(db, row[0]).kits}
