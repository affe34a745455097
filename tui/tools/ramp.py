"""A kit on the axis: was here, is here, the falling chance that it is still needed, the due day."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime
from typing import NamedTuple

from store.views.parts_values import HireOut
from store.views.tools.values import KitNow
from tui.colours import Ink, Role
from tui.lane.axis import Axis
from tui.lane.taper import GONE, SURE
from tui.parts.canvas import Canvas
from tui.signs import Signs

Points = Sequence[tuple[datetime, float]]


def needed_at(points: Points, at: datetime) -> float | None:
    """The chance that a kit is in need at an instant: each stands until the next.

    None: nothing is known of it. Before the first nobody needs it.
    """
    n = bisect_right(points, at, key=lambda one: one[0])
    return points[n - 1][1] if n else 0.0 if points else None


class Cell(NamedTuple):
    """What one cell of the band shows."""

    letter: str
    role: Role


class Span(NamedTuple):
    """A hire from when it is here until it is to go back; open where nobody said."""

    since: datetime
    until: datetime | None

    def holds(self, at: datetime) -> bool:
        """Whether it is here then."""
        return self.since <= at and (self.until is None or at < self.until)


def band_of(axis: Axis, kit: KitNow, signs: Signs) -> Iterator[tuple[int, Cell]]:
    """Each cell of a kit's band that is not empty."""
    yield from _past(axis, kit, signs)
    spans = [_span(hire, axis.at) for hire in kit.hires if hire.received_at or hire.expected]
    late, idle_to = _late_from(kit), _idle_to(kit, axis.at)
    for place in range(axis.now + 1, axis.width):
        column = axis.columns[place]
        if column.kind != "cell":
            continue
        since, until = (datetime.fromtimestamp(x, tz=UTC) for x in (column.since, column.until))
        at = since + (until - since) / 2
        needed = needed_at(kit.needed, at) or 0.0
        here = kit.owned or any(one.holds(at) for one in spans)
        if needed >= GONE:
            if any(clash.since < until and since < clash.until for clash in kit.clashes):
                yield place, Cell(signs.beyond, "behind")
            else:
                yield place, _wanted(at, needed, (here, late, bool(spans)), signs)
        elif here and not kit.owned and at < idle_to:
            yield place, Cell(signs.quiet, "waiting")


def _past(axis: Axis, kit: KitNow, signs: Signs) -> Iterator[tuple[int, Cell]]:
    """Where it was here, or in use; hatched where it should have gone back."""
    for place in sorted(_places(axis, kit.had)):
        yield place, Cell(signs.worked, "past")
    dues = [hire.due for hire in kit.hires if hire.received_at is not None and hire.due]
    for place in sorted(_places(axis, [(due, axis.at) for due in dues if due < axis.at])):
        yield place, Cell(signs.beyond, "behind")


def _places(axis: Axis, spans: Iterable[tuple[datetime, datetime]]) -> set[int]:
    every = (place for since, until in spans for place, _ in axis.between(since, until))
    return {place for place in every if place < axis.now}


def _span(hire: HireOut, now: datetime) -> Span:
    since = hire.received_at or hire.expected or now
    overdue = hire.due is not None and hire.due <= now and hire.received_at is not None
    return Span(since, None if overdue else hire.due)


def _late_from(kit: KitNow) -> datetime | None:
    """From when on whatever is still needed is late: the due day of the last hire."""
    dues = [one.due for one in kit.hires if one.due is not None]
    return max(dues) if dues and len(dues) == len(kit.hires) else None


def _idle_to(kit: KitNow, now: datetime) -> datetime:
    """Until when hires are paid for: to their due day, without an end where nobody said one."""
    if any(one.due is None for one in kit.hires):
        return datetime.max.replace(tzinfo=UTC)
    return max((one.due for one in kit.hires if one.due is not None), default=now)


def _wanted(
    at: datetime, needed: float, how: tuple[bool, datetime | None, bool], signs: Signs
) -> Cell:
    """A cell in which it is likely needed: it is not here yet, it is late, or all is well."""
    here, late, hired = how
    if late is not None and at >= late:
        return Cell(height(needed, signs), "behind")
    if hired and not here:
        return Cell(signs.held, "blocked")
    return Cell(height(needed, signs), "next")


def height(chance: float, signs: Signs) -> str:
    """The letter of a chance: full while sure, eight steps down, in plain letters its tenth."""
    if chance >= SURE:
        return signs.certain
    if signs.ascii:
        return signs.taper[9 - min(9, max(1, int(chance * 10 + 0.5)))]
    return signs.taper[8 - min(8, max(1, int(chance * 8 + 0.5)))]


def paint_ramp(canvas: Canvas, at: tuple[int, int], axis: Axis, kit: KitNow, signs: Signs) -> None:
    """One row."""
    x, y = at
    for place, cell in band_of(axis, kit, signs):
        canvas.dot(x + place, y, cell.letter, Ink(cell.role))
