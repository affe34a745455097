"""What helps most, as the shop file keeps it; read without any array."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from typing import Any

from store.edges.instants import from_text, to_text
from store.file.learned.help_values import Chance, Help, Helped, Out
from store.file.learned.kept import DIGITS, Position, Spread, is_here, look_again, make_again

FORM = 1


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
        "insert or replace into learned_help values (1, ?, ?, ?, ?, ?, ?, ?)",
        (
            FORM, found.at.seq, found.at.hash, fit_seq, to_text(found.made_at),
            json.dumps([_content(one) for one in found.helped], separators=(",", ":")),
            json.dumps(_told(found), separators=(",", ":")),
        ),
    )  # fmt: skip
    look_again(db)
    return True


def kept_help(db: sqlite3.Connection, *, whole: bool = False) -> Help | None:
    """Return what was found last; None where nothing was, or it cannot be read.

    Args:
        whole: with what would become of every job.
    """
    row = _row(db, "seq, hash, made_at, content, " + ("told" if whole else "'{}'"))
    if row is None:
        return None
    at = Position(row[0], row[1])
    if not is_here(db, at):
        return None
    try:
        told = json.loads(row[4])
        helped = tuple(_helped(one, told.get("after", {})) for one in json.loads(row[3]))
        return Help(at, from_text(row[2]), _spreads(told.get("before", {})), helped)
    except (ValueError, LookupError, TypeError, AttributeError):
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


def _content(one: Helped) -> dict[str, Any]:
    return {
        "act": one.act, "gain": round(one.gain, DIGITS), "lift_h": round(one.lift_h, DIGITS),
        "chances": _plain(one.chances), "told": one.told,
        "outs": [
            [out.job, round(out.before_h, DIGITS), round(out.after_h, DIGITS)] for out in one.outs
        ],
        "refused_gain": one.refused_gain, "refused": _plain(one.refused_chances),
    }  # fmt: skip


def _told(found: Help) -> dict[str, Any]:
    return {
        "before": {job: _numbers(one) for job, one in found.before.items()},
        "after": {
            one.act: {job: _numbers(spread) for job, spread in one.after.items()}
            for one in found.helped
            if one.told
        },
    }


def _plain(chances: tuple[Chance, ...]) -> list[list[Any]]:
    return [[one.job, one.before, one.after] for one in chances]


def _numbers(spread: Spread) -> list[float]:
    return [round(one, DIGITS) for one in (spread.mean, *spread.quantiles)]


def _spreads(content: Mapping[str, list[float]]) -> dict[str, Spread]:
    return {job: Spread(each[0], tuple(each[1:])) for job, each in content.items()}


def _helped(content: Mapping[str, Any], told: Mapping[str, Any]) -> Helped:
    return Helped(
        content["act"], content["gain"], content["lift_h"], _chances(content["chances"]),
        tuple(Out(one[0], one[1], one[2]) for one in content["outs"]), content["refused_gain"],
        _chances(content["refused"]), _spreads(told.get(content["act"], {})), content["told"],
    )  # fmt: skip


def _chances(content: list[list[Any]]) -> tuple[Chance, ...]:
    return tuple(Chance(one[0], one[1], one[2]) for one in content)
