"""The whole floor for any size, as lines: values in, nothing else asked."""

from __future__ import annotations

from store.views.values import Floor, Job, Lane
from tui.colours import Ink, Paint
from tui.floor.gutter import Shape, beside, free_words, paint_gutter, paint_two_lines
from tui.floor.head import paint_header, paint_sentence, paint_tall_clock
from tui.floor.lists import (
    paint_brief_coming,
    paint_coming,
    paint_wants,
    paint_who,
)
from tui.floor.plan import Plan, plan
from tui.floor.state import FloorState, Trying
from tui.lane.axis import Axis, axis
from tui.lane.band import lay_out, paint_band
from tui.lane.captions import paint_captions, paint_mark, paint_short_promise
from tui.lane.labels import paint_axis, paint_labels, paint_lines
from tui.lane.outlook import Outlook, outlook
from tui.lane.won import from_to, paint_won
from tui.parts.canvas import ON_SCREEN, Canvas, Line
from tui.parts.lines import Key, paint_keys, paint_rule, paint_said, too_small
from tui.signs import Signs
from tui.words import cut, time

DIM = Ink("dim")
LIFT = f"{ON_SCREEN}lift "
"""What a press of a lane presses; then the lift's code."""


def floor_lines(
    floor: Floor, size: tuple[int, int], paint: Paint, signs: Signs, state: FloorState
) -> list[Line]:
    """The floor as exactly height lines of exactly width cells."""
    shown = signs.without_colour() if paint.monochrome else signs
    return floor_canvas(floor, size, shown, state).lines(paint)


def floor_canvas(floor: Floor, size: tuple[int, int], signs: Signs, state: FloorState) -> Canvas:
    """The same before it is coloured."""
    laid = plan(floor, size, state)
    canvas = Canvas(*size)
    if laid.mode == "small":
        too_small(canvas)
        return canvas
    paint_header(canvas, floor, state, signs)
    paint_sentence(canvas, 1, laid.sentence, floor, (state, signs))
    if state.wall and laid.sentence > 1:
        paint_tall_clock(canvas, floor, state, signs)
    if not floor.lanes:
        canvas.put(1, laid.lanes_top, 'No lift yet.  F9, "lift", adds the first.', DIM)
    elif laid.mode in ("room", "tall"):
        _room(canvas, floor, laid, signs, state)
    else:
        _two_lines(canvas, floor, laid, signs, state)
    _lists(canvas, floor, laid, (state, signs))
    _ends(canvas, floor, laid, signs, state)
    return canvas


def _room(canvas: Canvas, floor: Floor, laid: Plan, signs: Signs, state: FloorState) -> None:
    """Gutter and lane, four rows a lift or as many as there are."""
    x = laid.gutter
    along = axis(floor.calendar, floor.at, canvas.width - x, state.zoom)
    top, height = laid.lanes_top, laid.lane_rows * len(laid.shown)
    paint_lines(canvas, (x, top - 1), height + 1, along, signs)
    paint_axis(canvas, (x, top - 1), along)
    _now_caption(canvas, x, top - 2, along)
    _page(canvas, top - 1, floor, laid, x - 2)
    for nth, lane in enumerate(laid.shown):
        y = top + nth * laid.lane_rows
        look = _look(lane.job, state, signs)
        canvas.spot(0, y, (canvas.width, laid.lane_rows), LIFT + lane.lift)
        shape = Shape(x, laid.lane_rows, laid.scale, laid.wall)
        paint_gutter(canvas, y, beside(floor, lane, look, keys=not laid.wall), signs, shape)
        if lane.lift == state.cursor:
            _cursor(canvas, (y, min(5, laid.lane_rows)), x - 1, signs)
        if lane.job is None:
            _won(canvas, (x, y), along, (lane, state), signs)
            room = canvas.width - x - along.now - 2
            text = cut(free_words(floor, lane, keys=not laid.wall), room, signs.more)
            canvas.put(x + along.now + 2, y + 1, text, DIM)
            continue
        band = lay_out(along, lane.job, look)
        paint_labels(canvas, (x, y), band, signs)
        paint_band(canvas, (x, y + 1), band, signs, laid.thick)
        _won(canvas, (x, y + 1), along, (lane, state), signs)
        if laid.lane_rows > 2:
            paint_captions(canvas, (x, y + 1 + laid.thick), band, signs)
        else:
            paint_mark(canvas, (x, y), band, signs)


def _look(job: Job | None, state: FloorState, signs: Signs) -> Outlook | None:
    """How its promise stands; where an act is tried, before and after."""
    if job is None:
        return None
    if state.trying is None:
        return outlook(job, state.settled.get(job.number))
    return from_to(_before(state.trying, job.number), job, signs)


def _before(trying: Trying, number: str) -> Job | None:
    floor = trying.before
    on_lifts = (lane.job for lane in floor.lanes if lane.job is not None)
    every = (*on_lifts, *floor.waiting, *floor.elsewhere)
    return next((one for one in every if one.number == number), None)


