"""What every sign, loud word, mark and chance on the screens means; the words of the help."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple, TypeVar

from rich.cells import cell_len

from store.views.needs_values import NeedWord
from tui.colours import Ink, Role
from tui.keys import PlaceName
from tui.needs.words import NEED_LOUD
from tui.parts.canvas import Canvas
from tui.parts.lines import paint_rule
from tui.parts.loud import put_loud
from tui.parts.sheet import Sheet
from tui.signs import KIT_LOUD, LOUD, STATES, Signs, State
from tui.words import cut

T = TypeVar("T")
DIM, TEXT = Ink("dim"), Ink("text")
COLUMN = 38
"""Cells of one entry; as many stand beside each other as fit."""
WITH_LANES: frozenset[PlaceName] = frozenset({"floor", "job", "day", "intake", "tools"})
MEANINGS: Mapping[State, str] = {
    "running": "a clock runs on it",
    "done": "finished and signed",
    "to come": "not begun",
    "sign": "hold point: wants a name",
    "held": "cannot go on; says why",
    "waiting": "its turn, a lift or a kit",
    "standing": "cures; nobody works",
    "outwork": "with another firm",
    "due": "a date is near or past",
    "free": "nothing on this lift",
    "out": "no job may go on it",
    "ahead": "less than was told",
    "over": "more than estimated",
    "act": "somebody should act now",
    "answer": "somebody should answer",
}
SHORT: Mapping[State, str] = {"out": "out"}
"""Words too long for their column."""
LOUD_MEANINGS: Mapping[str, str] = {
    "ANSWER": "ask the customer",
    "SIGN": "a name is wanted",
    "HELD": "release it, or move on",
    "READING": "outside its limits",
    "OVER": "longer than estimated",
    "OUT": "lift out of service",
    "DUE": "a date has come",
    "CLOCK": "left running",
}
KIT_MEANINGS: Mapping[str, str] = {
    "OVERDUE": "should be back",
    "SEND BACK": "to the carrier",
    "EXTEND": "needed longer",
    "ASK": "order it now",
    "RECEIVE": "look it through",
    "NOT WHOLE": "ring the supplier",
    "CLASH": "two jobs want it",
    "CALL OFF": "nobody needs it",
    "OUT OF DATE": "not to be used",
}
KIT_WORD = 16
"""Cells of the longest of these words, filled."""
WITH_NEEDS: frozenset[PlaceName] = frozenset({"floor", "needs", "why"})
NEED_COLUMN = 14
NEED_MEANINGS: Mapping[NeedWord, str] = {
    "ANSWER": "ask the customer",
    "SIGN": "a name is wanted",
    "DECIDE": "a decision is open",
    "READING": "outside its limits",
    "HELD": "ask after it, release",
    "NOBODY": "could go on, has nobody",
    "FREE": "a lift for a ready job",
    "CLEAR": "stuck, another waits",
    "PARTS": "order them, or ask",
    "KIT HERE": "a hired kit comes",
    "SEND BACK": "a hired kit goes back",
    "EXTEND": "a hire is kept longer",
    "ASK": "a kit is to be hired",
    "CALL": "the word on a quote",
    "CHASE": "ask the other firm",
    "JUDGE": "the check is done",
    "QUOTE": "checked: quote it",
    "ASSIGN": "on nobody's list",
    "CLOCK": "left running",
    "LOOK OVER": "a lift in use today",
    "INSPECT": "inspection runs out",
    "LINE": "another order helps",
}
"""What each line of the list of needs wants."""


class Mark(NamedTuple):
    """A mark of a lane or bar: its glyphs, in which role, and what they mean."""

    glyphs: str
    role: Role
    words: str


def marks(signs: Signs, *, lanes: bool) -> list[Mark]:
    """The marks of lanes, and those of bars of hours; the latter alone where no lane is drawn."""
    of_lanes = [
        Mark(signs.now, "promise", "now: left was, right will be"),
        Mark(signs.night + signs.weekend, "line", "a night, a weekend: no width"),
        Mark(signs.held * 3, "blocked", "held: the lift stands"),
        Mark(signs.quiet * 3, "waiting", "standing, or another firm"),
        Mark(signs.certain + signs.taper[2] + signs.taper[5], "next", "height: chance it lasts"),
        Mark(signs.promise, "promise", "what the customer was told"),
        Mark(signs.taper[4] + signs.taper[6], "behind", "past it: the chance it breaks"),
        Mark(signs.becomes + signs.before, "text", "becomes; goes on beyond"),
        Mark(signs.won * 3, "ahead", "tried: lift time that is won"),
    ]
    of_bars = [
        Mark(signs.worked * 2 + signs.last, "past", "worked, phase after phase"),
        Mark(signs.running * 3, "running", "worked, and the clock runs"),
        Mark(signs.beyond * 3, "behind", "worked beyond the estimate"),
        Mark(signs.estimate, "promise", "on hours: the estimate"),
        Mark(signs.low * 2 + signs.quiet, "next", "left of it, then the cautious"),
        Mark(signs.range * 3, "next", "where 8 in 10 will be"),
        Mark(signs.book, "dim", "what the work book says"),
        Mark(signs.more, "text", "the text is longer"),
    ]
    return [*(of_lanes if lanes else []), *of_bars]


def kit_marks(signs: Signs) -> list[Mark]:
    """The marks of a kit's line."""
    return [
        Mark(signs.now, "promise", "now: left was, right will be"),
        Mark(signs.night + signs.weekend, "line", "a night, a weekend: no width"),
        Mark(signs.worked * 3, "past", "was here, or in use"),
        Mark(signs.beyond * 3, "behind", "past its day; or two want it"),
        Mark(signs.certain + signs.taper[2] + signs.taper[5], "next", "chance it is needed"),
        Mark(signs.taper[4] + signs.taper[6], "behind", "past its day: the late fee"),
        Mark(signs.quiet * 3, "waiting", "here, and nobody needs it"),
        Mark(signs.held * 3, "blocked", "needed, and not here yet"),
        Mark(signs.promise, "promise", "goes back to the supplier"),
        Mark(signs.of("waiting"), "promise", "comes from the supplier"),
        Mark(signs.becomes, "text", "for; goes on beyond"),
        Mark(signs.more, "text", "the text is longer"),
    ]


