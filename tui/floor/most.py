"""HELPS MOST and TRYING: one act, what it moves before and after, and whom it frees."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from store.views.needs_values import ChanceMoved, HelpLine, Helps
from tui.colours import Ink
from tui.floor.state import Trying
from tui.needs.words import age_words, is_seen, out_words
from tui.parts.canvas import Canvas, Piece, width_of
from tui.signs import Signs
from tui.words import chance, cut, hours

DIM = Ink("dim", ground="panel")
BOLD = Ink("text", bold=True, ground="panel")
UNWRITTEN = "Nothing is written."
LEAST_WON_H = 0.05
"""Lift hours under which nothing is said of them: they would read as 0.0."""


def paint_most(canvas: Canvas, y: int, rows: int, helps: Helps, context: tuple[int, Signs]) -> None:
    """The act that helps most, and in the second row what it moves; `context` the end, signs."""
    end, signs = context
    line = helps.lines[0]
    x = canvas.put(1, y, " HELPS MOST ", Ink("due", loud=True, ground="panel")) + 2
    canvas.put(x, y, cut(act_words(line), end - x, signs.more), BOLD)
    if rows < 2:
        return
    age = age_words(helps)
    last = canvas.right(end, y + 1, age, DIM) - 3 if age and end - x > 2 * len(age) else end
    canvas.pieces(x, y + 1, moves(line, helps, signs, last - x))


def paint_trying(
    canvas: Canvas, y: int, rows: int, trying: Trying, context: tuple[int, Signs]
) -> None:
    """The act that is tried, that nothing is written, and what it would move."""
    end, signs = context
    line = trying.line
    x = canvas.put(1, y, " TRYING ", Ink("promise", bold=True, loud=True, ground="panel")) + 2
    room = end - x - len(UNWRITTEN) - 3
    says = act_words(line)
    said = f"{says}." if cell_len(says) <= room else cut(says, room, signs.more)
    canvas.put(x, y, f"{said}  {UNWRITTEN}", BOLD)
    if rows > 1:
        canvas.pieces(x, y + 1, moves(line, trying.helps, signs, end - x))


def act_words(line: HelpLine) -> str:
    """`lift 2, 2409.3: the customer's word on the stud, +3.5 h`"""
    act = line.need.act
    if act.kind in ("bring in", "clear", "line"):
        return act.says
    lift = f"lift {act.lift}" if act.lift is not None else ""
    where = ", ".join(filter(None, (lift, act.where)))
    return f"{where}: {act.says}" if where else act.says


def moves(line: HelpLine, helps: Helps, signs: Signs, room: int) -> list[Piece]:
    """As many of the things it moves as fit: chances of promises, lifts, hours of lifts."""
    best: list[Piece] = []
    for short in (False, True):
        best = []
        for group in _groups(line, helps, signs, short=short):
            if width_of([*best, *group]) > room:
                if short:
                    return best
                break
            best = [*best, *group, ("    ", DIM)]
        else:
            return best
    return best


def _groups(
    line: HelpLine, helps: Helps, signs: Signs, *, short: bool
) -> Iterator[Sequence[Piece]]:
    for one in line.frees:
        if is_seen(one):
            yield [(f"{one.job} ", DIM), *chances(one, signs.becomes, short=short)]
    for out in line.outs[:1]:
        yield [(out_words(out, helps.calendar.zone, helps.at, signs.becomes), DIM)]
    if line.lift_h >= LEAST_WON_H:
        yield [
            ("won: ", DIM),
            (hours(line.lift_h), Ink("ahead", ground="panel")),
            (" of a lift", DIM),
        ]


def chances(one: ChanceMoved, becomes: str, *, short: bool) -> list[Piece]:
    """`will break › doubtful 3 in 10`; where the word stays its figure says what moves."""
    before, after = chance(one.before), chance(one.after)
    words = [of.short if short else of.word for of in (before, after)]
    first = f"{words[0]} {before.tenths}".rstrip() if words[0] == words[1] else words[0]
    last = f"{words[1]} {after.tenths}".rstrip()
    return [
        (first, Ink(before.role, ground="panel")), (f" {becomes} ", DIM),
        (last, Ink(after.role, bold=after.bad, ground="panel")),
    ]  # fmt: skip
