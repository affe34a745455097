"""Words over and around a lane: days and hours of the axis, names of phases over their stretch."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from itertools import groupby, zip_longest
from typing import NamedTuple

from rich.cells import cell_len

from store.views.values import PhaseLabel
from tui.colours import Ink
from tui.lane.axis import Axis
from tui.lane.band import Band
from tui.lane.state import reason
from tui.parts.canvas import Canvas
from tui.signs import Signs
from tui.words import DAYS, cut

DIM = Ink("dim")
TODAY = Ink("text", bold=True)
HOUR_STEPS = ((60, 1), (32, 2), (16, 3), (0, 12))
"""From so many cells a day on, every so manieth hour is written."""


def paint_lines(canvas: Canvas, at: tuple[int, int], height: int, axis: Axis, signs: Signs) -> None:
    """Nights, weekends and the now-line through so many rows."""
    x, y = at
    for n, column in enumerate(axis.columns):
        if column.kind in ("cell", "blank"):
            continue
        night = signs.night if column.kind == "night" else signs.weekend
        letter, ink = (night, Ink("line"))
        if column.kind == "now":
            letter, ink = signs.now, Ink("promise", bold=True)
        for row in range(y, y + height):
            canvas.dot(x + n, row, letter, ink)


def paint_axis(canvas: Canvas, at: tuple[int, int], axis: Axis) -> None:
    """One row of day names and hours; today is bold, what would touch *now* is left out."""
    x, y = at
    today = axis.columns[axis.now].day
    named = False
    for first, last in _days(axis):
        day = axis.columns[first].day
        is_today = day == today
        free = first
        if not (is_today and named):
            name = _day_name(axis, first, last)
            named = named or (is_today and bool(name))
            canvas.put(x + first, y, name, TODAY if is_today else DIM)
            free = first + len(name) + 1 if name else first
        for place, text in _hours(axis, first, last):
            if place >= free and place + len(text) < last + _apart(axis, last):
                canvas.put(x + place, y, text, DIM)
                free = place + len(text) + 1


def _days(axis: Axis) -> Iterator[tuple[int, int]]:
    """First column and the one after the last, of each day on each side of now."""
    cells = [n for n, column in enumerate(axis.columns) if column.kind == "cell"]
    for _, group in groupby(cells, key=lambda n: (axis.columns[n].day, n > axis.now)):
        places = list(group)
        yield places[0], places[-1] + 1


def _apart(axis: Axis, last: int) -> int:
    """A text ends one cell before now, but may touch a night or the edge."""
    return 0 if last == axis.now else 1


def _day_name(axis: Axis, first: int, last: int) -> str:
    day = axis.columns[first].day
    room = last - first - (1 if last == axis.now else 0)
    for name in (f"{DAYS[day.weekday()]} {day.day}", DAYS[day.weekday()]):
        if len(name) <= room:
            return name
    return ""


def _hours(axis: Axis, first: int, last: int) -> Iterator[tuple[int, str]]:
    columns = axis.columns[first:last]
    per_day = 8 * 60 / axis.zoom
    step = next(step for least, step in HOUR_STEPS if per_day >= least)
    for hour in range(0, 24, step):
        day = columns[0].day
        at = datetime(day.year, day.month, day.day, hour, tzinfo=axis.zone).timestamp()
        if columns[0].since < at < columns[-1].until:
            slack = axis.zoom * 30.0
            place = next((n for n, c in enumerate(columns) if c.since >= at - slack), None)
            if place is not None:
                yield first + place, f"{hour}h"


class Label(NamedTuple):
    """A text that stands from a column on, longest first."""

    place: int
    texts: tuple[str, ...]
    ink: Ink


def paint_labels(canvas: Canvas, at: tuple[int, int], band: Band, signs: Signs) -> None:
    """Numbers and names of phases over their stretches, never across now."""
    x, y = at
    labels = sorted(_labels(band, signs), key=lambda label: label.place)
    now, width = band.axis.now, band.axis.width
    for label, after in zip_longest(labels, labels[1:]):
        end = after.place - 1 if after else width
        room = (min(end, now - 1) if label.place < now else end) - label.place
        text = next((t for t in label.texts if cell_len(t) <= room), "")
        canvas.put_over(x + label.place, y, text, label.ink)


def _labels(band: Band, signs: Signs) -> Iterator[Label]:
    by_number = {label.number: label for label in band.job.labels}
    seen: set[str | None] = set()
    held = False
    for place, what in sorted(band.past.items()):
        if what.kind == "held" and not held:
            held = True
            yield Label(place, _held_texts(band), Ink("blocked"))
        elif what.kind != "held" and what.phase not in seen and what.phase in by_number:
            seen.add(what.phase)
            ink = Ink("text") if what.phase in band.running else DIM
            yield Label(place, shorter(by_number[what.phase], signs.more), ink)
    for place, coming in sorted(band.coming.items()):
        if coming.kind != "held" and coming.phase not in seen and coming.phase in by_number:
            seen.add(coming.phase)
            yield Label(place, shorter(by_number[coming.phase], signs.more), DIM)


def _held_texts(band: Band) -> tuple[str, ...]:
    why = band.job.hold.reason if band.job.hold else band.job.held
    return (f"held: {reason(why)}", "held") if why else ("held",)


def shorter(label: PhaseLabel, more: str) -> tuple[str, ...]:
    """`2 gearbox out`, cut word by word, then letter by letter to four, then `2`."""
    words = label.name.split() or [""]
    whole = [f"{label.number} {' '.join(words[:n])}".rstrip(" ,") for n in range(len(words), 0, -1)]
    first = words[0]
    parts = [f"{label.number} {cut(first, n, '')}" for n in range(cell_len(first) - 1, 3, -1)]
    return (*(cut(text, 80, more) for text in whole), *parts, label.number)
