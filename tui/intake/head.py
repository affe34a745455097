"""The head of the intake: whose vehicle, which work, what is known of it; and a field with keys."""

from __future__ import annotations

from rich.cells import cell_len

from store.rules.book import Option
from store.views.counter import Counter
from tui.colours import Ink
from tui.intake.state import DO, GRADES, MATCH, FieldName, Form, IntakeState, Match, Typing
from tui.keys import filled
from tui.parts.canvas import Canvas, Piece, width_of
from tui.parts.lines import put_pieces
from tui.parts.prompt import HOT, KEY_BLOCK, PANEL, PANEL_BOLD, PANEL_DIM, Field
from tui.signs import Signs
from tui.words import cut, moment, zone_of

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
CHIP = Ink("text", ground="pick")
FIELD = Ink("text", bold=True, ground="pick")
LABEL = 12
"""Cells before what a label names."""
ASKED: dict[FieldName, str] = {
    "vehicle": "number plate, or how you call it; its mass where it is known: 1.5 t",
    "family": "engine, gearbox, axles",
    "work": "code or words of the work",
    "told": "in the customer's words",
}

NOTHING: dict[FieldName, str] = {
    "family": "None that was here. A new one: engine, gearbox and axles joined, like B4-M-F.",
    "work": "No work fits. Type less, or another word of it.",
}


def paint_head(canvas: Canvas, here: Counter, state: IntakeState, signs: Signs) -> None:
    """The first line: what this is, whose shop, the time."""
    x = canvas.put(1, 0, state.job or "new job", BOLD) + 2
    stale = f"! AS OF {state.stale}" if state.stale else ""
    clock = stale or moment(here.at, zone_of(here.zone))
    ink = Ink("behind", loud=True) if stale else DIM
    start = canvas.right(canvas.width - 1, 0, clock, ink)
    canvas.put(x, 0, cut("what it takes, before anything is promised", start - x - 2, signs.more),
               DIM)  # fmt: skip


