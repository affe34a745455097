"""The bay's clock: a filled field while it runs, an empty frame when it does not."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from rich.cells import cell_len

from store.views.values import Bay, Choice, ClockNow, Span
from tui import keys
from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.parts.figures import tall
from tui.signs import Signs
from tui.words import cut, day_time, elapsed, hours, listed, local, time, zone_of

Sides = list[tuple[str, bool]]
"""Lines, and whether each is bold."""
LEFT, RIGHT = 3, 2
CHOOSES = "{bay.over} chooses one, {bay.indirect} takes other bay work"
NOTHING_TO_CHOOSE = "{bay.new} takes a job in, {bay.indirect} takes other bay work"
"""Cells free before the figures and after the right column."""


def field_rows(size: tuple[int, int]) -> int:
    """Rows of the field or frame; larger figures from 120x36 on."""
    return 8 if figure_scale(size) == 2 else 5


def figure_scale(size: tuple[int, int]) -> int:
    """1, or 2 where the figures can be twice as large."""
    return 2 if size[0] >= 112 and size[1] >= 36 else 1


def paint_clock(canvas: Canvas, y: int, bay: Bay, signs: Signs) -> None:
    """Rows from `y` on, as many as `field_rows` says."""
    if bay.clock is None:
        _frame(canvas, y, signs)
        _no_clock(canvas, y, bay, signs)
    elif bay.clock.left_running:
        _frame(canvas, y, signs)
        _left_running(canvas, y, bay, bay.clock, signs)
    else:
        _running(canvas, y, bay, bay.clock, signs)


def _rows(canvas: Canvas) -> tuple[int, int]:
    size = (canvas.width, canvas.height)
    return field_rows(size), figure_scale(size)


def _running(canvas: Canvas, y: int, bay: Bay, clock: ClockNow, signs: Signs) -> None:
    rows, scale = _rows(canvas)
    field = Ink("field-text", ground="field")
    for row in range(rows):
        canvas.fill(0, y + row, canvas.width, field)
    text = elapsed(clock.since, bay.at)
    lines = tall(text, scale)
    if signs.ascii:
        lines = [f"[{text}]"]
    top = y + 1 + (1 if signs.ascii else 0)
    for row, line in enumerate(lines):
        canvas.put(LEFT, top + row, line, field._replace(bold=signs.ascii))
    x = max(20, LEFT + max(map(len, lines)) + 4)
    sides = _clock_left(bay, clock, signs), _clock_right(clock, signs)
    _sides(canvas, (x, y + 1), sides, signs, (field, field))
    if clock.estimate is not None:
        _bar(canvas, y + rows - 1, clock.labour_h, clock.estimate, signs)


def _clock_left(bay: Bay, clock: ClockNow, signs: Signs) -> Sides:
    """Lines beside the figures, and whether they are bold."""
    since = day_time(clock.since, zone_of(bay.zone), bay.at).split()[-1]
    if clock.job is None:
        word = "AWAY" if bay.away_from else "BAY WORK"
        back = f"dot brings you back to {bay.away_from}" if bay.away_from else ""
        first = f"{signs.of('running')} {word}  since {since}"
        return [(first, True), (clock.reason or clock.name, True), (back, False)]
    part = "" if clock.part == "lead" else f"  as {clock.part}"
    others = f"  with {listed(clock.others)}" if clock.others else ""
    return [
        (f"{signs.of('running')} CLOCK RUNS  since {since}", True),
        (f"{clock.job}.{clock.phase}  {clock.name}{others}{part}", True),
        (f"{clock.vehicle}   {clock.work}", False),
    ]


def _clock_right(clock: ClockNow, signs: Signs) -> Sides:
    if clock.estimate is None or clock.job is None:
        return []
    over = clock.labour_h - clock.estimate.middle
    left = f"{hours(clock.remaining.middle)} left" if clock.remaining else ""
    if over >= 0.05:
        left = f"{signs.of('act')} OVER by {hours(over)}"
    return [
        (f"{hours(clock.labour_h)} of {hours(clock.estimate.middle)}", True),
        (f"cautious {hours(clock.estimate.cautious)}", False),
        (left, over >= 0.05),
    ]


def _sides(
    canvas: Canvas, at: tuple[int, int], sides: tuple[Sides, Sides], signs: Signs,
    inks: tuple[Ink, Ink],
) -> None:  # fmt: skip
    """Lines from a cell on, and lines that end at the right edge; the left ones are cut."""
    (x, y), (left, right) = at, sides
    edge = canvas.width - RIGHT
    for row, (text, bold) in enumerate(left):
        said = right[row][0] if row < len(right) else ""
        room = edge - x - (cell_len(said) + 2 if said else 0)
        canvas.put(x, y + row, cut(text, room, signs.more), inks[0]._replace(bold=bold))
    for row, (text, bold) in enumerate(right):
        canvas.right(edge, y + row, text, inks[1]._replace(bold=bold))


def _bar(canvas: Canvas, y: int, labour_h: float, estimate: Span, signs: Signs) -> None:
    """Labour on a scale of hours: solid, low to the estimate's mark, dotted to the cautious."""
    width = canvas.width - LEFT - RIGHT
    scale = (width - 1) / max(estimate.cautious, estimate.middle, labour_h, 0.1)
    mark = round(estimate.middle * scale)
    done = min(width, round(labour_h * scale))
    ink = Ink("field-text", ground="field")
    canvas.fill(LEFT, y, min(done, mark), ink, signs.full)
    canvas.fill(LEFT + done, y, mark - done, ink, signs.low)
    canvas.put(LEFT + mark, y, signs.estimate, ink._replace(bold=True))
    canvas.fill(LEFT + mark + 1, y, done - mark - 1, ink, signs.beyond)
    end = round(estimate.cautious * scale)
    start = max(done, mark) + 1
    canvas.fill(LEFT + start, y, end - start + 1, ink, signs.quiet)


