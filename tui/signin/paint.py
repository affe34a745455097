"""The sign-in screen: whose shop, what time it is, and the field that a badge goes into."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from store.views.door import Door
from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.parts.figures import tall
from tui.parts.lines import LEAST, Key, paint_keys, paint_said, too_small
from tui.signs import Signs
from tui.words import cut, full_date, time, zone_of

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
FIELD = Ink("field-text", bold=True, ground="field")
FIELD_CELLS = 26


@dataclass(frozen=True, slots=True)
class SignInState:
    """What was typed so far; `said` begins with `!` where it was refused.

    Attributes:
        own: the one badge that can sign in here, where the line came in by a key.
    """

    typed: str = ""
    said: str = ""
    lift: str | None = None
    keys: Sequence[Key] = ()
    stale: str | None = None
    own: str | None = None


def signin_canvas(door: Door, size: tuple[int, int], signs: Signs, state: SignInState) -> Canvas:
    """The screen before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    zone = zone_of(door.zone)
    canvas.put(1, 0, cut(door.shop, width // 2, signs.more), DIM)
    place = f"lift {state.lift}" if state.lift else ""
    if state.stale:
        canvas.right(width - 1, 0, f" ! AS OF {state.stale} ", Ink("due", loud=True))
    else:
        canvas.right(width - 1, 0, place, DIM)
    top = max(3, height // 2 - 7)
    clock = time(door.at, zone)
    lines = [f"[{clock}]"] if signs.ascii else tall(clock, 2)
    for row, line in enumerate(lines):
        _middle(canvas, top + row, line, TEXT)
    y = top + len(lines) + 1
    _middle(canvas, y, full_date(door.at, zone), DIM)
    _field(canvas, y + 3, state, signs)
    _middle(canvas, y + 6, _asks(state.own), DIM)
    paint_said(canvas, height - 2, state.said, signs)
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


def _asks(own: str | None) -> str:
    if own is None:
        return "Scan your badge, or type it and press Enter."
    return f"This line is for the badge {own}: Enter signs in."


def _middle(canvas: Canvas, y: int, text: str, ink: Ink) -> None:
    canvas.put(max(0, (canvas.width - cell_len(text)) // 2), y, text, ink)


def _field(canvas: Canvas, y: int, state: SignInState, signs: Signs) -> None:
    """Three rows filled like the clock of the bay: what goes in here makes it run."""
    x = (canvas.width - FIELD_CELLS) // 2
    for row in (y - 1, y, y + 1):
        canvas.fill(x, row, FIELD_CELLS, FIELD)
    after = canvas.put(x + 2, y, "badge ", Ink("field-text", ground="field"))
    typed = state.typed[-(FIELD_CELLS - 12) :]
    after = canvas.put(after + 1, y, typed, FIELD)
    canvas.put(after, y, signs.low, FIELD)
