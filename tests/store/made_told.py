"""What a learner told, written where the shop file keeps it, for tests that need no learner."""

from __future__ import annotations

import json

from store.file.learned.kept import Part, keep_parts, newest_position
from store.file.learned.labour_part import TOLD, TOLD_VERSION
from tests.store.actions.made import World

Line = tuple[str, str, "str | None", float, float, int]
"""Operation, phase, family, hours of the book then, hours that it takes, how often."""


def told_of(world: World, *lines: Line, sure: str = "sure") -> None:
    """Keep these phases as learned up to now: one in ten takes .7, one 1.5 of the middle."""
    rows = [
        {
            "operation": operation, "phase": phase, "family": family, "book_h": book_h,
            "ratio": middle / book_h, "sure": sure, "middle": middle, "low": 0.7 * middle,
            "high": 1.5 * middle, "finished": times, "of_all": times,
        }
        for operation, phase, family, book_h, middle, times in lines
    ]  # fmt: skip
    content = json.dumps({"phases": rows, "people": [], "doubted": [], "first_cost": 0.0})
    with world.shop.beside() as db:
        at = newest_position(db)
        keep_parts(db, [Part(TOLD, TOLD_VERSION, at, len(rows), "0" * 64, content.encode())], at)