def _frame(canvas: Canvas, y: int, signs: Signs) -> None:
    rows, _ = _rows(canvas)
    ink, width = Ink("line"), canvas.width
    top_left, top_right, low_left, low_right, across, up = tuple(signs.frame)
    canvas.put(0, y, top_left + across * (width - 2) + top_right, ink)
    canvas.put(0, y + rows - 1, low_left + across * (width - 2) + low_right, ink)
    for row in range(y + 1, y + rows - 1):
        canvas.put(0, row, up, ink)
        canvas.put(width - 1, row, up, ink)


def _no_clock(canvas: Canvas, y: int, bay: Bay, signs: Signs) -> None:
    rows, _ = _rows(canvas)
    middle = y + rows // 2 - 1
    canvas.put(LEFT, middle + 1, " ! NO CLOCK ", Ink("due", loud=True))
    first = _shown_choice(bay)
    if bay.last is not None and bay.last.job is not None and _goes_on(bay, bay.last):
        _again(canvas, middle, bay, bay.last, signs)
    elif first is not None:
        _begin(canvas, middle, bay, first, signs)
    else:
        canvas.put(20, middle, "no phase waits for you", Ink("text"))
        words = CHOOSES if bay.choices else NOTHING_TO_CHOOSE
        canvas.put(20, middle + 1, keys.filled(words), Ink("dim"))


def _shown_choice(bay: Bay) -> Choice | None:
    """The choice that is on the screen, else the best one."""
    job = bay.card.job.number if bay.card else None
    shown = (one for one in bay.choices if (one.job, one.phase) == (job, bay.phase))
    return next(shown, bay.choices[0] if bay.choices else None)


def _starts(bay: Bay) -> str:
    """What key 1 does: of a phase on the person's own list, that it is theirs next."""
    here = (bay.card.job.number, bay.phase) if bay.card else (None, None)
    yours = any(one.yours and (one.job, one.phase) == here for one in bay.choices)
    return keys.filled("{bay.clock} starts") + (", yours next" if yours else "")


def _goes_on(bay: Bay, last: ClockNow) -> bool:
    """Whether key 1 would go on with the last clock: its phase is the one on the screen."""
    return bay.card is not None and (last.job, last.phase) == (bay.card.job.number, bay.phase)


def _again(canvas: Canvas, y: int, bay: Bay, last: ClockNow, signs: Signs) -> None:
    ended = last.since + timedelta(hours=last.run_h)
    left = [
        (_starts(bay), False),
        (f"{last.job}.{last.phase}  {last.name}", True),
        (f"{last.vehicle}   {last.work}", False),
    ]
    right = _clock_right(last, signs)[:2]
    right.append((f"last on {day_time(ended, zone_of(bay.zone), bay.at)}", False))
    _sides(canvas, (20, y), (left, right), signs, (Ink("text"), Ink("dim")))


def _begin(canvas: Canvas, y: int, bay: Bay, choice: Choice, signs: Signs) -> None:
    where = f"   {choice.place}" if choice.place else ""
    left = [
        (_starts(bay), False),
        (f"{choice.job}.{choice.phase}  {choice.name}", True),
        (f"{choice.vehicle}{where}", False),
    ]
    right = [(f"{hours(choice.labour_h)} of {hours(choice.estimate_h)}", False)]
    _sides(canvas, (20, y), (left, right), signs, (Ink("text"), Ink("dim")))


def _left_running(canvas: Canvas, y: int, bay: Bay, clock: ClockNow, signs: Signs) -> None:
    rows, _ = _rows(canvas)
    middle = y + rows // 2 - 1
    zone = zone_of(bay.zone)
    after = canvas.put(LEFT, middle, " ? LEFT RUNNING ", Ink("due", loud=True)) + 3
    what = f"{clock.job}.{clock.phase}  {clock.name}" if clock.job else clock.reason or clock.name
    room = canvas.width - after - 2
    canvas.put(after, middle, cut(what, room, signs.more), Ink("text", bold=True))
    since = f"since {day_time(clock.since, zone, bay.at)}"
    if clock.shift_end is not None:
        since += f"; shift ended {_ended(clock.since, clock.shift_end, zone, bay.at)}"
    canvas.put(after, middle + 1, cut(since, room, signs.more), Ink("text"))
    ask = keys.filled("When did you stop?  {bay.clock} says it.")
    canvas.put(after, middle + 2, cut(ask, room, signs.more), Ink("dim"))


def _ended(since: datetime, end: datetime, zone: ZoneInfo, now: datetime) -> str:
    """An end without its day where that is the day of the beginning."""
    same = local(since, zone).date() == local(end, zone).date()
    return time(end, zone) if same else day_time(end, zone, now)
