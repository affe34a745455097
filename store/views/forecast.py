"""How much is left of a job and when it may be done.

Where the learner has said nothing yet: the work book's ranges, as plain labour through the
calendar, and no promise has a chance. Standing adds wall hours, outwork the shop's open hours or
what the firm says, a hold its expected end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from store.edges.instants import from_text
from store.file.hours_left import LEAST, left_of, scaled_book
from store.file.route_now import PhaseRow
from store.rules.estimating import of_phase
from store.sums import book_range
from store.sums.working_time import Calendar
from store.views import likely
from store.views.loading import HoldRow
from store.views.values import Ahead, AheadKind, Finish, Span

__all__ = ["left_of", "scaled_book"]


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of one phase: low, middle and high hours.

    Attributes:
        promised: when another firm says that its work is back.
    """

    phase: PhaseRow
    hours: tuple[float, float, float]
    promised: datetime | None = None


def span_of(hours: tuple[float, float, float], cautious: float) -> Span:
    """Return middle and cautious hours of a range."""
    if hours[1] <= 0:
        return Span(0.0, 0.0)
    return Span(hours[1], book_range.quantile(hours, cautious))


def left_together(parts: Sequence[Left]) -> tuple[float, float, float]:
    """Return low, middle and high hours of all that is left."""
    ranges = [one.hours for one in parts if one.hours[1] > 0]
    return book_range.total(ranges) if ranges else (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Outlook:
    """When a job may be done.

    Attributes:
        open_h: quantiles of open hours until then, where they were learned.
    """

    finish: Finish | None
    quantiles: tuple[datetime, ...]
    ahead: tuple[Ahead, ...]
    open_h: tuple[float, ...] | None = None


def outlook(
    calendar: Calendar,
    now: datetime,
    parts: Sequence[Left],
    hold: HoldRow | None,
    cautious: float,
    open_h: tuple[float, ...] | None = None,
) -> Outlook:
    """Say when what is left may be done.

    Args:
        parts: what is left, in the order of the route; standing and outwork included.
        hold: what nothing of the job can go on for.
        open_h: quantiles of open hours until the end, where they were learned; else what is left
            is walked through the calendar as it stands.
    """
    if not parts:
        return Outlook(None, (), ())
    if open_h is None:
        return _plain(calendar, now, parts, hold, cautious)
    end = likely.finish(calendar, now, open_h, cautious)
    ahead = _until(calendar, now, parts, hold, end.middle)
    return Outlook(end, likely.instants(calendar, now, open_h), ahead, open_h)


def promise_chance(
    calendar: Calendar, now: datetime, view: Outlook, promise: datetime | None
) -> float | None:
    """Return the chance of keeping a promise; None without one, or where nothing was learned."""
    if promise is None or view.open_h is None:
        return None
    return likely.chance(calendar, now, view.open_h, promise)


def _plain(
    calendar: Calendar,
    now: datetime,
    parts: Sequence[Left],
    hold: HoldRow | None,
    cautious: float,
) -> Outlook:
    total = left_together(parts)
    ahead, middle = _walk(calendar, now, parts, hold, 1.0)
    if total[1] <= 0:
        return Outlook(Finish(middle, middle), (middle,) * 19, ahead)
    runs = _runs(parts)
    late = _end(calendar, now, runs, hold, book_range.quantile(total, cautious) / total[1])
    quantiles = tuple(
        _end(calendar, now, runs, hold, hours / total[1]) for hours in of_phase(total).quantiles
    )
    return Outlook(Finish(middle, late), quantiles, ahead)


def _until(
    calendar: Calendar, now: datetime, parts: Sequence[Left], hold: HoldRow | None, end: datetime
) -> tuple[Ahead, ...]:
    """Walk what is left so that it ends when it is likely to: labour stretched by its waits."""
    labour_h = sum(part.hours[1] for part in parts if part.phase.kind == "labour")
    _, plain = _walk(calendar, now, parts, hold, 1.0)
    more_h = calendar.working_h(now, max(end, now)) - calendar.working_h(now, max(plain, now))
    stretch = max(LEAST, 1 + more_h / labour_h) if labour_h > 0 else 1.0
    pieces, _ = _walk(calendar, now, parts, hold, stretch)
    kept = [replace(one, until=min(one.until, end)) for one in pieces if one.since < end]
    return (*kept[:-1], replace(kept[-1], until=end)) if kept else ()


def _runs(parts: Sequence[Left]) -> list[Left]:
    """The same with neighbouring labour as one piece: where it ends is where the last one does."""
    found: list[Left] = []
    for part in parts:
        if found and part.phase.kind == found[-1].phase.kind == "labour":
            low, middle, high = (a + b for a, b in zip(found[-1].hours, part.hours, strict=True))
            found[-1] = Left(found[-1].phase, (low, middle, high))
        else:
            found.append(part)
    return found


def _end(
    calendar: Calendar, now: datetime, parts: Sequence[Left], hold: HoldRow | None, stretch: float
) -> datetime:
    return _walk(calendar, now, parts, hold, stretch)[1]


def _walk(
    calendar: Calendar, now: datetime, parts: Sequence[Left], hold: HoldRow | None, stretch: float
) -> tuple[tuple[Ahead, ...], datetime]:
    at, ahead = now, list[Ahead]()
    if hold is not None and hold.expected is not None and from_text(hold.expected) > now:
        until = from_text(hold.expected)
        ahead.append(Ahead("held", hold.phase, now, until))
        at = until
    for part in parts:
        start, end, kind = _piece(calendar, now, at, part, stretch)
        if end > start:
            ahead.append(Ahead(kind, part.phase.phase, start, end))
        at = max(at, end)
    return tuple(ahead), at


def _piece(
    calendar: Calendar, now: datetime, at: datetime, part: Left, stretch: float
) -> tuple[datetime, datetime, AheadKind]:
    phase = part.phase
    if phase.kind == "labour":
        hours = part.hours[1] * stretch
        if hours <= 0:
            return at, at, "labour"
        return at, calendar.after(at, hours), "labour"
    begun = from_text(phase.begun_at) if phase.begun_at else at
    if phase.kind == "standing":
        return at, max(begun + timedelta(hours=phase.middle_h), at, now), "standing"
    if part.promised is not None and part.promised > now:
        return at, max(part.promised, at), "outwork"
    return at, max(calendar.after(begun, phase.middle_h), at, now), "outwork"
