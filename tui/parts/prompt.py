"""What a screen asks just now, and how it is painted: a strip over the last rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.parts.lines import Key, paint_keys
from tui.signs import Signs
from tui.words import cut, wrapped

PANEL = Ink("text", ground="panel")
PANEL_DIM = Ink("dim", ground="panel")
PANEL_BOLD = Ink("text", bold=True, ground="panel")
KEY_BLOCK = Ink("text", bold=True, ground="pick")
HOT = Ink("text", loud=True, ground="panel")
OPTION_KEYS = "123456789abcdefghijklmnop"
"""Keys of options in their order."""
PAD = ("789", "456", "123", "0")
"""Digits lie here as they lie under the glove."""


@dataclass(frozen=True, slots=True)
class Option:
    """One answer and its key; a hot one is what Enter takes."""

    key: str
    words: str
    hot: bool = False


@dataclass(frozen=True, slots=True)
class Field:
    """A line being typed. `at` is where the next letter lands."""

    label: str
    text: str = ""
    at: int = 0
    secret: bool = False


@dataclass(frozen=True, slots=True)
class Prompt:
    """A question.

    Attributes:
        title: what is asked about.
        facts: what one must know to answer, one line each.
        options: answers by key.
        field: a line to type.
        keys: for the last row of the screen.
        wrong: why the last try was no answer.
    """

    title: str
    facts: tuple[str, ...] = ()
    options: tuple[Option, ...] = ()
    field: Field | None = None
    keys: tuple[Key, ...] = ()
    wrong: str = ""


def paint_prompt(canvas: Canvas, prompt: Prompt, signs: Signs, *, foot: int = 3) -> None:
    """Lay the strip over the rows above the last `foot`, and its keys over the last row."""
    inner = canvas.width - 4
    facts = [line for fact in prompt.facts for line in wrapped(fact, inner)]
    on_pad = _fits_pad(prompt.options, canvas.width)
    rows = 1 + (1 if prompt.field else 0) + (4 if on_pad else len(prompt.options))
    end = canvas.height - foot
    facts = facts[: max(0, end - rows - 2)]
    top = max(1, end - rows - len(facts))
    canvas.spots.clear()  # while somebody is asked, nothing else can be pressed
    for y in range(top, end):
        canvas.fill(0, y, canvas.width, PANEL)
    for y in range(end, canvas.height - 2):  # nothing of the page is left to look like an answer
        canvas.fill(0, y, canvas.width, Ink())
    canvas.fill(0, top, canvas.width, Ink("line", ground="panel"), signs.rule)
    canvas.put(1, top, f" {cut(prompt.title, inner, signs.more)} ", PANEL_BOLD)
    y = top + 1
    for line in facts:
        canvas.put(2, y, line, PANEL)
        y += 1
    if prompt.field is not None:
        paint_field(canvas, y, prompt.field, signs)
        y += 1
    if on_pad:
        # Esc is not on a pad: nought leaves too
        back = () if any(one.key == "0" for one in prompt.options) else (Option("0", "back"),)
        _paint_pad(canvas, y, (*prompt.options, *back), signs)
    else:
        _paint_list(canvas, (y, end), prompt.options, signs)
    canvas.fill(0, canvas.height - 1, canvas.width, Ink())
    paint_keys(canvas, canvas.height - 1, prompt.keys, signs)


def _fits_pad(options: Sequence[Option], width: int) -> bool:
    """Whether the options are digits with words short enough for three columns."""
    room = _column(width) - 6
    digits = all(option.key in "0123456789" for option in options)
    return bool(options) and digits and all(cell_len(one.words) <= room for one in options)


def _column(width: int) -> int:
    return min(34, (width - 2) // 3)


def _paint_pad(canvas: Canvas, top: int, options: Sequence[Option], signs: Signs) -> None:
    by_key = {option.key: option for option in options}
    for row, digits in enumerate(PAD):
        for place, digit in enumerate(digits):
            if digit in by_key:
                x = 1 + place * _column(canvas.width)
                _paint_option(canvas, (x, top + row), by_key[digit], _column(canvas.width), signs)


def _paint_list(
    canvas: Canvas, rows: tuple[int, int], options: Sequence[Option], signs: Signs
) -> None:
    top, end = rows
    for row, option in enumerate(options[: max(0, end - top)]):
        _paint_option(canvas, (1, top + row), option, canvas.width - 2, signs)


def _paint_option(
    canvas: Canvas, at: tuple[int, int], option: Option, room: int, signs: Signs
) -> None:
    x, y = at
    after = canvas.put(x, y, f" {option.key} ", HOT if option.hot else KEY_BLOCK)
    text = cut(option.words, room - (after - x) - 2, signs.more)
    last = canvas.put(after + 1, y, text, PANEL_BOLD if option.hot else PANEL)
    canvas.spot(x, y, (last - x, 1), option.key)


def paint_field(canvas: Canvas, y: int, field: Field, signs: Signs) -> None:
    """Label, then what was typed, the place of the next letter filled; a long text scrolls."""
    x = canvas.put(2, y, f"{field.label}  ", PANEL_DIM)
    room = canvas.width - 3 - x
    shown = "*" * len(field.text) if field.secret else field.text
    before, here, after = shown[: field.at], shown[field.at : field.at + 1] or " ", ""
    after = shown[field.at + 1 :]
    while cell_len(before) + cell_len(here) > room and before:
        before = before[1:]
    x = canvas.put(x, y, before, PANEL_BOLD)
    x = canvas.put(x, y, here, HOT)
    canvas.put(x, y, cut(after, max(0, canvas.width - 2 - x), signs.more), PANEL_BOLD)
