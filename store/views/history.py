"""History going out, and what would be learned from one that comes in."""

from __future__ import annotations

import sqlite3
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from statistics import median
from zoneinfo import ZoneInfo

from store.file.books import NoBook, book_on
from store.file.facts import calendar_of
from store.file.past_rows import clashes as clashes_in
from store.file.past_spans import open_spans, people, spans
from store.file.past_work import past_work
from store.file.shop import Shop
from store.learn.dates.spans import Span
from store.learn.records import People, Record
from store.rules.book import WorkBook

BELIEVABLE = 8.0
"""Hours more than so many times the book's, or less than that share of them, are looked at."""
REACH_S = 400 * 86_400.0
"""How far after the last phase the shop's open time is still told."""


@dataclass(frozen=True, slots=True)
class Past:
    """Everything teachable: phases by the first start of their job, then by seq."""

    records: tuple[Record, ...]
    spans: tuple[Span, ...]
    people: People
    open: tuple[tuple[float, float], ...]
    zone: ZoneInfo


def past(shop: Shop) -> Past:
    """Return the shop's past in one look, imported phases included."""
    with shop.reading() as db:
        return past_in(db)


def past_in(db: sqlite3.Connection) -> Past:
    """Return the same within a look."""
    calendar = calendar_of(db)
    records, went_on, here = past_work(db), spans(db), people(db)
    starts = [one.started for one in records] + [one.started for one in went_on]
    ends = [one.closed for one in records] + [one.ended or one.started for one in went_on]
    is_open = open_spans(calendar, min(starts), max(ends) + REACH_S) if starts else []
    return Past(tuple(by_job(records)), tuple(went_on), here, tuple(is_open), calendar.zone)


def by_job(records: Iterable[Record]) -> list[Record]:
    """Order phases by the first start of their job, then its name, then their own order."""
    first: dict[str, float] = {}
    found = list(records)
    for one in found:
        first[one.job] = min(one.started, first.get(one.job, one.started))
    return sorted(found, key=lambda one: (first[one.job], one.job, one.seq))


def clashes(shop: Shop, records: Sequence[Record]) -> list[tuple[int, str]]:
    """Return place and reason of every record that the shop cannot take in."""
    with shop.reading() as db:
        return list(clashes_in(db, records))


@dataclass(frozen=True, slots=True)
class OperationSeen:
    """An operation in a history. `ratio`: the middle one of hours worked to book hours."""

    operation: str
    jobs: int
    phases: int
    hours: float
    ratio: float
    known: bool


@dataclass(frozen=True, slots=True)
class PersonSeen:
    """Somebody in a history. `known`: a badge of the shop."""

    badge: str
    phases: int
    known: bool


@dataclass(frozen=True, slots=True)
class Preview:
    """What a history would teach.

    Attributes:
        families: jobs by family, the most frequent first.
        unknown: codes of phases that the work book does not have, and how often.
        doubtful: places of records whose hours are far from the book's.
        ahead: how many phases were finished after now.
        book: the shop has a work book.
    """

    phases: int
    jobs: int
    since: datetime
    until: datetime
    operations: tuple[OperationSeen, ...]
    families: tuple[tuple[str, int], ...]
    people: tuple[PersonSeen, ...]
    unknown: tuple[tuple[str, int], ...]
    doubtful: tuple[int, ...]
    ahead: int
    book: bool


def preview(shop: Shop, records: Sequence[Record], now: datetime) -> Preview:
    """Say what a history would teach; at least one record."""
    with shop.reading() as db:
        book = _book(db, now)
        badges = {row[0] for row in db.execute("select badge from person")}
    seen = Counter(one.technician for one in records)
    codes = Counter(one.phase for one in records)
    return Preview(
        phases=len(records), jobs=len({one.job for one in records}),
        since=_instant(min(one.started for one in records)),
        until=_instant(max(one.closed for one in records)),
        operations=_operations(records, book), families=_families(records),
        people=tuple(
            PersonSeen(badge, count, badge in badges) for badge, count in _by_count(seen)
        ),
        unknown=tuple(
            (code, count) for code, count in _by_count(codes) if book and code not in book.phases
        ),
        doubtful=tuple(at for at, one in enumerate(records) if not is_believable(one)),
        ahead=sum(one.closed > now.timestamp() for one in records), book=book is not None,
    )  # fmt: skip


def is_believable(record: Record) -> bool:
    """Tell whether its hours are within reach of the book's."""
    return 1 / BELIEVABLE <= record.actual_h / record.book_h <= BELIEVABLE


def _book(db: sqlite3.Connection, now: datetime) -> WorkBook | None:
    try:
        return book_on(db, calendar_of(db).day_of(now))[1]
    except NoBook:
        return None


def _operations(records: Sequence[Record], book: WorkBook | None) -> tuple[OperationSeen, ...]:
    by_template: dict[str, list[Record]] = defaultdict(list)
    for one in records:
        by_template[one.template].append(one)
    known = set(book.operations) if book else set[str]()
    found = [_operation(template, each, known) for template, each in by_template.items()]
    return tuple(sorted(found, key=lambda one: (-one.jobs, one.operation)))


def _operation(template: str, records: Sequence[Record], known: set[str]) -> OperationSeen:
    return OperationSeen(
        template, len({one.job for one in records}), len(records),
        sum(one.actual_h for one in records),
        median(one.actual_h / one.book_h for one in records),
        known.issuperset(template.split("+")),
    )  # fmt: skip


def _families(records: Sequence[Record]) -> tuple[tuple[str, int], ...]:
    return tuple(_by_count(Counter({one.job: one.variant for one in records}.values())))


def _by_count(counts: Counter[str]) -> list[tuple[str, int]]:
    return sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))


def _instant(at: float) -> datetime:
    return datetime.fromtimestamp(at, UTC)
