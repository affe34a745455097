"""How long waiting really takes here, for people: holds, said ends, the pace, standing, outwork."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median, quantiles

from store.edges.instants import from_text
from store.file.facts import calendar_of, day_bounds
from store.file.learned import dates_part
from store.file.learned.kept import parts
from store.learn.dates.told import HoldTold, PaceTold, told
from store.sums.working_time import Calendar

RIGHT = 0.1
"""A share from which the ends that were said are called wrong."""
TENTHS_FROM = 10
"""Of fewer cases nobody can say what one in ten exceeds."""
LOOKED_BACK = timedelta(days=28)
USUAL_DAY_H = 8.0
"""Open hours of a shop day, where the calendar of the last weeks says none."""
HELD_FOR = {
    "parts": "parts", "approval": "the customer's word", "person": "the right person",
    "tool": "a tool", "reading": "a reading", "place": "a place", "other": "other reasons",
}  # fmt: skip
AWAY = (
    "select phase.code, phase.name, phase.kind, book_h, begun_at, phase.finished_at from phase "
    "join job using (job) where phase.kind != 'labour' and phase.state = 'finished' "
    "and begun_at is not null and phase.finished_at is not null and not small "
    "and job.not_teaching is null and phase.not_teaching is null order by phase.finished_at"
)


@dataclass(frozen=True, slots=True)
class HoldHere:
    """Holds for one reason; see `HoldTold`."""

    told: HoldTold
    says: str


@dataclass(frozen=True, slots=True)
class PaceHere:
    """Hours of labour that a job gets in a shop day on which it is neither held nor away."""

    told: PaceTold
    labour_h: float
    says: str


@dataclass(frozen=True, slots=True)
class AwayHere:
    """How long a phase without labour takes: standing in hours of the clock, outwork in open hours.

    `tenth_h`: one in ten takes longer; None of few.
    """

    phase: str
    name: str
    kind: str
    book_h: float
    middle_h: float
    tenth_h: float | None
    count: int
    says: str


@dataclass(frozen=True, slots=True)
class Waits:
    """Everything.

    Attributes:
        day_h: open hours of a shop day.
        pace: None before anybody was seen at work.
    """

    day_h: float
    pace: PaceHere | None
    holds: tuple[HoldHere, ...]
    away: tuple[AwayHere, ...]


def waits(db: sqlite3.Connection, now: datetime) -> Waits:
    """Return what is known of waiting."""
    calendar = calendar_of(db)
    day_h = _day_h(calendar, now)
    away = tuple(_away(db, calendar, day_h))
    part = parts(db, {dates_part.NAME: dates_part.VERSION}, whole=True).get(dates_part.NAME)
    if part is None or part.content is None:
        return Waits(day_h, None, (), away)
    found = told(dates_part.read(part).learned)
    holds = tuple(HoldHere(one, _hold_says(one, day_h)) for one in found.holds)
    return Waits(day_h, _pace(found.pace, day_h), holds, away)


def _day_h(calendar: Calendar, now: datetime) -> float:
    """Open hours of the whole days on which the shop was open lately."""
    until = day_bounds(calendar.day_of(now), calendar.zone)[0]
    spans = calendar.open_spans(until - LOOKED_BACK, until)
    days = {calendar.day_of(start) for start, _ in spans}
    hours = sum((end - start) / timedelta(hours=1) for start, end in spans)
    return hours / len(days) if days else USUAL_DAY_H


def long(hours: float, day_h: float) -> str:
    """`4.5 h`, from two shop days on `3 shop days`."""
    days = hours / day_h
    if days < 2:
        return f"{hours:.1f} h"
    return f"{days:.0f} shop days" if days >= 10 else f"{days:.1f} shop days"


def _pace(pace: PaceTold, day_h: float) -> PaceHere | None:
    if not pace.worked_h:
        return None
    labour_h = pace.labour_h * day_h
    return PaceHere(
        pace, labour_h,
        f"A job that is neither held nor away gets {labour_h:.1f} h of labour in a shop day of "
        f"{day_h:.1f} h; for {round(100 * (1 - pace.in_hands))} % of its time nobody is on it.",
    )  # fmt: skip


def _hold_says(one: HoldTold, day_h: float) -> str:
    often = "" if one.apart_h is None else f", one in {one.apart_h:.0f} h of labour"
    says = (
        f"Held for {HELD_FOR.get(one.reason, one.reason)}: half are over within "
        f"{long(one.middle_h, day_h)}, one in ten lasts more than {long(one.tenth_h, day_h)} "
        f"({one.count} seen{often})."
    )
    return f"{says} {_end_says(one)}" if one.said else says


def _end_says(one: HoldTold) -> str:
    far = f"one in ten takes more than {one.tenth_times:.1f} times as long ({one.said} said)"
    if abs(one.times - 1) < RIGHT:
        return f"The ends that were said are about right; {far}."
    return f"They take {one.times:.1f} times as long as was said; {far}."


def _away(db: sqlite3.Connection, calendar: Calendar, day_h: float) -> Iterator[AwayHere]:
    rows: dict[str, list[sqlite3.Row]] = defaultdict(list)
    for row in db.execute(AWAY):
        rows[row["code"]].append(row)
    for code in sorted(rows):
        newest, hours = rows[code][-1], [_lasted(row, calendar) for row in rows[code]]
        tenth = quantiles(hours, n=10)[-1] if len(hours) >= TENTHS_FROM else None
        yield AwayHere(
            code, newest["name"], newest["kind"], newest["book_h"], median(hours), tenth,
            len(hours), _away_says(newest, hours, tenth, day_h),
        )  # fmt: skip


def _lasted(row: sqlite3.Row, calendar: Calendar) -> float:
    since, until = from_text(row["begun_at"]), from_text(row["finished_at"])
    until = max(since, until)
    if row["kind"] == "standing":
        return (until - since) / timedelta(hours=1)
    return calendar.working_h(since, until)


def _away_says(
    newest: sqlite3.Row, hours: Sequence[float], tenth: float | None, day_h: float
) -> str:
    def shown(value: float) -> str:
        return f"{value:.1f} h" if newest["kind"] == "standing" else long(value, day_h)

    name = f"{newest['name']} ({newest['code']}, book {shown(newest['book_h'])})"
    middle = shown(median(hours))
    if tenth is not None:
        takes = f"half take no longer than {middle}, one in ten longer than {shown(tenth)}"
    elif len(hours) > 1:
        least, most = shown(min(hours)), shown(max(hours))
        least = least.removesuffix(most.lstrip("0123456789."))
        takes = f"took {least} to {most}, half no longer than {middle}"
    else:
        takes = f"took {middle}"
    return f"{name}: {takes} ({len(hours)} seen)."
