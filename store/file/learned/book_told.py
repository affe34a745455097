"""What was learned of phases, beside the work book: read without any array, for acts and views.

What was learned is told in the hours of the newest phase that taught it; where those were fewer
than the book's, because another phase saved some, they are brought back to the phase alone.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from store.file.adopted import Adopted
from store.file.books import Books
from store.file.learned.kept import parts
from store.file.learned.labour_part import TOLD, TOLD_VERSION
from store.rules.book import Hours
from store.rules.family_hours import hours_for
from store.rules.should_say import Took, as_counted, pooled

NEWEST = (
    "select code, job.family, phase.version, book_h, max(phase.finished_at) from phase "
    "join job using (job) where phase.version is not null and phase.state = 'finished' "
    "and kind = 'labour' group by code, job.family, phase.version, book_h order by 5 desc"
)
COUNTED = (
    "select code, family, sum(times) from ("
    "select code, job.family as family, count(*) as times from phase join job using (job) "
    "where job.state = 'closed' and phase.state = 'finished' and kind = 'labour' group by 1, 2 "
    "union all select phase, variant, count(*) from past_phase group by 1, 2) group by 1, 2"
)
SAME_H = 1e-6


@dataclass(frozen=True, slots=True)
class Newest:
    """Book hours that a phase had in a job of a family, by which version; newest first."""

    family: str
    version: int
    book_h: float


def took(db: sqlite3.Connection) -> tuple[Took, ...]:
    """Return what phases take, in hours of the phase alone; none where nothing was learned.

    Several operations that share a phase are one here.
    """
    found = parts(db, {TOLD: TOLD_VERSION}, whole=True).get(TOLD)
    if found is None or found.content is None:
        return ()
    told: dict[str, Any] = json.loads(found.content)
    counted = _counted(db)
    return tuple(
        as_counted(one, counted.get((one.phase, one.family), 0))
        for one in pooled(_each(db, told["phases"]))
    )


def _each(db: sqlite3.Connection, rows: list[dict[str, Any]]) -> Iterator[Took]:
    newest: dict[str, list[Newest]] = {}
    for code, family, version, book_h, _ in db.execute(NEWEST):
        newest.setdefault(code, []).append(Newest(family, version, book_h))
    books, learned = Books(db), Adopted(db)
    for row in rows:
        share = _alone(books, learned, row, newest.get(row["phase"], []))
        hours = Hours(row["low"] * share, row["middle"] * share, row["high"] * share)
        yield Took(
            row["operation"], row["phase"], row["family"], hours, row["finished"], row["sure"]
        )


def _alone(books: Books, learned: Adopted, row: dict[str, Any], newest: list[Newest]) -> float:
    """Hours of the phase alone by those in which it is told; 1 where that is not known."""
    for one in newest:
        told = one.book_h / learned.times(one.version, row["phase"], one.family)
        if row["family"] not in (None, one.family) or abs(told - row["book_h"]) > SAME_H:
            continue
        phase = books.of(one.version).phases.get(row["phase"])
        if phase is not None and row["book_h"] > 0:
            return hours_for(phase, one.family).middle / one.book_h
    return 1.0


def _counted(db: sqlite3.Connection) -> dict[tuple[str, str | None], int]:
    """Finished phases of closed jobs, here and imported, by code and family, and by code alone."""
    found: dict[tuple[str, str | None], int] = {}
    for code, family, times in db.execute(COUNTED):
        found[code, family] = times
        found[code, None] = found.get((code, None), 0) + times
    return found
