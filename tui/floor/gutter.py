"""Beside its lane a lift says what is on it, how it stands and when it frees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from rich.cells import cell_len

from store.views.values import Floor, Job, Lane
from tui.colours import Ink
from tui.keys import filled
from tui.lane.outlook import Outlook
from tui.lane.state import Says, lane_says
from tui.parts.canvas import Canvas
from tui.parts.figures import has_figures, tall
from tui.parts.loud import put_loud
from tui.signs import STATES, Signs
from tui.words import cut, day_time, out_by

LEAST_NOTE = 18
"""Cells under which the first words of a note or warning say nothing."""
BOLD = Ink("text", bold=True)
DIM = Ink("dim")
TEXT = Ink("text")
STATE_CELL, CHANCE_CELL = 25, 35
"""On two-line floors: loud words in one column, chances in one column."""
STANDS = {"drives": "drives", "rolls": "rolls", "fixed": "sits fixed"}
"""How a vehicle stands, in words."""


@dataclass(frozen=True, slots=True)
class Beside:
    """What is said of one lift, ready to be placed."""

    lane: Lane
    says: Says
    outlook: Outlook | None
    out: str
    """When it frees, or what the lift is."""
    warning: str
    call: str
    """Of a free lift: who can come in, and who is too heavy."""
    notes: tuple[str, ...]
    """How the vehicle stands, and of a held job until when and whose move it is."""
    indent: int
    """Cells before the job's number: blank, the longest lift code, blank."""


class Shape(NamedTuple):
    """How a gutter is drawn.

    Attributes:
        width: cells.
        rows: of a lift.
        scale: of the lift's number in figures; 0 draws none.
        wall: loud words are two rows of filled cells, to be seen from five metres.
    """

    width: int
    rows: int
    scale: int
    wall: bool = False


def beside(floor: Floor, lane: Lane, outlook: Outlook | None, *, keys: bool = True) -> Beside:
    """Gather the words of a lift; without `keys` none is named."""
    codes = max((cell_len(each.lift) for each in floor.lanes), default=1)
    return Beside(
        lane, lane_says(lane, floor.wants, floor.calendar, floor.at), outlook,
        _out(floor, lane), lane.warnings[0] if lane.warnings else "",
        call_words(floor, lane, keys=keys), _notes_of(floor, lane),
        2 + min(codes, 4),
    )  # fmt: skip


def _notes_of(floor: Floor, lane: Lane) -> tuple[str, ...]:
    job = lane.job
    if job is None:
        return ()
    hold = job.hold if job.held else None
    short = hold is not None or bool(lane.warnings)
    parts: list[str] = [job.stands if short else STANDS[job.stands]]
    if hold is not None and hold.until is not None:
        parts.append(f"till {day_time(hold.until, floor.calendar.zone, floor.at)}")
    if hold is not None and hold.next_move:
        parts.append(f"move: {hold.next_move}")
    return tuple(parts)


def _out(floor: Floor, lane: Lane) -> str:
    if lane.job is None or not lane.in_service:
        return f"{lane.kind} {lane.rated_kg / 1000:.1f} t"
    finish = lane.job.finish
    if finish is None:
        return "can leave the lift"
    return out_by(finish.middle, finish.cautious, floor.calendar.zone, floor.at)


def paint_gutter(canvas: Canvas, y: int, words: Beside, signs: Signs, shape: Shape) -> None:
    """The rows beside a lane of the room or tall floor."""
    end, rows = shape.width - 1, shape.rows
    x = _number(canvas, y, words, signs, shape)
    _title(canvas, (x, y), words, signs, end - x)
    free = words.lane.job is None
    if free and not words.says.loud:
        canvas.put(x, y + 1, cut(words.out, end - x, signs.more), DIM)
        _notes(canvas, (x, y + 2), words, signs, (end, rows - 2))
        return
    loud = 1 if shape.wall and words.says.loud and rows >= 5 else 0
    if loud:
        _wall_loud(canvas, (x, y + 1), words.says, signs, end)
    else:
        _state(canvas, (x, y + 1), words.says, signs, end)
    if rows > 2:
        after = canvas.put(x, y + 2 + loud, cut(words.out, end - x, signs.more), DIM) + 2
        stands = f"({words.notes[0]})"
        if rows == 3 and after + len(stands) <= end:
            canvas.put(after, y + 2 + loud, stands, DIM)
    _notes(canvas, (x, y + 3 + loud), words, signs, (end, rows - 3 - loud))


