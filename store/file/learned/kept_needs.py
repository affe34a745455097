"""When jobs will need which kit, as the shop file keeps it; read without any array."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from operator import le
from typing import Any

from store.edges.instants import from_text, to_text

FORM = 1
DRAWS = 200
"""Kept of each stretch; how much more a day costs that so few recommend than one that 4,000 do is
measured by `python -m tests.bench.kit_draws`."""
PARTS = 100
"""Draws are kept as whole hundredths of an open hour: a little more than half a minute."""
LONGEST_H = 20_000.0
"""Ten years of full weeks."""


@dataclass(frozen=True, slots=True)
class StretchDrawn:
    """One stretch of phases that wants the kit, in draws.

    Attributes:
        phases: their numbers; all of the stretch, as `Wanted` has them.
        starts, ends: open hours from when it was made. Alike where the kit is not needed after
            all; then both are the job's finish.
    """

    phases: tuple[str, ...]
    starts: tuple[float, ...]
    ends: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class KitNeed:
    """All stretches of one job that want one kit, as they were known at one entry of the ledger.

    Attributes:
        seq: the newest entry known then.
        fit_seq: the newest entry that what was learned knew.
        made_at: from there on open hours are counted.
        finishes: open hours until the job's last phase is finished, in the same draws.
    """

    job: str
    kit: str
    seq: int
    fit_seq: int
    made_at: datetime
    stretches: tuple[StretchDrawn, ...]
    finishes: tuple[float, ...]


def keep_needs(db: sqlite3.Connection, job: str, seq: int, made: Iterable[KitNeed]) -> None:
    """Write down what was made for a job inside an open transaction, unless newer is there.

    Args:
        seq: the newest entry known then.
        made: for each kit that it wants; nothing where it wants none.
    """
    newer = "select 1 from learned_need where job = ? and seq > ? and form = ?"
    if db.execute(newer, [job, seq, FORM]).fetchone() is not None:
        return
    db.execute("delete from learned_need where job = ?", [job])
    for one in made:
        db.execute(
            "insert into learned_need values (?, ?, ?, ?, ?, ?, ?)",
            (one.job, one.kit, FORM, one.seq, one.fit_seq, to_text(one.made_at), _content(one)),
        )


def let_needs_go(db: sqlite3.Connection) -> None:
    """Take away inside an open transaction what is of jobs gone, or of a ledger that is."""
    db.execute(
        "delete from learned_need where seq > (select max(seq) from ledger) or job not in "
        "(select job from job where state not in ('closed', 'declined', 'turned-away'))"
    )


def kept_needs(db: sqlite3.Connection) -> dict[str, dict[str, KitNeed]]:
    """Return what is known, by job and kit; what cannot be read is left out."""
    try:
        rows = db.execute(
            "select job, kit, seq, fit_seq, made_at, content from learned_need "
            f"where form = {FORM} order by job, kit"
        ).fetchall()
    except sqlite3.OperationalError as error:
        if "no such table" not in str(error):
            raise
        return {}
    found: dict[str, dict[str, KitNeed]] = {}
    for row in rows:
        one = _need(row)
        if one is not None:
            found.setdefault(one.job, {})[one.kit] = one
    return found


def _need(row: sqlite3.Row) -> KitNeed | None:
    try:
        content: dict[str, Any] = json.loads(row[5])
        finishes = _hours(content["f"])
        stretches = tuple(
            StretchDrawn(tuple(map(str, one["p"])), _hours(one["s"]), _hours(one["e"]))
            for one in content["w"]
        )
        _check(stretches, finishes)
        return KitNeed(row[0], row[1], row[2], row[3], from_text(row[4]), stretches, finishes)
    except (ValueError, LookupError, TypeError, AttributeError):
        return None


def _check(stretches: Sequence[StretchDrawn], finishes: Sequence[float]) -> None:
    """Raise ValueError where it is not what was written."""
    for each in (finishes, *(side for one in stretches for side in (one.starts, one.ends))):
        if len(each) != DRAWS or not 0 <= min(each) <= max(each) <= LONGEST_H:
            raise ValueError(each)
    if not all(all(map(le, one.starts, one.ends)) for one in stretches):
        raise ValueError(stretches)


def _hours(parts: Sequence[int]) -> tuple[float, ...]:
    return tuple([one / PARTS for one in parts])


def _content(one: KitNeed) -> str:
    return json.dumps(
        {
            "f": _parts(one.finishes),
            "w": [
                {"p": each.phases, "s": _parts(each.starts), "e": _parts(each.ends)}
                for each in one.stretches
            ],
        },
        separators=(",", ":"),
    )


def _parts(hours: Sequence[float]) -> list[int]:
    return [round(min(one, LONGEST_H) * PARTS) for one in hours]
