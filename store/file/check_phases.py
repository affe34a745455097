"""Which phases of a job are its qualifying check."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Sequence
from functools import lru_cache

from store.file.route_now import PhaseRow


def check_phases(
    db: sqlite3.Connection, operations: Collection[str], phases: Sequence[PhaseRow]
) -> list[PhaseRow]:
    """Return a job's phases up to its last qualifying one; [] where it has no check, or none yet.

    Args:
        operations: those that the job is about: the check of work that is not wanted any more
            does not count.
        phases: in the order of the route; those left out are passed over.
    """
    live = [one for one in phases if one.state != "skipped"]
    places = [place for place, one in enumerate(live) if _qualifies(db, operations, one)]
    return live[: places[-1] + 1] if places else []


def _qualifies(db: sqlite3.Connection, operations: Collection[str], phase: PhaseRow) -> bool:
    if phase.version is None or not set(json.loads(phase.serves)) & set(operations):
        return False
    row = db.execute("select content from book where version = ?", [phase.version]).fetchone()
    return phase.code in _checks(row[0])


@lru_cache(maxsize=4)
def _checks(content: str) -> frozenset[str]:
    """Codes of a work book's qualifying phases; a look does not wait for the models."""
    phases = json.loads(content)["phases"]
    return frozenset(one["code"] for one in phases if one.get("qualifies"))
