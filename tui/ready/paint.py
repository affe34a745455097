"""Parts and kits of a job as a list: a row each, what lacks marked by sign and word."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from rich.cells import cell_len

from store.views.parts_values import KitOnCard, PartOnCard
from store.views.values import JobCard
from tui import keys
from tui.colours import Ink, Role
from tui.parts.canvas import ON_SCREEN, Canvas
from tui.parts.lines import LEAST, paint_keys, paint_rule, paint_said, too_small
from tui.ready.words import kit_words, part_more, ready_words
from tui.signs import STATES, Signs, State
from tui.words import cut, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
LINE = f"{ON_SCREEN}part "
Row: TypeAlias = "PartOnCard | KitOnCard"
SIGNS: dict[str, State] = {
    "wanted": "waiting", "ordered": "waiting", "here": "free", "wrong": "act",
    "returned": "waiting", "fitted": "done", "not needed": "to come",
}  # fmt: skip
"""Signs of what a part is."""
STATE_CELLS = 11


@dataclass(frozen=True, slots=True)
class Standing:
    """Which row one stands on, and which lines are marked to be moved together."""

    row: int = 0
    marked: frozenset[int] = frozenset()


def rows_of(card: JobCard) -> tuple[Row, ...]:
    """Parts first, then kits."""
    return (*card.parts, *card.tools)


def parts_canvas(
    card: JobCard, here: Standing, size: tuple[int, int], signs: Signs, said: str
) -> Canvas:
    """The list at a size."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    canvas.put(1, 0, cut(f"{card.job.number} {card.job.vehicle}", width - 2, signs.more), DIM)
    top = 1
    for line in wrapped(f"Parts and kits: {ready_words(card)}", width - 2)[:2]:
        canvas.put(1, top, line, BOLD)
        top += 1
    _paint_rows(canvas, card, here, (top, height - 2), signs)
    paint_said(canvas, height - 2, said, signs)
    paint_keys(canvas, height - 1, keys.last_row(keys.PARTS), signs)
    return canvas


def _paint_rows(
    canvas: Canvas, card: JobCard, here: Standing, span: tuple[int, int], signs: Signs
) -> None:
    top, end = span
    rows = rows_of(card)
    if not rows:
        said = keys.filled("No parts and no kits yet. {parts.add} lists a part.")
        canvas.put(3, top + 1, cut(said, canvas.width - 4, signs.more), DIM)
        return
    lines: list[str | int] = [_parts_title(card), *range(len(card.parts))]
    if card.tools:
        lines += ["kits", *range(len(card.parts), len(rows))]
    at = lines.index(here.row) if here.row in lines else 0
    first = _first(at, len(lines), end - top)
    most = canvas.width * 2 // 5
    names = {kind: min(most, max((cell_len(_name(one)) for one in ones), default=0))
             for kind, ones in (("part", card.parts), ("kit", card.tools))}  # fmt: skip
    for y, line in enumerate(lines[first : first + end - top], top):
        if isinstance(line, str):
            paint_rule(canvas, y, (0, canvas.width), line, signs)
        else:
            kind = "part" if line < len(card.parts) else "kit"
            _paint_row(canvas, y, (line, rows[line], names[kind]), (card, here, signs))


def _parts_title(card: JobCard) -> str:
    wanted = [one for one in card.parts if one.state != "not needed" and not one.left_out]
    lacks = sum(one.lacks for one in card.parts)
    return f"parts: {lacks} of {len(wanted)} lack" if lacks else "parts: none lacks"


def _first(at: int, many: int, room: int) -> int:
    """The first line shown, so that the one at hand is in sight."""
    return min(max(0, at - room // 2), max(0, many - room))


def _name(row: Row) -> str:
    if isinstance(row, KitOnCard):
        return row.name
    return f"{row.text}{f'  for {row.phase}' if row.phase else ''}"


def _paint_row(
    canvas: Canvas, y: int, what: tuple[int, Row, int], about: tuple[JobCard, Standing, Signs]
) -> None:
    (nth, row, names), (card, here, signs) = what, about
    state, role = sign_of(row)
    at_hand = nth == here.row
    marked = isinstance(row, PartOnCard) and row.line in here.marked
    canvas.put(3, y, "x" if marked else " ", BOLD)
    number = str(row.line) if isinstance(row, PartOnCard) else ""
    canvas.right(7, y, number, DIM)
    canvas.put(8, y, signs.of(state), Ink(role, bold=True))
    canvas.put(10, y, cut(_name(row), names, signs.more), BOLD if at_hand else TEXT)
    x = 10 + names + 2
    zone = card.calendar.zone
    if isinstance(row, PartOnCard):
        canvas.put(x, y, cut(row.state, STATE_CELLS, signs.more), Ink(role))
        x += STATE_CELLS + 1
        more = "; ".join(part_more(row, zone, card.at))
    else:
        more = kit_words(row, zone, card.at)
    ink = Ink(role) if isinstance(row, KitOnCard) else DIM
    canvas.put(x, y, cut(more, canvas.width - x - 1, signs.more), ink)
    canvas.spot(0, y, (canvas.width, 1), f"{LINE}{nth}")
    if at_hand:
        canvas.ground(0, y, canvas.width, 1, "pick")
        canvas.put(1, y, signs.of("running"), Ink("text", bold=True, ground="pick"))


def sign_of(row: Row) -> tuple[State, Role]:
    """Sign and colour: what lacks and wants somebody is loud."""
    if isinstance(row, PartOnCard):
        if row.left_out:
            return "to come", "dim"
        loud = row.state in ("wanted", "wrong", "returned")
        return SIGNS[row.state], "behind" if loud else STATES[SIGNS[row.state]].role
    if row.at in ("here", "in use"):
        return ("running" if row.at == "in use" else "free"), "text"
    return ("waiting", "waiting") if row.at == "asked" else ("act", "behind")


def click_of(key: str) -> int | None:
    """The row that was clicked on."""
    return int(key.removeprefix(LINE)) if key.startswith(LINE) else None
