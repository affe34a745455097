"""Beside its lane a lift says what is on it, how it stands and when it frees."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from store.views.values import Floor, Job, Lane
from tui.colours import Ink
from tui.lane.outlook import Outlook
from tui.lane.state import Says, lane_says
from tui.parts.canvas import Canvas
from tui.parts.figures import has_figures, tall
from tui.parts.loud import put_loud
from tui.signs import STATES, Signs
from tui.words import cut, day_time, out_by

BOLD = Ink("text", bold=True)
DIM = Ink("dim")
TEXT = Ink("text")
STATE_CELL, CHANCE_CELL = 25, 33
"""On two-line floors: loud words in one column, chances in one column."""


@dataclass(frozen=True, slots=True)
class Beside:
    """What is said of one lift, ready to be placed."""

    lane: Lane
    says: Says
    outlook: Outlook | None
    out: str
    """When it frees, or what the lift is."""
    warning: str
    indent: int
    """Cells before the job's number: blank, the longest lift code, blank."""


def beside(floor: Floor, lane: Lane, outlook: Outlook | None) -> Beside:
    """Gather the words of a lift."""
    codes = max((cell_len(each.lift) for each in floor.lanes), default=1)
    return Beside(
        lane, lane_says(lane, floor.wants, floor.calendar, floor.at), outlook,
        _out(floor, lane), lane.warnings[0] if lane.warnings else "", 2 + min(codes, 4),
    )  # fmt: skip


def _out(floor: Floor, lane: Lane) -> str:
    if lane.job is None or not lane.in_service:
        return f"{lane.kind} {lane.rated_kg / 1000:.1f} t"
    finish = lane.job.finish
    if finish is None:
        return "can leave the lift"
    return out_by(finish.middle, finish.cautious, floor.calendar.zone, floor.at)


def paint_gutter(
    canvas: Canvas, y: int, words: Beside, signs: Signs, shape: tuple[int, int, bool]
) -> None:
    """Up to four rows beside a lane of the room or tall floor.

    Args:
        shape: cells wide, rows, and whether the lift's number is drawn tall.
    """
    width, rows, high = shape
    x = words.indent
    if high and has_figures(words.lane.lift) and not signs.ascii and rows >= 4:
        for row, line in enumerate(tall(words.lane.lift)):
            canvas.put(2, y + row, line, TEXT)
        x = max(7, 3 + len(tall(words.lane.lift)[0]))
    else:
        canvas.put(1, y, cut(words.lane.lift, words.indent - 2, signs.more), BOLD)
        if words.warning:
            canvas.put(words.indent - 1, y, "!", Ink("due", bold=True))
    _title(canvas, (x, y), words, signs, width - 1 - x)
    if words.lane.job is None and words.says.loud == "":
        canvas.put(x, y + 1, cut(words.out, width - 1 - x, signs.more), DIM)
    else:
        _state(canvas, (x, y + 1), words.says, signs, width - 1)
        if rows > 2:
            canvas.put(x, y + 2, cut(words.out, width - 1 - x, signs.more), DIM)
    if words.warning and rows > 3:
        text = cut(f"! {words.warning}", width - 1 - x, signs.more)
        canvas.put(x, y + (2 if words.lane.job is None else 3), text, Ink("due"))


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
    text = f"! {words.warning}" if words.warning else "c calls one in"
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


def free_words(floor: Floor, lane: Lane) -> str:
    """What stands in the lane of an empty lift."""
    if not lane.in_service:
        return f"out of service: {lane.out_reason}" if lane.out_reason else STATES["out"].word
    if lane.free_since is None:
        return "No job on this lift.  c calls one in."
    since = day_time(lane.free_since, floor.calendar.zone, floor.at)
    return f"free since {since}.  c calls one in."
