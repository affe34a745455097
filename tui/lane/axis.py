"""The time axis of a lane: cells to instants and back, along the shop's working time.

Only working time has width. *Now* owns one column and never moves; a night takes one column, a
weekend or holiday one, a break none. Instants inside are epoch seconds.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from store.sums.working_time import Calendar

ZOOMS = (10, 20, 30, 60, 120, 240, 480)
"""Minutes of working time that a cell can stand for."""
FIRST_ZOOMS = ZOOMS[:5]
"""What is chosen at the start; coarser ones show a narrow lane one or two weeks."""
LEAST_DAYS, MOST_DAYS = 0.9, 10.0
"""Working days ahead: a zoom that shows fewer is of no use, after one that shows more is none."""
NARROW = 40
"""A lane under so many cells has its now-column in the fourth place and starts at one hour."""
BACK_DAYS, AHEAD_DAYS = 1.5, 3.0
"""Working days that the zoom chosen at the start must show."""
LONG_GAP_S = 2 * 3600.0
"""A break across midnight that is shorter does not end the working day."""
LONGEST_DAY_S = 20 * 3600.0
REACHES = (21, 60, 180, 400)
"""Days looked back and ahead for open hours, further only while columns are left empty."""

ColumnKind = Literal["cell", "night", "weekend", "now", "blank"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column: what it stands for and the instants (epoch seconds) it covers."""

    kind: ColumnKind
    since: float
    until: float
    day: date
    open_s: float = 0.0
    """Working seconds in it, breaks cut out."""


@dataclass(frozen=True, slots=True)
class Axis:
    """The columns of a lane. All lanes of a floor share one."""

    calendar: Calendar
    at: datetime
    zoom: int
    """Minutes of working time a cell."""
    now: int
    """The column of now."""
    columns: tuple[Column, ...]
    _starts: tuple[float, ...]

    @property
    def width(self) -> int:
        """Cells."""
        return len(self.columns)

    @property
    def zone(self) -> tzinfo:
        """The shop's time zone."""
        return self.calendar.zone

    def column(self, instant: datetime) -> int:
        """The column that holds an instant: -1 left of the lane, `width` right of it."""
        x = instant.timestamp()
        if x < self._starts[0]:
            return -1
        if x >= self.columns[-1].until:
            return self.width
        found = bisect_right(self._starts, x) - 1
        # the now-column is for now alone: what comes at this very instant stands right of it
        return found + 1 if found == self.now and x > self.at.timestamp() else found

    def between(self, since: datetime, until: datetime) -> Iterator[tuple[int, float]]:
        """Cells that a stretch of time touches, each with the seconds it takes of the cell."""
        start, end = since.timestamp(), until.timestamp()
        first = max(0, bisect_right(self._starts, start) - 1)
        for place in range(first, self.width):
            column = self.columns[place]
            if column.since >= end:
                break
            if column.kind == "cell":
                share = min(end, column.until) - max(start, column.since)
                if share > 0:
                    yield place, share

    @property
    def days_ahead(self) -> int:
        """Working days that it shows from now on, today and a last one in part counted."""
        return len({column.day for column in self.columns[self.now + 1 :] if column.open_s})

    def open_h(self, place: int) -> float:
        """Working hours in a column."""
        return self.columns[place].open_s / 3600

    def working_h(self, instant: datetime) -> float:
        """Working hours from now to an instant, 0 for one that is past."""
        return self.calendar.working_h(self.at, instant) if instant > self.at else 0.0


def now_column(width: int) -> int:
    """Where now stands: a third from the left, in narrow lanes the fourth column."""
    return min(3, width - 1) if width < NARROW else width // 3


def first_zoom(day_h: float, width: int) -> int:
    """The finest zoom that shows 1.5 working days back and 3 ahead, in minutes a cell."""
    if width < NARROW:
        return 60
    left = now_column(width)
    right = width - left - 1
    for zoom in FIRST_ZOOMS:
        per_day = day_h * 60 / zoom
        if BACK_DAYS * per_day + 2 <= left and AHEAD_DAYS * per_day + 3 <= right:
            return zoom
    return FIRST_ZOOMS[-1]


def zooms(calendar: Calendar, at: datetime, width: int) -> list[int]:
    """Zooms worth stepping through in a lane of so many cells, from a day to two weeks ahead."""
    day_h = _usual_day_h(_days(calendar, at, REACHES[0]))
    right = width - now_column(width) - 1
    ahead = {zoom: right / (max(1, round(day_h * 60 / zoom)) + 1) for zoom in ZOOMS}
    enough = [zoom for zoom in ZOOMS if ahead[zoom] >= LEAST_DAYS]
    first = next((n for n, zoom in enumerate(enough) if ahead[zoom] >= MOST_DAYS), len(enough))
    return enough[: first + 1] or [ZOOMS[-1]]


@lru_cache(maxsize=8)
def axis(calendar: Calendar, at: datetime, width: int, zoom: int | None = None) -> Axis:
    """The axis of a lane of so many cells.

    The last few are kept: a cursor moves many times within one look.

    Args:
        zoom: minutes a cell, one of `ZOOMS`; None chooses for this shop's day and width.
    """
    left = now_column(width)
    room = (left, width - left - 1)
    minutes, before, after = FIRST_ZOOMS[-1], list[Column](), list[Column]()
    for reach in REACHES:
        days = _days(calendar, at, reach)
        minutes = zoom or first_zoom(_usual_day_h(days), width)
        before, after = _sides(days, at.timestamp(), minutes * 60.0, room)
        if len(before) == room[0] and len(after) == room[1]:
            break
    columns = _assemble(calendar, at, (before, after), room)
    return Axis(calendar, at, minutes, left, columns, tuple(c.since for c in columns))