def _number(canvas: Canvas, y: int, words: Beside, signs: Signs, shape: Shape) -> int:
    """The lift's code, in figures where there is room; returns where its words begin."""
    lift = words.lane.lift
    if shape.scale and has_figures(lift) and len(lift) < 3 and not signs.ascii:
        figures = tall(lift, shape.scale)
        for row, line in enumerate(figures):
            canvas.put(2, y + row, line, TEXT)
        return max(7 if shape.scale == 1 else 10, 3 + len(figures[0]) + shape.scale)
    canvas.put(1, y, cut(lift, words.indent - 2, signs.more), BOLD)
    if words.warning:
        canvas.put(words.indent - 1, y, "!", Ink("due", bold=True))
    return words.indent


def _wall_loud(canvas: Canvas, at: tuple[int, int], says: Says, signs: Signs, end: int) -> None:
    """A loud word as a filled field of two rows: the word, then the detail."""
    x, y = at
    ink = Ink(says.role, loud=True)
    for row in (0, 1):
        canvas.fill(x, y + row, end - x, ink)
    put_loud(canvas, (x, y), says.loud, signs, ink)
    canvas.put(x + 1, y + 1, cut(_detail(says, end - x - 2, signs), end - x - 2, signs.more), ink)


def _notes(
    canvas: Canvas, at: tuple[int, int], words: Beside, signs: Signs, room: tuple[int, int]
) -> None:
    """How the vehicle stands, and a warning: under it, or beside it as far as there is room."""
    (x, y), (end, rows) = at, room
    if rows < 1:
        return
    after = x
    for nth, note in enumerate(words.notes):
        if nth and end - after < min(cell_len(note), LEAST_NOTE):
            break
        after = canvas.put(after, y, cut(note, end - after, signs.more), DIM) + 2
    x, y = (x, y + 1) if rows > 1 and words.notes else (after, y)
    if words.warning and end - x > LEAST_NOTE:
        canvas.put(x, y, cut(f"! {words.warning}", end - x, signs.more), Ink("due"))


def _title(canvas: Canvas, at: tuple[int, int], words: Beside, signs: Signs, room: int) -> None:
    x, y = at
    job = words.lane.job
    if job is not None:
        after = canvas.put(x, y, cut(job.number, room, signs.more), BOLD) + 1
        canvas.put(after, y, cut(_vehicle(job), x + room - after, signs.more), TEXT)
    elif not words.says.loud:
        state = words.says.state
        text = f"{signs.of(state)} {words.says.text}"
        canvas.put(x, y, cut(text, room, signs.more), Ink(words.says.role))


def _vehicle(job: Job) -> str:
    return job.vehicle or job.work


def _state(canvas: Canvas, at: tuple[int, int], says: Says, signs: Signs, end: int) -> None:
    """The loud block or the quiet sign, then the detail; never past `end`."""
    x, y = at
    if says.loud:
        after = put_loud(canvas, (x, y), says.loud, signs, Ink(says.role, loud=True)) + 1
        canvas.put(after, y, _detail(says, end - after, signs), TEXT)
        return
    detail = _detail(says, max(0, end - x - 8), signs)
    start = canvas.right(end, y, detail, TEXT)
    canvas.put(x, y, signs.of(says.state), Ink(says.role))
    room = (start - 1 if detail else end) - x - 2
    canvas.put(x + 2, y, cut(says.text, room, signs.more), Ink(says.role))


def _detail(says: Says, room: int, signs: Signs) -> str:
    """Detail and people; short of room the people go first."""
    both = f"{says.detail} {says.people}".strip()
    return both if cell_len(both) <= room else cut(says.detail, room, signs.more)


