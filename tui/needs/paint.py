"""The page of who must do what: two rows each, what matters most first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rich.cells import cell_len

from store.views.needs_values import Helps, Need, Needs
from tui import keys
from tui.colours import Ink
from tui.needs.laid import LINE
from tui.needs.words import (
    NEED_LOUD,
    NOTHING,
    by_words,
    comes_words,
    fact_words,
    is_loud,
    where_words,
)
from tui.parts.canvas import Canvas, Piece
from tui.parts.lines import LEAST, paint_keys, paint_said, put_pieces, too_small
from tui.signs import Signs
from tui.words import counted, cut, moment

DIM, TEXT, BOLD, DUE = Ink("dim"), Ink("text"), Ink("text", bold=True), Ink("due")
TOP, FOOT, EACH = 3, 2, 2
"""Rows above and under the list, and of each line."""
DIGIT, WORD, FACTS, WHERE, SAYS = 1, 3, 4, 17, 37
"""First cells of the columns."""
WIDE, VEHICLE, WIDE_SAYS = 112, 37, 62
"""From so many cells on there is room for the vehicle, and where the rest begins then."""


def rows_of(size: tuple[int, int]) -> int:
    """How many lines fit."""
    return max(1, (size[1] - TOP - FOOT) // EACH)


def needs_canvas(
    found: tuple[Needs, Helps], here: int, size: tuple[int, int], signs: Signs, said: str
) -> Canvas:
    """The page; `here` is the place of the line one stands on."""
    canvas, (view, helps) = Canvas(*size), found
    if size[0] < LEAST[0] or size[1] < LEAST[1]:
        too_small(canvas)
        return canvas
    canvas.put(1, 0, "who must do what", BOLD)
    canvas.right(size[0] - 1, 0, moment(view.at, view.calendar.zone), TEXT)
    if view.needs:
        canvas.put(1, 1, cut(_summary(view), size[0] - 2, signs.more), DIM)
    else:
        after = canvas.put(1, 1, NOTHING, Ink("ahead", bold=True)) + 2
        canvas.put(after, 1, cut(comes_words(helps), size[0] - 1 - after, signs.more), DIM)
    rows = rows_of(size)
    first = min(max(0, here - rows // 2), max(0, len(view.needs) - rows))
    canvas.right(size[0] - 1, TOP - 1, _beyond(first, len(view.needs) - first - rows), DIM)
    for nth, need in enumerate(view.needs[first : first + rows], first):
        _need(canvas, TOP + EACH * (nth - first), (view, need, nth), signs, here=nth == here)
    paint_said(canvas, size[1] - 2, said or _whole(view, here, size[0]), signs)
    paint_keys(canvas, size[1] - 1, keys.last_row(keys.NEEDS), signs)
    return canvas


def _summary(view: Needs) -> str:
    """`7 things, 2 of them due; waiting costs 1.4 lift-days`"""
    due = sum(one.due for one in view.needs)
    days = sum(one.lift_days or 0.0 for one in view.needs)
    parts = [counted(len(view.needs), "thing wants", "things want") + " somebody"]
    parts += [f"{due} due today or before"] if due else []
    parts += [f"waiting costs {days:.1f} lift-days"] if days >= 0.05 else []
    return "; ".join(parts) + "."


def _beyond(above: int, below: int) -> str:
    """`2 more above, 1 more below`"""
    return ", ".join(
        f"{many} more {where}" for many, where in ((above, "above"), (below, "below")) if many > 0
    )


def _whole(view: Needs, here: int, width: int) -> str:
    """What the line says on which one stands, where its column is too narrow for it."""
    for need in view.needs[here : here + 1]:
        if cell_len(need.act.says) > width - _says_at(width) - 1:
            return need.act.says
    return ""


def _says_at(width: int) -> int:
    return WIDE_SAYS if width >= WIDE else SAYS


def _need(
    canvas: Canvas, y: int, what: tuple[Needs, Need, int], signs: Signs, *, here: bool
) -> None:
    view, need, nth = what
    width = canvas.width
    if nth < 9:
        canvas.put(DIGIT, y, str(nth + 1), BOLD)
    canvas.put(WORD, y, *word_piece(need, signs))
    where = TEXT if is_loud(need) else DIM
    canvas.put(WHERE, y, cut(where_words(need), SAYS - WHERE - 1, signs.more), where)
    x = _says_at(width)
    if width >= WIDE:
        canvas.put(VEHICLE, y, cut(need.vehicle or "", WIDE_SAYS - VEHICLE - 2, signs.more), DIM)
    canvas.put(x, y, cut(need.act.says, width - x - 1, signs.more), BOLD if here else TEXT)
    put_pieces(canvas, (FACTS, y + 1), list(_facts(view, need, width)), width - FACTS - 1, signs)
    canvas.spot(0, y, (width, EACH), f"{LINE}{nth}")
    if here:
        canvas.ground(0, y, WORD, EACH, "pick")
        canvas.ground(WHERE, y, width - WHERE, 1, "pick")
        canvas.ground(WORD, y + 1, width - WORD, 1, "pick")
        canvas.put(0, y, signs.of("running"), Ink("text", bold=True, ground="pick"))


def _facts(view: Needs, need: Need, width: int) -> Iterator[Piece]:
    """Whole facts only, as many as fit; the time by which it is due today is bright."""
    zone, by = view.calendar.zone, need.act.by
    due = by_words(by, zone, view.at) if by is not None and need.due else None
    for nth, fact in enumerate(_fitting(fact_words(need, zone, view.at), width - FACTS - 1)):
        yield ("; " if nth else "", DIM)
        yield (fact, DUE if fact == due else DIM)


def _fitting(facts: Iterable[str], room: int) -> list[str]:
    """The first, and of the others what still fits."""
    kept: list[str] = []
    for one in facts:
        if not kept or cell_len("; ".join([*kept, one])) <= room:
            kept.append(one)
    return kept


def word_piece(need: Need, signs: Signs) -> Piece:
    """Its word: filled where it cannot wait, else quiet."""
    loud = NEED_LOUD[need.word]
    sign = signs.of(loud.state)
    if is_loud(need):
        return f" {sign} {need.word} ", Ink(loud.role, loud=True)
    return f" {sign} {need.word.lower()} ", TEXT
