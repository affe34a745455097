"""Everything that may teach, read in one look: plain values, tied to where the ledger stood."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

from store.file.facts import calendar_of
from store.file.learned.kept import Position, newest_position
from store.file.past_work import open_spans, past_work, people, spans
from store.learn.dates.spans import Span
from store.learn.records import People, Record
from store.sums.working_time import Calendar

LIVE = "select job from job where state not in ('closed', 'declined', 'turned-away')"
FREAK = 60.0
"""Times or parts of the book's hours: a minute of an hour's work."""
REACH_S = 400 * 86_400.0
"""Open hours are laid out so far beyond the newest entry: no forecast reaches further."""


@dataclass(frozen=True, slots=True)
class Answered:
    """How often each answer was given to one question of the work book: phase, step, answer."""

    phase: str
    step: str
    answer: str
    times: int


@dataclass(frozen=True, slots=True)
class Cases:
    """What the shop's past says.

    Attributes:
        at: where the ledger stood.
        as_of: the newest instant that teaches anything, POSIX seconds; so that the same cases
            teach the same, however long ago they were.
        live: jobs that go on.
        spans: of jobs that are closed, and so whole.
        open: the shop's open spans from its first clock on, POSIX seconds.
    """

    at: Position
    as_of: float
    live: frozenset[str]
    records: tuple[Record, ...]
    people: People
    spans: tuple[Span, ...]
    open: tuple[tuple[float, float], ...]
    answers: tuple[Answered, ...]


def cases(db: sqlite3.Connection) -> Cases:
    """Return all that teaches, in a fixed number of queries."""
    calendar = calendar_of(db)
    records = tuple(
        one for one in past_work(db, running=True, before_adopting=True) if is_believable(one)
    )
    happened = tuple(spans(db))
    instants = [one.closed for one in records]
    instants += [one.started if one.ended is None else one.ended for one in happened]
    as_of = max(instants, default=0.0)
    return Cases(
        newest_position(db), as_of, frozenset(row[0] for row in db.execute(LIVE)), records,
        people(db), happened, tuple(_open(calendar, happened, as_of)), tuple(_answers(db)),
    )  # fmt: skip


def is_believable(record: Record) -> bool:
    """Tell whether hours can be those of the phase at all: nobody tried the keys, no clock ran on.

    What is nearer to the book than this the learner weighs by itself.
    """
    return 1 / FREAK <= record.actual_h / record.book_h <= FREAK


def _open(calendar: Calendar, happened: Iterable[Span], as_of: float) -> list[tuple[float, float]]:
    first = min((one.started for one in happened), default=as_of)
    return open_spans(calendar, min(first, as_of), as_of + REACH_S)


def _answers(db: sqlite3.Connection) -> Iterable[Answered]:
    """Answers that hold, by the work book's codes of phase and step."""
    for row in db.execute(
        "select phase.code, step.code, answer, count(*) from signature "
        "join step using (job, phase, step) join phase using (job, phase) "
        "join job using (job) where answer is not null and not void "
        "and job.not_teaching is null group by 1, 2, 3 order by 1, 2, 3"
    ):
        yield Answered(*row)


def digest(*what: object) -> str:
    """Return the SHA-256 of plain values: the same cases, the same digest."""
    found = hashlib.sha256()
    for one in what:
        found.update(repr(one).encode())
    return found.hexdigest()


def plain(content: object) -> bytes:
    """Return a JSON document as bytes, keys in order."""
    return json.dumps(content, sort_keys=True, allow_nan=False, separators=(",", ":")).encode()
