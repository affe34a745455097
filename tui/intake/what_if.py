"""What if it is the other build? Each answer a column: odds, hours, dates, phases, tools."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from store.trouble import Refused
from store.views.counter import Counter
from tui.colours import Ink, Role
from tui.intake.promise import in_words
from tui.intake.rest import kit_names, odds_in_words
from tui.intake.state import OFFERED, Form, date_at
from tui.parts.canvas import Canvas
from tui.parts.lines import LEAST, Key, paint_keys, paint_rule, too_small
from tui.signs import Signs
from tui.words import chance, cut, day_time, hours, listed, tenth, wrapped, zone_of

if TYPE_CHECKING:
    from store.views.estimate import Estimate, ForkLine, Way
    from tui.intake.screen import IntakeScreen

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
LABEL = 16
TALLEST = 3
"""Rows that a list of phases may take."""
KEYS = (
    Key("1-9", "take it as known"),
    Key("up down", "other questions", "others"),
    Key("Esc", "back"),
)


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the comparison: a label, and a text for each way."""

    label: str
    texts: tuple[str, ...]
    role: Role = "text"
    bold: bool = False


def questions(found: Estimate) -> tuple[ForkLine, ...]:
    """All that is open: what changes the work, then checks that end it."""
    every = (*found.forks, *found.unknown)
    return tuple(sorted(every, key=lambda one: any(way.ends for way in one.ways)))


def what_if_canvas(
    here: Counter, found: Estimate, at: int, size: tuple[int, int], signs: Signs
) -> Canvas:
    """One open question, its answers side by side."""
    canvas = Canvas(*size)
    if size[0] < LEAST[0] or size[1] < LEAST[1]:
        too_small(canvas)
        return canvas
    width, height = size
    asked = questions(found)
    line = asked[at]
    where = f"{at + 1} of {len(asked)}"
    canvas.put(1, 0, "what if", BOLD)
    canvas.put(10, 0, cut(_asked_by(line), width - 22, signs.more), DIM)
    canvas.right(width - 1, 0, where, DIM)
    canvas.put(1, 2, cut(line.text, width - 2, signs.more), BOLD)
    paint_rule(canvas, 3, (0, width), "side by side", signs)
    column = (width - LABEL - 1) // max(1, len(line.ways))
    y = 4
    for row in lines(here, found, line):
        y = _paint(canvas, y, row, column, signs, height - 2)
    paint_keys(canvas, height - 1, KEYS, signs)
    return canvas


def _asked_by(line: ForkLine) -> str:
    if line.phase is not None:
        return f"phase {line.phase} decides it, unless it is known now"
    return "nobody said; the estimate assumes the first"


def lines(here: Counter, found: Estimate, line: ForkLine) -> list[Line]:
    """The comparison, row by row."""
    ways = line.ways
    zone = zone_of(here.zone)
    planned = next((one for one in ways if one.planned), ways[0])
    rows = [
        Line("", tuple(f"{n} {way.text}" for n, way in enumerate(ways, 1)), bold=True),
        Line("", tuple("as planned" if way.planned else "ends here" if way.ends else ""
                       for way in ways), "dim"),
        Line("how likely", tuple(odds_in_words(way) for way in ways)),
        Line("hours", tuple(_hours(way, planned) for way in ways), bold=True),
        Line("cautious", tuple(hours(way.total.cautious) for way in ways)),
        Line("8 in 10", tuple(_range(way) for way in ways)),
    ]  # fmt: skip
    for level in OFFERED:
        dates = [date_at(way.finish, level) for way in ways]
        said = chance(level).word if level == 0.5 else in_words(chance(level))
        if any(dates):
            rows.append(Line(said, tuple(
                day_time(at, zone, here.at) if isinstance(at, datetime) else "" for at in dates
            )))  # fmt: skip
    rows += [
        Line("more", tuple(listed(way.more) for way in ways)),
        Line("less", tuple(_less(way) for way in ways)),
        Line("tools more", tuple(kit_names(here, way.kits) for way in ways), "due"),
    ]
    return [one for one in rows if any(one.texts)]


def _hours(way: Way, planned: Way) -> str:
    more = way.total.middle - planned.total.middle
    if way.planned or abs(more) < 0.05:
        return hours(way.total.middle)
    return f"{hours(way.total.middle)}, {more:+.1f}"


def _range(way: Way) -> str:
    return f"{tenth(way.total.quantiles[1])} to {hours(way.total.quantiles[17])}"


def _less(way: Way) -> str:
    return "all that follows" if way.ends else listed(way.less)


def _paint(canvas: Canvas, y: int, row: Line, column: int, signs: Signs, end: int) -> int:
    """A row as high as its longest text; returns the row after it."""
    texts = [wrapped(text, column - 2)[:TALLEST] for text in row.texts]
    high = max(1, *(len(each) for each in texts))
    if y + high > end:
        return y
    canvas.put(1, y, cut(row.label, LABEL - 1, signs.more), DIM)
    for nth, each in enumerate(texts):
        for down, text in enumerate(each):
            canvas.put(LABEL + nth * column, y + down, cut(text, column - 2, signs.more),
                       Ink(row.role, bold=row.bold))  # fmt: skip
    return y + high


async def show_what_if(screen: IntakeScreen, found: Estimate, form: Form) -> Form:
    """Show each open question; a digit takes an answer as known.

    Raises:
        Refused: nothing is open.
    """
    asked = questions(found)
    here = screen.shown
    if not asked or here is None:
        raise Refused("Nothing is open that would change the work.")
    signs, at = screen.session.signs, 0
    try:
        while True:
            screen.cover(partial(_page, here, found, at, signs))
            key = (await screen.talk.key()).key
            if key in ("down", "right", "page down"):
                at = (at + 1) % len(asked)
            elif key in ("up", "left", "page up"):
                at = (at - 1) % len(asked)
            elif key.isdecimal() and 1 <= int(key) <= len(asked[at].ways):
                known = asked[at].ways[int(key) - 1].sets
                if known:
                    return replace(form, options={**form.options, **dict(known)})
                screen.say_no(f"Phase {asked[at].phase} decides it: nobody can know it now.")
            elif key == "Esc":
                return form
            else:
                screen.say_no("Here the keys are digits, up and down, Esc.")
    finally:
        screen.cover(None)


def _page(here: Counter, found: Estimate, at: int, signs: Signs, size: tuple[int, int]) -> Canvas:
    return what_if_canvas(here, found, at, size, signs)