def paint_form(canvas: Canvas, top: int, here: Counter, state: IntakeState, signs: Signs) -> None:
    """Vehicle and family, work, what is known: three rows."""
    half = max(42, canvas.width // 2)
    for x, y, wide, does in (
        (0, top, half - 1, "vehicle"), (half, top, canvas.width - half, "family"),
        (0, top + 1, canvas.width, "add"), (0, top + 2, canvas.width, "options"),
    ):  # fmt: skip
        canvas.spot(x, y, (wide, 1), f"{DO}{does}")
    _vehicle(canvas, (1, top), half - 3, state, signs)
    _family(canvas, (half, top), here, state, signs)
    _work(canvas, top + 1, here, state, signs)
    _known(canvas, top + 2, here, state, signs)


def _is_typed(state: IntakeState, name: FieldName) -> Typing | None:
    return state.typing if state.typing is not None and state.typing.name == name else None


def _vehicle(
    canvas: Canvas, at: tuple[int, int], width: int, state: IntakeState, signs: Signs
) -> None:
    x, y = at
    canvas.put(x, y, "vehicle", DIM)
    x += LABEL - 1
    typing = _is_typed(state, "vehicle")
    if typing is not None:
        _typed(canvas, (x, y), width - LABEL + 1, typing.field)
        return
    text, mass = state.form.vehicle, state.form.mass_kg
    if mass is not None and state.form.mass == mass:
        text += f", {mass / 1000:.1f} t"
    ink = BOLD if text else DIM
    canvas.put(
        x, y, cut(text or filled("{intake.vehicle} says which"), width - LABEL + 1, signs.more), ink
    )


def _family(
    canvas: Canvas, at: tuple[int, int], here: Counter, state: IntakeState, signs: Signs
) -> None:
    x, y = at
    x = canvas.put(x, y, "family", DIM) + 2
    room = canvas.width - 1 - x
    typing = _is_typed(state, "family")
    if typing is not None:
        _typed(canvas, (x, y), room, typing.field)
        return
    key = state.form.family
    if not key:
        canvas.put(
            x, y, "not needed" if state.form.small else filled("{intake.family} says which"), DIM
        )
        return
    words = next((one.words for one in here.families if one.key == key), "")
    seen = any(one.key == key for one in here.families)
    text: list[Piece] = [(f"{key}  ", BOLD), (words, TEXT)]
    if not seen:
        text = [(f"{key}  ", BOLD), ("never seen here", Ink("behind"))]
    put_pieces(canvas, (x, y), text, room, signs)


def _work(canvas: Canvas, y: int, here: Counter, state: IntakeState, signs: Signs) -> None:
    canvas.put(1, y, "work", DIM)
    x, end = LABEL, canvas.width - 1
    typing = _is_typed(state, "work")
    room = end - 26 if typing else end - 16
    names = {one.code: one.name for one in here.sold}
    for nth, code in enumerate(state.form.work):
        text = f"{'+ ' if nth else ''}{names.get(code, code)}"
        if x + cell_len(text) > room and nth:
            text = f"+ {code}"
        x = canvas.put(x, y, cut(text, max(4, room - x), signs.more), CHIP) + 2
    if state.form.small:
        text = f"small job: {state.form.small}"
        x = canvas.put(x, y, cut(text, room - x, signs.more), CHIP) + 2
    if typing is not None:
        plus = "+ " if state.form.work else ""
        x = canvas.put(x, y, plus, DIM)
        _typed(canvas, (x, y), end - x, typing.field)
    elif not state.form.work and not state.form.small:
        canvas.put(x, y, filled("{intake.add} says which"), DIM)


def _known(canvas: Canvas, y: int, here: Counter, state: IntakeState, signs: Signs) -> None:
    """Grade, then each option: known, or not with what is assumed until it is."""
    form = state.form
    typing = _is_typed(state, "told")
    if typing is not None:
        canvas.put(1, y, "told", DIM)
        _typed(canvas, (LABEL, y), canvas.width - 1 - LABEL, typing.field)
        return
    canvas.put(1, y, "known?", DIM)
    room = canvas.width - 1 - LABEL
    pieces = _known_pieces(here, form, signs, brief=False)
    if width_of(pieces) > room:
        pieces = _known_pieces(here, form, signs, brief=True)
    put_pieces(canvas, (LABEL, y), pieces, room, signs)


def _known_pieces(here: Counter, form: Form, signs: Signs, *, brief: bool) -> list[Piece]:
    """Grade, options, complaint; brief ones without what is assumed."""
    pieces: list[Piece] = [(f"grade {form.grade} ", BOLD), (GRADES[form.grade], TEXT)]
    for option in options_of(here, form):
        value = form.options.get(option.code)
        if value is not None:
            pieces += [(f"  {signs.of('done')} ", DIM), (f"{option.code} {value}", TEXT)]
            continue
        pieces.append((f"  {signs.of('answer')} ", Ink("due", bold=True)))
        assumed = "" if brief else f" {option.assume}?"
        pieces.append((f"{option.code}{assumed}", Ink("due")))
    if form.customer is not None:
        pieces += [("  for ", DIM), (form.customer[0], TEXT)]
    if form.told:
        pieces += [("  told: ", DIM), (form.told, TEXT)]
    return pieces


def options_of(here: Counter, form: Form) -> list[Option]:
    """What the chosen work asks of a vehicle, each once."""
    found: dict[str, Option] = {}
    for one in here.sold:
        if one.code in form.work:
            found |= {option.code: option for option in one.options}
    return list(found.values())


def _typed(canvas: Canvas, at: tuple[int, int], room: int, field: Field) -> None:
    """The text and the place of the next letter; a long text scrolls."""
    x, y = at
    if room < 2:
        return
    before, here = field.text[: field.at], field.text[field.at : field.at + 1] or " "
    while cell_len(before) + cell_len(here) > room and before:
        before = before[1:]
    end = x + room
    canvas.fill(x, y, room, FIELD)
    x = canvas.put(x, y, before, FIELD)
    x = canvas.put(x, y, here, Ink("text", loud=True, ground="pick"))
    canvas.put(x, y, cut(field.text[field.at + 1 :], max(0, end - x)), FIELD)


def paint_matches(canvas: Canvas, top: int, typing: Typing, signs: Signs) -> None:
    """What fits what is typed, under the form; the one that Enter takes is filled."""
    nothing = typing.name in ("family", "work") and not (typing.facts or typing.matches)
    rows = [*typing.facts, *([NOTHING[typing.name]] if nothing else [])]
    end = canvas.height - 2
    height = min(end - top, 1 + len(rows) + len(typing.matches))
    for y in range(top, top + height):
        canvas.fill(0, y, canvas.width, PANEL)
    canvas.fill(0, top, canvas.width, Ink("line", ground="panel"), signs.rule)
    title = f" {typing.name}: {ASKED[typing.name]} "
    canvas.put(1, top, cut(title, canvas.width - 2, signs.more), PANEL_BOLD)
    y = top + 1
    for text in rows[: max(0, height - 1)]:
        canvas.put(2, y, cut(text, canvas.width - 4, signs.more), PANEL_DIM)
        y += 1
    for nth, match in enumerate(typing.matches):
        if y >= top + height:
            break
        _match(canvas, y, match, nth == typing.at, signs)
        canvas.spot(0, y, (canvas.width, 1), f"{MATCH}{nth}")
        y += 1


def _match(canvas: Canvas, y: int, match: Match, chosen: bool, signs: Signs) -> None:
    mark = signs.of("running") if chosen else " "
    canvas.put(1, y, mark, PANEL_BOLD)
    ink = HOT if chosen else KEY_BLOCK
    shown = match.key or "small job"
    x = canvas.put(3, y, f" {cut(shown, 40, signs.more)} ", ink) + 1
    x = max(x, 14)
    start = canvas.right(canvas.width - 2, y, match.note, PANEL_DIM)
    canvas.put(x, y, cut(match.words, start - x - 2, signs.more), PANEL_BOLD if chosen else PANEL)