def month_marks(signs: Signs) -> list[Mark]:
    """The marks of a month's pictures."""
    return [
        Mark(signs.of("done"), "text", "a job by its miss, or a value"),
        Mark(signs.of("over"), "text", "more jobs stand on this one"),
        Mark(signs.night, "line", "a quarter off; a change"),
        Mark(signs.of("act"), "behind", "outside what luck keeps to"),
        Mark(signs.quiet * 3, "line", "limits of luck; as told"),
        Mark(signs.rule * 3, "next", "middle between its limits"),
        Mark(signs.worked * 3, "past", "attended; a lift worked, empty"),
        Mark(signs.held * 3, "blocked", "held: the lift stands"),
        Mark(signs.beyond * 3, "behind", "a vehicle on it, nobody there"),
        Mark(signs.running * 3, "running", "sold; a lift worked"),
        Mark(signs.more, "text", "the text is longer"),
    ]


CHANCES: tuple[tuple[str, Role, str], ...] = (
    ("safe", "ahead", "kept nearly always"),
    ("likely", "ahead", "9 or 8 times in 10"),
    ("more likely than not", "text", "7 or 6 in 10"),
    ("a coin toss", "behind", "5 or 4 in 10"),
    ("doubtful", "behind", "3 or 2 in 10"),
    ("will break", "blocked", "1 in 10 or less"),
)
QUIET = "LOUD words on a filled ground want somebody; everything else is quiet."