def _assemble(
    calendar: Calendar,
    at: datetime,
    sides: tuple[list[Column], list[Column]],
    room: tuple[int, int],
) -> tuple[Column, ...]:
    """Columns in order, with blanks where the shop never opens."""
    (before, after), (left, right) = sides, room
    x, today = at.timestamp(), calendar.day_of(at)
    first = before[-1].since if before else x
    last = after[-1].until if after else x
    return (
        *(Column("blank", first, first, today) for _ in range(left - len(before))),
        *reversed(before),
        Column("now", x, x, today),
        *after,
        *(Column("blank", last, last, today) for _ in range(right - len(after))),
    )


@dataclass(frozen=True, slots=True)
class _Day:
    """A working day: its local date and open spans."""

    day: date
    spans: list[tuple[float, float]]

    @property
    def length(self) -> float:
        return sum(end - start for start, end in self.spans)


def _days(calendar: Calendar, at: datetime, reach: int) -> list[_Day]:
    """Working days around now, from midnight to midnight of the farthest ones."""
    since, until = (_midnight(at + timedelta(days=d), calendar.zone) for d in (-reach, reach))
    days: list[_Day] = []
    for start, end in _short_spans(calendar.open_spans(since, until), calendar.zone):
        day = datetime.fromtimestamp(start, calendar.zone).date()
        if days and (days[-1].day == day or start - days[-1].spans[-1][1] < _joins(days[-1])):
            days[-1].spans.append((start, end))
        else:
            days.append(_Day(day, [(start, end)]))
    return days


def _joins(day: _Day) -> float:
    """How short a gap must be for the next span to belong to the day still."""
    return LONG_GAP_S if day.length < LONGEST_DAY_S else 0.0


def _short_spans(
    spans: list[tuple[datetime, datetime]], zone: tzinfo
) -> Iterator[tuple[float, float]]:
    """The spans as seconds, those of a shop that never closes cut at midnights."""
    for since, until in spans:
        start, end = since.timestamp(), until.timestamp()
        while end - start > LONGEST_DAY_S:
            here = datetime.fromtimestamp(start, zone)
            midnight = _midnight(here + timedelta(days=1), zone).timestamp()
            if midnight >= end:
                break
            yield start, midnight
            start = midnight
        yield start, end


def _midnight(instant: datetime, zone: tzinfo) -> datetime:
    local = instant.astimezone(zone)
    return local.replace(hour=0, minute=0, second=0, microsecond=0).astimezone(UTC)


def _usual_day_h(days: list[_Day]) -> float:
    """The middle length of the days seen, 8 h where there is none."""
    lengths = sorted(day.length for day in days)
    return lengths[len(lengths) // 2] / 3600 if lengths else 8.0


def _sides(
    days: list[_Day], now: float, step: float, room: tuple[int, int]
) -> tuple[list[Column], list[Column]]:
    """Columns left of now, nearest first, and right of it, no more than there is room for."""
    past = [day for day in days if day.spans[0][0] < now]
    before: list[Column] = []
    for nth, day in enumerate(reversed(past)):
        if len(before) >= room[0]:
            break
        if nth:
            before.append(_gap(day, past[-nth]))
        before += reversed([c for c in _cells(day, step, now) if c.until <= now])
    after: list[Column] = []
    last = past[-1] if past else None
    for day in (day for day in days if day.spans[-1][1] > now):
        if last is not None and last is not day:
            after.append(_gap(last, day, now))
        after += [c for c in _cells(day, step, now) if c.since >= now]
        last = day
        if len(after) >= room[1]:
            break
    return before[: room[0]], after[: room[1]]


def _gap(day: _Day, later: _Day, now: float = 0.0) -> Column:
    """The night or the closed days between two working days."""
    weekend = (later.day - day.day).days > 1
    since = max(now, day.spans[-1][1])
    return Column("weekend" if weekend else "night", since, later.spans[0][0], later.day)


def _cells(day: _Day, step: float, now: float) -> list[Column]:
    """The day in cells of so many working seconds, the one that holds now cut in two.

    A rest of less than half a cell joins the cell before it.
    """
    count = max(1, int(day.length / step + 0.5))
    edges = [step * n for n in range(count)] + [day.length]
    cells: list[Column] = []
    for low, high in pairwise(edges):
        start, end = _when(day, low, after=True), _when(day, high, after=False)
        cuts = [start, now, end] if start < now < end else [start, end]
        cells += [Column("cell", a, b, day.day, _open(day, a, b)) for a, b in pairwise(cuts)]
    return cells


def _open(day: _Day, since: float, until: float) -> float:
    """Working seconds between two instants of the day."""
    shares = (min(until, end) - max(since, start) for start, end in day.spans)
    return sum(share for share in shares if share > 0)


def _when(day: _Day, worked: float, after: bool) -> float:
    """The instant by which so many seconds of the day's open time have passed.

    At the edge of a break: the end of the break if `after`, else its start.
    """
    left = worked
    for start, end in day.spans:
        if left < end - start or (not after and left <= end - start):
            return start + left
        left -= end - start
    return day.spans[-1][1]
