"""The work book as one looks at it: what each operation takes by the book, and what it took."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from dataclasses import dataclass
from datetime import date, datetime

from store.file.books import NoBook, book_on
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.rules import routes
from store.rules.book import Operation, WorkBook
from store.views.learned import learned

PLAIN = "X-X-X"
"""A family of which nothing is known: what only some vehicles need is left out."""


@dataclass(frozen=True, slots=True)
class OperationSeen:
    """An operation at a glance. Hours of labour.

    Attributes:
        book_h: by the book, on the usual vehicle with what is assumed of it; None where no route
            can be laid.
        learned_h: the same with what the shop's past taught; None where it taught nothing of it.
        finished: jobs of it that are done, here and imported.
    """

    code: str
    name: str
    phases: int
    book_h: float | None
    learned_h: float | None
    finished: int


@dataclass(frozen=True, slots=True)
class BookSeen:
    """The work book that holds, None where there is none yet; `zone` of the shop."""

    version: int
    from_day: date
    source: str
    book: WorkBook | None
    operations: tuple[OperationSeen, ...]
    learned: dict[str, float]
    """Middle hours by phase, where something was learned of it."""
    zone: str = "UTC"


def book_seen(shop: Shop, now: datetime) -> BookSeen:
    """Return the work book with what it takes and took; an empty one where there is none.

    Raises:
        Trouble: the file cannot be read.
    """
    taught = {
        one.phase: one.middle_h for one in learned(shop, now).phases
        if one.family is None and one.finished
    }  # fmt: skip
    with shop.reading() as db:
        calendar = calendar_of(db)
        zone, today = str(calendar.zone), calendar.day_of(now)
        try:
            version, book = book_on(db, today)
        except NoBook:
            return BookSeen(0, today, "", None, (), {}, zone)
        row = db.execute(
            "select from_day, source from book where version = ?", [version]
        ).fetchone()
        done = _done(db)
        seen = tuple(
            _operation(book, one, taught, done[one.code]) for one in book.operations.values()
        )
        from_day = date.fromisoformat(row["from_day"])
        return BookSeen(version, from_day, row["source"], book, seen, taught, zone)


def _operation(
    book: WorkBook, one: Operation, taught: dict[str, float], finished: int
) -> OperationSeen:
    labour = [
        (each.phase.code, each.book.middle)
        for each in usual_route(book, one.code) if each.phase.kind == "labour"
    ]  # fmt: skip
    known = any(code in taught for code, _ in labour)
    return OperationSeen(
        one.code, one.name, len(one.route),
        round(sum(hours for _, hours in labour), 4) if labour else None,
        round(sum(taught.get(code, hours) for code, hours in labour), 4) if known else None,
        finished,
    )  # fmt: skip


def usual_route(book: WorkBook, operation: str) -> tuple[routes.RoutePhase, ...]:
    """The route of one operation on a vehicle that no line of the book speaks of, as assumed."""
    return routes.lay(book, operations=[operation], family=PLAIN, options={}, grade=2)


def _done(db: sqlite3.Connection) -> Counter[str]:
    done: Counter[str] = Counter()
    for operations, many in db.execute(
        "select operations, count(*) from job where state in ('finished', 'closed') "
        "group by operations"
    ):
        for code in json.loads(operations):
            done[code] += many
    for template, many in db.execute(
        "select template, count(distinct job) from past_phase group by template"
    ):
        for code in template.split("+"):
            done[code] += many
    return done
