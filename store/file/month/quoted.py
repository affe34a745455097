"""Jobs closed in a time: hours asked at first beside those of the book and as learned now."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, field

from store.edges.instants import to_text
from store.file.books import Books
from store.file.learned.book_told import took
from store.rules.estimating import of_total
from store.rules.family_hours import hours_for
from store.rules.should_say import Took
from store.sums.learned_quotes import PhasesAsked, grade_factors, learned_share
from store.sums.month.span import MonthSpan

Three = tuple[float, float, float]
ASKED = (
    "select job.job, job.family, grade, phase.code, phase.version, low_h, book_h, high_h, "
    "asked.value ->> '$.quantiles[9]' as asked_h "
    "from job join estimate on estimate.seq = agreed_seq "
    "join json_each(estimate.content, '$.phases') as asked "
    "join phase on phase.job = job.job and phase.phase = asked.key "
    "where job.state = 'closed' and not small and closed_at >= ? and closed_at < ? "
    "and phase.kind = 'labour' order by position"
)


@dataclass(frozen=True, slots=True)
class QuotedHours:
    """One job's first agreement.

    Attributes:
        book: middle hours by the book alone.
        share: what one would ask now by what was asked; None where nothing was learned of it.
    """

    book: float
    share: float | None


@dataclass(slots=True)
class _Phases:
    grade: int
    book: list[Three] = field(default_factory=list[Three])
    asked: list[float] = field(default_factory=list[float])
    learned: list[float] = field(default_factory=list[float])
    known: bool = False

    def values(self) -> PhasesAsked:
        return PhasesAsked(self.grade, self.asked, self.learned)


def quoted_hours(db: sqlite3.Connection, span: MonthSpan) -> dict[str, QuotedHours]:
    """Return hours of the jobs closed in a time, by number; one query and what was learned.

    What was learned knows these jobs too: it says what one would ask now.
    """
    known = {(one.phase, one.family): one for one in took(db)}
    jobs: dict[str, _Phases] = {}
    books = Books(db)
    for row in db.execute(ASKED, [to_text(span.since), to_text(span.until)]):
        own = jobs.setdefault(row["job"], _Phases(row["grade"]))
        learned = known.get((row["code"], row["family"])) or known.get((row["code"], None))
        own.book.append((row["low_h"], row["book_h"], row["high_h"]))
        own.asked.append(row["asked_h"])
        own.learned.append(row["asked_h"] if learned is None else _learned(books, row, learned))
        own.known = own.known or learned is not None
    factors = grade_factors(own.values() for own in jobs.values() if own.known)
    return {
        job: QuotedHours(
            of_total(own.book).middle, learned_share(own.values(), factors) if own.known else None
        )
        for job, own in jobs.items()
    }


def _learned(books: Books, row: sqlite3.Row, one: Took) -> float:
    """What is learned of the phase alone, less what the book saved beside others in that job."""
    phase = None if row["version"] is None else books.of(row["version"]).phases.get(row["code"])
    alone = row["book_h"] if phase is None else hours_for(phase, row["family"]).middle
    return one.hours.middle * (row["book_h"] / alone if alone > 0 else 1.0)