def paint_two_lines(
    canvas: Canvas, y: int, words: Beside, signs: Signs, context: tuple[int, Floor]
) -> None:
    """The two text lines of a lift on a narrow floor, `context` their width and the floor."""
    end, floor = context[0] - 1, context[1]
    x, lane = words.indent, words.lane
    canvas.put(1, y, cut(lane.lift, x - 2, signs.more), BOLD)
    if words.warning:
        canvas.put(x - 1, y, "!", Ink("due", bold=True))
    if lane.job is None:
        _two_lines_free(canvas, (x, y), words, signs, end)
        return
    _title(canvas, (x, y), words, signs, STATE_CELL - 1 - x)
    _state(canvas, (STATE_CELL, y), words.says, signs, end)
    after = canvas.put(x, y + 1, cut(words.out, end - x, signs.more), DIM)
    stands = f"({lane.job.stands})"
    if after + 1 + cell_len(stands) < max(CHANCE_CELL, after + 2):
        canvas.put(after + 1, y + 1, stands, DIM)
    place = max(CHANCE_CELL, after + 2)
    texts, ink = _promise_words(lane.job, words.outlook, floor)
    text = next((t for t in texts if cell_len(t) <= end - place), texts[-1])
    canvas.put(place, y + 1, cut(text, end - place, signs.more), ink)


def _two_lines_free(
    canvas: Canvas, at: tuple[int, int], words: Beside, signs: Signs, end: int
) -> None:
    x, y = at
    lane, says = words.lane, words.says
    if says.loud or not lane.in_service:
        canvas.put(x, y, cut(words.out, STATE_CELL - 1 - x, signs.more), DIM)
        _state(canvas, (STATE_CELL, y), says, signs, end)
        canvas.put(x, y + 1, cut(lane.out_reason or "", end - x, signs.more), DIM)
        return
    after = canvas.put(x, y, f"{signs.of(says.state)} {says.text}", Ink(says.role)) + 2
    canvas.put(after, y, cut(words.out, end - after, signs.more), DIM)
    text = f"! {words.warning}" if words.warning else words.call
    ink = Ink("due") if words.warning else DIM
    canvas.put(x, y + 1, cut(text, end - x, signs.more), ink)


def _promise_words(job: Job, outlook: Outlook | None, floor: Floor) -> tuple[tuple[str, ...], Ink]:
    """What is said of the promise, longest first."""
    if job.promise is None or outlook is None:
        return ("not promised",), DIM
    if outlook.said:
        return (outlook.said, outlook.short), outlook.ink
    when = day_time(job.promise, floor.calendar.zone, floor.at)
    return (f"promised {when}", f"for {when}"), TEXT


def free_words(floor: Floor, lane: Lane, *, keys: bool = True) -> str:
    """What stands in the lane of an empty lift."""
    if not lane.in_service:
        return f"out of service: {lane.out_reason}" if lane.out_reason else STATES["out"].word
    if lane.free_since is None:
        return f"No job on this lift.  {call_words(floor, lane, keys=keys)}"
    since = day_time(lane.free_since, floor.calendar.zone, floor.at)
    return f"free since {since}.  {call_words(floor, lane, keys=keys)}"


def call_words(floor: Floor, lane: Lane, *, keys: bool = True) -> str:
    """`c calls in 2433; 2431 is too heavy (3.4 t)`, of a free lift."""
    if not lane.takes and not lane.too_heavy:
        calls = filled("{floor.call} calls one in")
        return calls if floor.waiting and keys else "nobody waits to come in"
    calls = filled("{floor.call} calls in ")
    parts = [f"{calls}{job}" if keys else f"{job} can come in" for job in lane.takes[:1]]
    heavy = next((job for job in floor.waiting if job.number in lane.too_heavy), None)
    if heavy is not None and heavy.mass_kg is not None:
        parts.append(f"{heavy.number} is too heavy ({heavy.mass_kg / 1000:.1f} t)")
    return "; ".join(parts)
