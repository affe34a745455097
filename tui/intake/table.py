"""The phases of the work on one scale of hours: range, estimate, book, and what is known of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tui.colours import Ink
from tui.intake.state import IntakeState
from tui.parts.canvas import Canvas, Piece
from tui.parts.lines import put_pieces
from tui.signs import STATES, Signs
from tui.words import counted, cut, hours, tenth

if TYPE_CHECKING:
    from store.views.estimate import Estimate, EstimateLine

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
THIN = Ink("behind")
FEW = 8
"""Jobs under which a base is called thin. Common practice, no source."""
FIGURE = 5
LOW, HIGH = 1, 17
"""Of the quantiles .05 to .95: the ends of 8 in 10."""
SHORT_SOURCE = 14


@dataclass(frozen=True, slots=True)
class Columns:
    """First cells of the columns; `bar` of `bar_width` cells."""

    figures: int
    bar: int
    bar_width: int
    source: int
    end: int


def columns(width: int) -> Columns:
    """The columns for a table of so many cells."""
    name = 25 if width < 100 else 36
    source = SHORT_SOURCE if width < 100 else 32
    end = width - 1
    bar = 1 + name + 3 * FIGURE + 2
    return Columns(1 + name, bar, end - source - 2 - bar, end - source, end)


def paint_table(
    canvas: Canvas, rows: tuple[int, int], width: int, state: IntakeState, signs: Signs
) -> None:
    """Heads, as many phases as fit from the first one on, and all together in the last row.

    Args:
        rows: the first one and how many.
        width: cells from the left that the table has.
    """
    top, many = rows
    found, at = state.found, columns(width)
    _heads(canvas, top, at, state)
    if found is None:
        return
    shown = found.route[state.first : state.first + many - 2]
    scale = _scale(found, at.bar_width)
    for nth, line in enumerate(shown, 1):
        _row(canvas, top + nth, line, (at, scale), (state, signs))
    _together(canvas, top + 1 + len(shown), found, at, state, signs)


def phase_rows(found: Estimate | None, rows: int) -> int:
    """How many phases fit in a table of so many rows."""
    return min(len(found.route) if found else 0, max(0, rows - 2))


def _heads(canvas: Canvas, y: int, at: Columns, state: IntakeState) -> None:
    canvas.put(1, y, "phase", DIM)
    for n, word in enumerate(("book", "est", "caut"), 1):
        canvas.right(at.figures + n * FIGURE, y, word, DIM)
    canvas.put(at.bar, y, "range, 8 in 10" if at.bar_width > 14 else "8 in 10", DIM)
    canvas.put(at.source, y, "known from", DIM)


def _scale(found: Estimate, width: int) -> float:
    """Cells an hour, so that the longest range fits."""
    labour = [one for one in found.route if one.kind == "labour"]
    longest = max((max(one.figures.quantiles[HIGH], one.book_h) for one in labour), default=1.0)
    return (width - 1) / max(longest, 0.1)


def _row(
    canvas: Canvas, y: int, line: EstimateLine, how: tuple[Columns, float],
    by: tuple[IntakeState, Signs],
) -> None:  # fmt: skip
    (at, scale), (state, signs) = how, by
    name = cut(f"{line.phase} {line.name}", at.figures - 2, signs.more)
    extra = len(state.form.work) > 1 and state.form.work[0] not in line.serves
    canvas.put(1, y, name, Ink("ahead") if extra else TEXT)
    if line.kind != "labour":
        _away(canvas, y, line, at, signs)
        return
    canvas.right(at.figures + FIGURE, y, tenth(line.book_h), DIM)
    canvas.right(at.figures + 2 * FIGURE, y, tenth(line.figures.middle), BOLD)
    canvas.right(at.figures + 3 * FIGURE, y, tenth(line.figures.cautious), TEXT)
    _range(canvas, y, line, (at, scale), signs)
    text, ink = known_from(line, state, brief=at.end - at.source == SHORT_SOURCE)
    canvas.put(at.source, y, cut(text, at.end - at.source, signs.more), ink)


def _away(canvas: Canvas, y: int, line: EstimateLine, at: Columns, signs: Signs) -> None:
    """Standing and outwork: no labour, no range on this scale."""
    state = STATES["standing" if line.kind == "standing" else "outwork"]
    canvas.right(at.figures + FIGURE, y, tenth(line.book_h), DIM)
    sign = state.ascii if signs.ascii else state.unicode
    what = "stands, no labour" if line.kind == "standing" else "goes out, no labour"
    room = at.source - at.bar - 1
    canvas.put(at.bar, y, cut(f"{sign} {what}", room, signs.more), Ink(state.role))
    canvas.put(at.source, y, "book only", DIM)


def _range(
    canvas: Canvas, y: int, line: EstimateLine, how: tuple[Columns, float], signs: Signs
) -> None:
    at, scale = how
    low, high = line.figures.quantiles[LOW], line.figures.quantiles[HIGH]
    first, last = round(low * scale), round(high * scale)
    canvas.fill(at.bar + first, y, last - first + 1, Ink("next"), signs.range)
    canvas.put(at.bar + round(line.book_h * scale), y, signs.book, Ink("dim"))
    canvas.put(at.bar + round(line.figures.middle * scale), y, signs.estimate,
               Ink("promise", bold=True))  # fmt: skip


def known_from(line: EstimateLine, state: IntakeState, *, brief: bool = False) -> tuple[str, Ink]:
    """From how many jobs of what kind a phase's hours come."""
    if state.stage == "book":
        return "asking", DIM
    many = line.finished_before
    if many == 0:
        return "book only", THIN
    text = counted(many, "job")
    if many < FEW:
        return f"{text}, thin", THIN
    if line.on_family == 0:
        return f"{many} on others" if brief else f"{text}, none on this family", THIN
    return text if brief else f"{text}, {line.on_family} on this family", DIM


def _together(
    canvas: Canvas, y: int, found: Estimate, at: Columns, state: IntakeState, signs: Signs
) -> None:
    canvas.put(1, y, "together", BOLD)
    book = sum(one.book_h for one in found.route if one.kind == "labour")
    total = found.total
    for n, value in enumerate((book, total.middle, total.cautious), 1):
        canvas.right(at.figures + n * FIGURE, y, tenth(value), BOLD)
    low, high = tenth(total.quantiles[LOW]), hours(total.quantiles[HIGH])
    wide = at.end - at.bar > 48
    pieces: list[Piece] = [
        (f"8 in 10 between {low} and {high}" if wide else f"{low} to {high}", BOLD)
    ]
    if found.saves_h > 0.05:
        saves = hours(found.saves_h) if wide else tenth(found.saves_h)
        pieces.append((f"; sharing saves {saves}", Ink("ahead")))
    put_pieces(canvas, (at.bar, y), pieces, at.end - at.bar, signs)
