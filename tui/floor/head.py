"""The first lines of the floor: whose shop, what time, who looks; then what most wants somebody."""

from __future__ import annotations

from collections.abc import Iterable

from store.views.values import Floor, Job, Want
from tui.colours import Ink, Role
from tui.floor.most import paint_most, paint_trying
from tui.floor.state import FloorState
from tui.lane.outlook import Outlook, outlook
from tui.needs.words import comes_words
from tui.parts.canvas import Canvas, Piece, width_of
from tui.parts.figures import tall
from tui.parts.loud import put_loud
from tui.signs import LOUD, Signs
from tui.words import counted, cut, day_time, moment, time

CLOCK_CELLS = 22
DIM = Ink("dim", ground="panel")
BOLD = Ink("text", bold=True, ground="panel")


def paint_header(canvas: Canvas, floor: Floor, state: FloorState, signs: Signs) -> None:
    """Shop, date and clock, reader; an old look says so where the clock was."""
    now = moment(floor.at, floor.calendar.zone)
    middle = f" ! AS OF {state.stale} " if state.stale else now
    ink = Ink("due", loud=True) if state.stale else Ink("text", bold=True)
    start = max(2, (canvas.width - len(now)) // 2)
    canvas.put(start, 0, middle, ink)
    canvas.put(1, 0, cut(floor.shop, start - 3, signs.more), Ink("dim"))
    room = canvas.width - 1 - start - len(middle) - 2
    canvas.right(canvas.width - 1, 0, cut(state.who, room, signs.more), Ink("dim"))


def paint_tall_clock(canvas: Canvas, floor: Floor, state: FloorState, signs: Signs) -> None:
    """On a wall: the time in figures at the right, over the first three rows."""
    text = time(floor.at, floor.calendar.zone)
    if state.stale or signs.ascii:
        return
    lines = tall(text)
    for row, line in enumerate(lines):
        ink = Ink("text", ground="panel" if row else "ground")
        canvas.put(canvas.width - 2 - len(line), row, line, ink)


def clock_cells(state: FloorState, signs: Signs) -> int:
    """Columns that the sentence leaves free for that clock."""
    return CLOCK_CELLS if state.wall and not state.stale and not signs.ascii else 0


def promised_jobs(floor: Floor) -> list[Job]:
    """Jobs in the house that have a promise, lifts first."""
    on_lifts = (lane.job for lane in floor.lanes)
    jobs = [job for job in (*on_lifts, *floor.elsewhere, *floor.waiting) if job is not None]
    return [job for job in jobs if job.promise is not None]


def paint_sentence(
    canvas: Canvas, y: int, rows: int, floor: Floor, context: tuple[FloorState, Signs]
) -> None:
    """What helps most, or is tried; else the first want and the promises in trouble; or calm."""
    canvas.ground(0, y, canvas.width, rows, "panel")
    there = canvas.width - 1 - clock_cells(*context), context[1]
    if context[0].trying is not None:
        paint_trying(canvas, y, rows, context[0].trying, there)
        return
    if floor.helps is not None and floor.helps.lines:
        paint_most(canvas, y, rows, floor.helps, there)
        return
    want = floor.wants[0] if floor.wants else None
    x = _first_row(canvas, y, want, floor, context)
    if rows > 1:
        end = canvas.width - 1 - clock_cells(*context)
        for text, ink in _promises(floor, context[0], end - x):
            x = canvas.put(x, y + 1, text, ink._replace(ground="panel"))


def _first_row(
    canvas: Canvas, y: int, want: Want | None, floor: Floor, context: tuple[FloorState, Signs]
) -> int:
    """Paints the first row; returns the cell in which both rows begin."""
    state, signs = context
    end = canvas.width - 1 - clock_cells(*context)
    if want is None:
        trouble = _in_trouble(floor, state)
        calm = "A promise is in trouble." if trouble else "Nothing needs anybody."
        role: Role = "behind" if trouble else "ahead"
        x = canvas.put(1, y, calm, Ink(role, bold=True, ground="panel")) + 2
        canvas.put(x, y, cut(_next(floor), end - x, signs.more), DIM)
        return 1
    ink = Ink(LOUD[want.word].role, loud=True, ground="panel")
    x = put_loud(canvas, (1, y), want.word, signs, ink) + 2
    where = f"lift {want.lift}: " if want.lift else ""
    canvas.put(x, y, cut(where + want.says, end - x, signs.more), BOLD)
    return x


def _next(floor: Floor) -> str:
    """What comes first of what is known to come, in a sentence; "" when nothing does."""
    zone = floor.calendar.zone
    due = min(floor.tools_due, key=lambda kit: kit.due, default=None)
    free = [lane.lift for lane in floor.lanes if lane.job is None and lane.in_service]
    parts: list[str] = []
    if due is not None:
        parts.append(f"Next: {due.kit} goes back {day_time(due.due, zone, floor.at)}.")
    if free:
        parts.append(f"Lift {free[0]} is free." if len(free) == 1 else f"{len(free)} lifts free.")
    elif floor.helps is not None:
        parts.append(comes_words(floor.helps) if due is None else "")
    return "  ".join(parts)


def _in_trouble(floor: Floor, state: FloorState) -> list[tuple[Job, Outlook]]:
    looks = [(job, outlook(job, state.settled.get(job.number))) for job in promised_jobs(floor)]
    return [(job, look) for job, look in looks if look is not None and look.bad]


def _promises(floor: Floor, state: FloorState, room: int) -> list[Piece]:
    jobs, bad = promised_jobs(floor), _in_trouble(floor, state)
    if not bad:
        learned = any(job.promise_chance is not None for job in jobs)
        words = "likely or safe" if learned else "hold at the cautious figure"
        count = counted(len(jobs), "promise")
        return [(f"All {count} {words}." if len(jobs) > 1 else "", DIM)]
    return _fitting(sorted(bad, key=_worst_first), room)


def _worst_first(each: tuple[Job, Outlook]) -> tuple[bool, float]:
    job, look = each
    return look.role != "blocked", job.promise_chance or 0.0


def _fitting(bad: Iterable[tuple[Job, Outlook]], room: int) -> list[Piece]:
    """As many promises in trouble as fit, then how many more."""
    jobs = list(bad)
    long = [_group(job, look, look.said_long) for job, look in jobs]
    short = [_group(job, look, look.said) for job, look in jobs]
    best: list[Piece] = []
    for groups in (long, short):
        pieces, left = list[Piece](), len(groups)
        for group in groups:
            if width_of(pieces) + width_of(group) > room - (0 if left == 1 else 12):
                break
            pieces, left = [*pieces, *group], left - 1
        best = [*pieces, (f"and {left} more", DIM)] if left else pieces
        if pieces:
            break
    return best


def _group(job: Job, look: Outlook, said: str) -> list[Piece]:
    return [(f"{job.number} ", DIM), (said, look.ink), ("    ", DIM)]
