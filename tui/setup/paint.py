"""The first run: what hoistbook is and how to begin; then the questions with their answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rich.cells import cell_len

from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.parts.lines import LEAST, Key, paint_keys, paint_said, too_small
from tui.setup.questions import AGAIN, PIN, Question
from tui.signs import Signs
from tui.words import cut, plain, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
LABEL_CELLS = 20
WELCOME = (
    "hoistbook keeps the jobs of a workshop: every lift as a lane, hours against estimates, "
    "hold points that nobody walks past, and a ledger of everything that was done.",
    "",
    "It works on one file. There is none yet at",
)
CHOICES = (
    ("Enter", "sets up your shop: eleven short questions, nothing is written before the last"),
    ("d", "opens the demo: an invented shop on a busy morning, to try everything"),
    ("Esc", "leaves"),
)
KEYS = (Key("Enter", "set up"), Key("d", "the demo"), Key("Esc", "leave"))


@dataclass(frozen=True, slots=True)
class SetupState:
    """What the first run shows. `asked` is the question at hand, None before the first."""

    path: str
    asked: int | None = None
    answers: Mapping[str, str] = field(default_factory=dict[str, str])
    said: str = ""
    busy: str = ""


def setup_canvas(
    state: SetupState, questions: Sequence[Question], size: tuple[int, int], signs: Signs
) -> Canvas:
    """The page before it is coloured."""
    canvas = Canvas(*size)
    if size[0] < LEAST[0] or size[1] < LEAST[1]:
        too_small(canvas)
    elif state.asked is None:
        _welcome(canvas, state, signs)
    else:
        _answers(canvas, state, questions, signs)
    return canvas


def _welcome(canvas: Canvas, state: SetupState, signs: Signs) -> None:
    width, height = canvas.width, canvas.height
    room, y = min(76, width - 6), max(1, height // 2 - 8)
    canvas.put(3, y, "hoistbook", BOLD)
    y += 2
    for paragraph in WELCOME:
        for line in wrapped(paragraph, room) or [""]:
            canvas.put(3, y, line, TEXT)
            y += 1
    canvas.put(3, y, _end_of(state.path, width - 6, signs), DIM)
    y += 2
    for key, words in CHOICES:
        canvas.put(3, y, key, BOLD)
        for nth, line in enumerate(wrapped(words, room - 8)):
            canvas.put(11, y + nth, line, TEXT)
        y += len(wrapped(words, room - 8))
    paint_said(canvas, height - 2, state.busy or state.said, signs)
    paint_keys(canvas, height - 1, () if state.busy else KEYS, signs)


def _end_of(path: str, width: int, signs: Signs) -> str:
    """A path whose file is to be read, whatever folders it stands in."""
    shown = plain(path)
    if cell_len(shown) <= width:
        return shown
    while cell_len(shown) > width - cell_len(signs.more):
        shown = shown[1:]
    return signs.more + shown


def _answers(
    canvas: Canvas, state: SetupState, questions: Sequence[Question], signs: Signs
) -> None:
    canvas.put(1, 0, "your shop", BOLD)
    assert state.asked is not None
    for nth, question in enumerate(questions):
        y = 2 + nth
        given = state.answers.get(question.id, "")
        shown = "*" * len(given) if question.id in (PIN, AGAIN) else given
        here = nth == state.asked
        canvas.put(3, y, question.label, BOLD if here else DIM)
        canvas.put(3 + LABEL_CELLS, y, cut(shown, canvas.width - LABEL_CELLS - 5, signs.more), TEXT)
        if here:
            canvas.ground(0, y, canvas.width, 1, "pick")
            canvas.put(1, y, signs.of("running"), Ink("text", bold=True, ground="pick"))
    paint_said(canvas, canvas.height - 2, state.said, signs)