def paint_legend(sheet: Sheet, place: PlaceName | None, signs: Signs) -> None:
    """Signs and words, then, where lanes are drawn, how to read them."""
    _rule(sheet, "signs and words", signs)
    _grid(sheet, list(STATES), lambda canvas, x, state: _state(canvas, x, state, signs))
    _rule(sheet, "loud words", signs)
    _grid(sheet, list(LOUD), lambda canvas, x, word: _loud(canvas, x, word, signs))
    if place is None or place in WITH_NEEDS:
        _rule(sheet, "who must do what: filled if it cannot wait", signs)
        _grid(sheet, list(NEED_MEANINGS), lambda canvas, x, one: _need(canvas, x, one, signs))
    if place is None or place == "tools":
        _rule(sheet, "what is to be done about a kit", signs)
        _grid(sheet, list(KIT_MEANINGS), lambda canvas, x, one: _kit(canvas, x, one, signs))
    _rule(sheet, "lines and bars", signs)
    lanes = place is None or place in WITH_LANES
    _grid(
        sheet, _marks_of(place, lanes, signs), lambda canvas, x, one: _mark(canvas, x, one, signs)
    )
    if lanes:
        _rule(sheet, "the chance that a promise is kept", signs)
        _grid(sheet, list(CHANCES), _chance)
    sheet.gap()
    sheet.block().put(2, 0, cut(QUIET, sheet.width - 3, signs.more), TEXT)


def _marks_of(place: PlaceName | None, lanes: bool, signs: Signs) -> list[Mark]:
    if place == "month":
        return month_marks(signs)
    return kit_marks(signs) if place == "tools" else marks(signs, lanes=lanes)


def _rule(sheet: Sheet, title: str, signs: Signs) -> None:
    sheet.gap()
    paint_rule(sheet.block(), 0, (0, sheet.width), title, signs)


def _grid(sheet: Sheet, things: list[T], paint: Callable[[Canvas, int, T], None]) -> None:
    columns = max(1, (sheet.width - 2) // COLUMN)
    for first in range(0, len(things), columns):
        row = sheet.block()
        for nth, thing in enumerate(things[first : first + columns]):
            paint(row, 2 + nth * COLUMN, thing)


def _state(canvas: Canvas, x: int, state: State, signs: Signs) -> None:
    sign = STATES[state]
    canvas.put(x, 0, signs.of(state), Ink(sign.role, bold=True))
    canvas.put(x + 2, 0, SHORT.get(state, sign.word), Ink(sign.role))
    canvas.put(x + 11, 0, cut(MEANINGS[state], COLUMN - 12, signs.more), DIM)


def _loud(canvas: Canvas, x: int, word: str, signs: Signs) -> None:
    put_loud(canvas, (x, 0), word, signs, Ink(LOUD[word].role, loud=True))
    canvas.put(x + 12, 0, cut(LOUD_MEANINGS[word], COLUMN - 13, signs.more), DIM)


def _need(canvas: Canvas, x: int, word: NeedWord, signs: Signs) -> None:
    loud = NEED_LOUD[word]
    canvas.put(x, 0, f" {signs.of(loud.state)} {word} ", Ink(loud.role, loud=True))
    room = COLUMN - NEED_COLUMN - 1
    canvas.put(x + NEED_COLUMN, 0, cut(NEED_MEANINGS[word], room, signs.more), DIM)


def _kit(canvas: Canvas, x: int, word: str, signs: Signs) -> None:
    loud = KIT_LOUD[word]
    canvas.put(x, 0, f" {signs.of(loud.state)} {word} ", Ink(loud.role, loud=True))
    canvas.put(x + KIT_WORD, 0, cut(KIT_MEANINGS[word], COLUMN - KIT_WORD - 1, signs.more), DIM)


def _mark(canvas: Canvas, x: int, mark: Mark, signs: Signs) -> None:
    canvas.put(x, 0, mark.glyphs, Ink(mark.role))
    canvas.put(x + 5, 0, cut(mark.words, COLUMN - 6, signs.more), DIM)


def _chance(canvas: Canvas, x: int, chance: tuple[str, Role, str]) -> None:
    word, role, words = chance
    canvas.put(x, 0, word, Ink(role, bold=True))
    canvas.put(x + max(12, cell_len(word) + 1), 0, words, DIM)
