"""The owner's month: whether estimates hold, what is signal, where hours and money went, and what
to change. Each part has its own module and reads in the same look."""

from __future__ import annotations

import sqlite3
from collections import Counter
from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from store.edges.instants import from_text
from store.file.books import NoBook, book_on
from store.file.facts import calendar_of
from store.file.month.facts import Facts, closing, facts
from store.file.shop import Shop
from store.rules.book import WorkBook
from store.sums.accuracy import Accuracy
from store.sums.month.span import month_of, shifted
from store.views.month import accuracy as month_accuracy
from store.views.month import said as month_said
from store.views.month.book import should_say_of
from store.views.month.hours import held_of, hours_of
from store.views.month.lifts import lifts_of
from store.views.month.look import Look
from store.views.month.money import money_of
from store.views.month.odds import odds_of
from store.views.month.open import first_month, opened, reader_of, seen_by
from store.views.month.prices import prices_of
from store.views.month.promised import changes_of, promises_of, ways_of
from store.views.month.quotes import quotes_of
from store.views.month.signals import signals_of
from store.views.month.told_values import Signal, Signals
from store.views.month.values import AccuracyLine, ChangesAgreed, Month, MonthListed

__all__ = ["Month", "MonthListed", "month", "months"]


def month(
    shop: Shop, month: str, now: datetime, *, by: str | None = None, of: str | None = None
) -> Month:
    """Return a month of the shop's, up to now where it still runs.

    Args:
        month: `2026-09`.
        by: badge of whoever reads; None is whoever can open the file, who sees all. Whoever is no
            owner sees what the shop came to, and of people only their own figures.
        of: only the jobs that this badge led.

    Raises:
        Refused: no such month, before the shop's first entry, not begun yet; no such badge; or the
            reader asks for another's figures without being the owner.
    """
    with shop.reading() as db:
        reader = reader_of(db, by, of)
        calendar = calendar_of(db)
        span = opened(db, month, now, calendar.zone)
        known = seen_by(facts(db, span.until, now), reader)
        look = Look(db, span, now, calendar, known, _book(db, span.last), reader.role, reader.badge)
        return _told(look, _only(look, reader.of), reader.of)


def months(shop: Shop, now: datetime) -> tuple[MonthListed, ...]:
    """Return every month from the shop's first entry to now, the newest first.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        zone = calendar_of(db).zone
        first, newest = first_month(db, zone), month_of(now.astimezone(zone).date())
        closed = _closed(db, zone)
    found: list[MonthListed] = []
    while newest >= first:
        day = date(int(newest[:4]), int(newest[5:]), 1)
        found.append(MonthListed(newest, day, closed[newest], not found))
        newest = shifted(newest, -1)
    return tuple(found)


def _told(look: Look, jobs: Facts, of: str | None) -> Month:
    """Put the parts together.

    Args:
        jobs: what is judged: everything, or what one person led and did.
    """
    span, zone, db = look.span, look.calendar.zone, look.db
    closed, finished = jobs.jobs_of(span), jobs.phases_of(span)
    judged, before = month_accuracy.judged(closed), month_accuracy.by_month(look, jobs.jobs, zone)
    signals, changes = signals_of(look), changes_of(closed)
    newest = month_of(look.now.astimezone(zone).date())
    row = db.execute("select name, currency, (select max(seq) from ledger) from shop").fetchone()
    return Month(
        span=span, shop=row[0], zone=str(zone), currency=row[1], at=look.now, as_of_seq=row[2],
        previous=shifted(span.month, -1) if span.month > first_month(db, zone) else None,
        following=shifted(span.month, 1) if span.month < newest else None,
        empty=None if closed else month_said.nothing_closed(span),
        said=_said(look, judged, before, signals, changes), aim=jobs.cautious, of=of,
        accuracy=judged, jobs=closed, phases=finished, ways=ways_of(closed, closing(db, span)),
        kinds=month_accuracy.by_kind(closed),
        operations=month_accuracy.by_operation(closed, look.book),
        by_phase=month_accuracy.by_phase(finished), families=month_accuracy.by_family(closed),
        leads=month_accuracy.by_lead(look, closed), before=before, promises=promises_of(closed),
        changes=changes, hours=hours_of(look), held=held_of(look), money=money_of(look),
        lifts=lifts_of(look), quotes=quotes_of(look), odds=odds_of(look), signals=signals,
        should_say=should_say_of(look), prices=prices_of(look), reader=look.reader,
    )  # fmt: skip


def _said(
    look: Look, judged: Accuracy, before: tuple[AccuracyLine, ...], signals: Signals,
    changes: ChangesAgreed,
) -> tuple[str, ...]:  # fmt: skip
    span = look.span
    earlier = [(one.key, one.accuracy) for one in before if one.accuracy.bias is not None]
    said = [
        month_said.opening(span, judged, earlier[-1] if earlier else None, _shop(signals)),
        month_said.near(judged, look.facts.cautious),
        month_said.typically(judged),
        month_said.scope(changes.extra_h, changes.route_h, changes.other_h),
    ] if judged.jobs else [month_said.nothing_closed(span)]  # fmt: skip
    if span.running:
        said.append(month_said.told_so_far(span, look.now.astimezone(look.calendar.zone)))
    return tuple(one for one in said if one)


def _shop(signals: Signals) -> Signal | None:
    """The newest change of the whole shop."""
    about = [one for one in (*signals.found, *signals.old) if one.what == "shop"]
    return max(about, key=lambda one: one.since, default=None)


def _only(look: Look, of: str | None) -> Facts:
    """What one person led and did; everything where nobody is named."""
    if of is None:
        return look.facts
    return replace(
        look.facts,
        jobs=tuple(one for one in look.facts.jobs if one.lead == of),
        phases=tuple(one for one in look.facts.phases if one.badge == of),
    )


def _book(db: sqlite3.Connection, day: date) -> WorkBook | None:
    try:
        return book_on(db, day)[1]
    except NoBook:
        return None


def _closed(db: sqlite3.Connection, zone: ZoneInfo) -> Counter[str]:
    rows = db.execute("select closed_at from job where state = 'closed'")
    return Counter(month_of(from_text(row[0]).astimezone(zone).date()) for row in rows)