def _won(
    canvas: Canvas, at: tuple[int, int], along: Axis, where: tuple[Lane, FloorState],
    signs: Signs,
) -> None:  # fmt: skip
    """Lift time that the act which is tried would win on this lift."""
    lane, state = where
    if state.trying is not None:
        before = next((one.job for one in state.trying.before.lanes if one.lift == lane.lift), None)
        paint_won(canvas, at, along, (before, lane.job), signs)


def _now_caption(canvas: Canvas, x: int, y: int, along: Axis) -> None:
    text = f"now {time(along.at, along.zone)}"
    canvas.put(x + along.now - len(text) // 2, y, text, Ink("promise", bold=True))


def _page(canvas: Canvas, y: int, floor: Floor, laid: Plan, room: int) -> None:
    """Which lifts are on, where not all of them are."""
    if laid.pages > 1:
        last = laid.first + len(laid.shown)
        text = f"lifts {laid.first + 1} to {last} of {len(floor.lanes)}"
        canvas.put(1, y, cut(text, room), DIM)


def _cursor(canvas: Canvas, rows: tuple[int, int], width: int, signs: Signs) -> None:
    y, height = rows
    canvas.ground(0, y, width, height, "pick")
    canvas.put(0, y, signs.of("running"), Ink("text", bold=True, ground="pick"))


def _two_lines(canvas: Canvas, floor: Floor, laid: Plan, signs: Signs, state: FloorState) -> None:
    """Two text lines a lift, with a narrow lane from 80 cells on."""
    drawn = laid.mode == "lines"
    width = laid.gutter if drawn else canvas.width
    top = laid.lanes_top
    along = axis(floor.calendar, floor.at, canvas.width - width, state.zoom) if drawn else None
    if along is not None:
        paint_lines(canvas, (width, top - 1), 1 + 2 * len(laid.shown), along, signs)
        paint_axis(canvas, (width, top - 1), along)
        _page(canvas, top - 1, floor, laid, width - 2)
    for nth, lane in enumerate(laid.shown):
        y = top + 2 * nth
        look = _look(lane.job, state, signs)
        canvas.spot(0, y, (canvas.width, 2), LIFT + lane.lift)
        words = beside(floor, lane, look, keys=not laid.wall)
        paint_two_lines(canvas, y, words, signs, (width, floor))
        if lane.lift == state.cursor:
            _cursor(canvas, (y, 2), width - 1, signs)
        if along is None:
            continue
        if lane.job is not None:
            paint_band(canvas, (width, y), lay_out(along, lane.job, look), signs, 1)
        _won(canvas, (width, y), along, (lane, state), signs)
        if lane.job is not None:
            band = lay_out(along, lane.job, look)
            paint_short_promise(canvas, (width, y + 1), band, signs)


def _lists(canvas: Canvas, floor: Floor, laid: Plan, context: tuple[FloorState, Signs]) -> None:
    """Wants, and beside or under them what waits to come in."""
    y, rows = laid.lists_top, laid.lists_rows
    state, signs = context
    if rows < 1:
        return
    if laid.mode not in ("room", "tall"):
        paint_rule(canvas, y, (0, canvas.width), "wants somebody", signs)
        coming = 0 if not floor.waiting else 1
        used = paint_wants(
            canvas, (1, y + 1), (canvas.width - 1, max(1, rows - coming)), floor, (state, signs)
        )
        paint_brief_coming(canvas, y + 1 + used, rows - used, floor, signs)
        return
    middle = canvas.width * 3 // 5 + 1
    wall = laid.who_rows == 0
    end = canvas.width if wall else middle
    paint_rule(canvas, y, (0, end), "wants somebody", signs)
    paint_wants(canvas, (1, y + 1), (end - 2, rows), floor, (state, signs))
    if not wall:
        paint_rule(canvas, y, (middle, canvas.width), "waiting to come in", signs)
        paint_coming(canvas, (middle + 3, y + 1), (canvas.width - middle - 4, rows), floor, signs)


def _ends(canvas: Canvas, floor: Floor, laid: Plan, signs: Signs, state: FloorState) -> None:
    """Who is on what, what was said last, the keys: always at the foot."""
    height = canvas.height
    if state.wall:
        return
    if laid.who_rows:
        paint_rule(canvas, height - 4, (0, canvas.width), "who is on what", signs)
        paint_who(canvas, height - 3, floor)
    paint_said(canvas, height - 2, state.said or floor.last or "", signs)
    lifts = [] if state.trying is not None else [lane.lift for lane in floor.lanes]
    paint_keys(canvas, height - 1, (*_lift_keys(lifts), *state.keys), signs)


def _lift_keys(lifts: list[str]) -> tuple[Key, ...]:
    digits = [lift for lift in lifts if lift.isdecimal() and len(lift) < 3]
    if not digits or len(digits[0]) > 1:
        return ()
    return (Key(f"{digits[0]}-{digits[-1]}" if len(digits) > 1 else digits[0], "lift"),)
