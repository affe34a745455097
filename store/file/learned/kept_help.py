"""What helps most, as the shop file keeps it; read without any array."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from typing import Any

from store.edges.instants import from_text, to_text
from store.file.learned.helping import Chance, Help, Helped
from store.file.learned.kept import Position, Spread, is_here, make_again

FORM = 1
DIGITS = 4
"""Of hours: less than a second."""


def keep_help(db: sqlite3.Connection, found: Help, fit_seq: int) -> bool:
    """Write it down inside an open transaction, in place of what was known before.

    Args:
        fit_seq: the newest entry that what was learned knew.

    Returns:
        False where the file is another one by now, and nothing was written.
    """
    if not is_here(db, found.at):
        return False
    make_again(db)
    db.execute(
        "insert or replace into learned_help values (1, ?, ?, ?, ?, ?, ?)",
        (
            FORM, found.at.seq, found.at.hash, fit_seq, to_text(found.made_at),
            json.dumps(_content(found), separators=(",", ":")),
        ),
    )  # fmt: skip
    return True


def kept_help(db: sqlite3.Connection) -> Help | None:
    """Return what was found last; None where nothing was, or it cannot be read."""
    row = _row(db, "seq, hash, made_at, content")
    if row is None:
        return None
    at = Position(row[0], row[1])
    if not is_here(db, at):
        return None
    try:
        content = json.loads(row[3])
        return Help(
            at, from_text(row[2]), _spreads(content["before"]),
            tuple(_helped(one) for one in content["helped"]),
        )  # fmt: skip
    except (ValueError, LookupError, TypeError):
        return None


def help_position(db: sqlite3.Connection) -> tuple[Position, int, str] | None:
    """Return at which entry it was found, what was learned by then, and when (as text)."""
    row = _row(db, "seq, hash, fit_seq, made_at")
    return None if row is None else (Position(row[0], row[1]), row[2], row[3])


def _row(db: sqlite3.Connection, columns: str) -> sqlite3.Row | None:
    try:
        found: sqlite3.Row | None = db.execute(
            f"select {columns} from learned_help where form = {FORM}"
        ).fetchone()
    except sqlite3.OperationalError:  # the table is lost: as if nothing was found
        return None
    return found


def _content(found: Help) -> dict[str, Any]:
    return {
        "before": {job: _numbers(one) for job, one in found.before.items()},
        "helped": [
            {
                "act": one.act, "gain": round(one.gain, DIGITS),
                "lift_h": round(one.lift_h, DIGITS), "chances": _plain(one.chances),
                "after": {job: _numbers(spread) for job, spread in one.after.items()},
                "refused_gain": one.refused_gain, "refused": _plain(one.refused_chances),
            }
            for one in found.helped
        ],
    }  # fmt: skip


def _plain(chances: tuple[Chance, ...]) -> list[list[Any]]:
    return [[one.job, one.before, one.after] for one in chances]


def _numbers(spread: Spread) -> list[float]:
    return [round(one, DIGITS) for one in (spread.mean, *spread.quantiles)]


def _spreads(content: Mapping[str, list[float]]) -> dict[str, Spread]:
    return {job: Spread(each[0], tuple(each[1:])) for job, each in content.items()}


def _helped(content: Mapping[str, Any]) -> Helped:
    return Helped(
        content["act"], content["gain"], content["lift_h"], _chances(content["chances"]),
        _spreads(content["after"]), content["refused_gain"], _chances(content["refused"]),
    )  # fmt: skip


def _chances(content: list[list[Any]]) -> tuple[Chance, ...]:
    return tuple(Chance(one[0], one[1], one[2]) for one in content)
