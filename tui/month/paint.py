"""A month for any size, as lines: the page of it, or one step down from a figure."""

from __future__ import annotations

from rich.cells import cell_len

from store.views.month.said import named
from tui.colours import Ink, Paint
from tui.month import more
from tui.month.down import paint_down
from tui.month.page import adopt_hint, first_page
from tui.month.sheet import BOLD, DIM, TEXT, Page, Room
from tui.month.state import ROW, MonthState, Shown
from tui.parts.canvas import Canvas, Line
from tui.parts.lines import LEAST, paint_keys, paint_said, too_small
from tui.signs import Signs
from tui.words import counted, cut, hours

FOOT, TOP = 2, 2
SOME, MUCH = 30, 50
"""Rows from which on there is some room, and much."""
WIDE = 160
"""Cells from which on there are two columns."""


def month_lines(
    shown: Shown, size: tuple[int, int], paint: Paint, signs: Signs, state: MonthState
) -> list[Line]:
    """A month as exactly height lines of exactly width cells."""
    used = signs.without_colour() if paint.monochrome else signs
    return month_canvas(shown, size, used, state).lines(paint)


def month_canvas(shown: Shown, size: tuple[int, int], signs: Signs, state: MonthState) -> Canvas:
    """The same before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    _header(canvas, shown, state, signs)
    said = state.said or ""
    if shown.found is None:
        canvas.put(2, TOP, "Looking at what happened in it ...", DIM)
    elif state.path:
        paint_down(canvas, (TOP, height - FOOT), shown.found, state, signs)
    else:
        said = said or adopt_hint(shown.found)
    paint_said(canvas, height - FOOT, said, signs)
    if shown.found is not None and not state.path:
        _pages(canvas, pages_of(shown, size, signs), state, said)
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


def _header(canvas: Canvas, shown: Shown, state: MonthState, signs: Signs) -> None:
    found, width = shown.found, canvas.width
    x = canvas.put(2, 0, named(shown.month), BOLD) + 2
    listed = next((one for one in shown.months if one.month == shown.month), None)
    about = "" if listed is None else f"{counted(listed.jobs, 'job')} closed"
    if found is not None and found.jobs:
        about += f", {hours(found.accuracy.labour_h)}"
    if listed is not None and listed.running:
        about += ", still runs"
    end = _beside(canvas, shown, signs)
    if state.stale:
        end = canvas.right(end - 2, 0, f" ! AS OF {state.stale} ", Ink("behind", loud=True))
    canvas.put(x, 0, cut(about, max(0, end - x - 2), signs.more), DIM)
    who = state.who if width >= 100 else ""
    if who and end - x - len(about) > len(who) + 6:
        canvas.right(end - 3, 0, who, DIM)


def _beside(canvas: Canvas, shown: Shown, signs: Signs) -> int:
    """The months beside it, at the right edge; the first cell of them."""
    months = sorted(one.month for one in shown.months)
    end = canvas.width - 2
    if shown.month not in months:
        return end
    at = months.index(shown.month)
    for n, key in ((at + 1, "right"), (at - 1, "left")):
        if 0 <= n < len(months):
            name = named(months[n], shown.month)
            text = f"{name} {signs.becomes}" if key == "right" else f"{signs.before} {name}"
            start = canvas.right(end, 0, text, DIM)
            canvas.spot(start, 0, (end - start, 1), key)
            end = start - 3
    return end


def pages_of(shown: Shown, size: tuple[int, int], signs: Signs) -> tuple[Page, ...]:
    """The page in one column, or in two where it is wide."""
    found, (width, height) = shown.found, size
    assert found is not None
    room: Room = "much" if height >= MUCH else "some" if height >= SOME else "little"
    if width < WIDE:
        page = first_page(found, width, signs, room)
        for part in (more.real, more.promised, more.accuracy, more.spent, more.odds, more.priced,
                     more.people):  # fmt: skip
            part(page, found)
        return (page,)
    half = width // 2
    left, right = first_page(found, half, signs, room), Page(width - half, signs)
    for part in (more.promised, more.spent, more.odds):
        part(left, found)
    for part in (more.real, more.accuracy, more.priced, more.people):
        part(right, found)
    return left, right


def names_of(pages: tuple[Page, ...]) -> list[str]:
    """What can be followed, in the order in which one goes through it."""
    return list(dict.fromkeys(stop.name for page in pages for stop in page.stops))


def scrolled(pages: tuple[Page, ...], state: MonthState, rows: int) -> int:
    """Rows above the first one shown, so that one sees where one stands."""
    last = max(0, *(page.sheet.height - rows for page in pages))
    at = next((stop for page in pages if (stop := page.stop(state.cursor))), None)
    if at is None:
        return min(state.scroll, last)
    if at.y < rows and state.cursor == names_of(pages)[0]:
        return 0
    least = at.y + min(at.height, rows) - rows
    return min(max(min(state.scroll, at.y), least), last)


def _pages(canvas: Canvas, pages: tuple[Page, ...], state: MonthState, said: str) -> None:
    rows = canvas.height - FOOT - TOP + 1
    top, x = TOP - 1, 0
    scroll = scrolled(pages, state, rows)
    for page in pages:
        page.sheet.show(canvas, (x, top), rows, scroll)
        for stop in page.stops:
            _stop(canvas, (x, top, rows, scroll), page, stop.name, state)
        x += page.width
    below = max(page.sheet.height for page in pages) - scroll - rows
    if below > 0:
        text = f"{below} rows below"
        if cell_len(said) + len(text) + 4 < canvas.width:
            canvas.right(canvas.width - 1, canvas.height - FOOT, text, DIM)
    _digits(canvas)


def _stop(
    canvas: Canvas, where: tuple[int, int, int, int], page: Page, name: str, state: MonthState
) -> None:
    """Rows that a mouse can press; the one that one stands on is marked."""
    x, top, rows, scroll = where
    stop = page.stop(name)
    if stop is None:
        return
    first, last = max(0, stop.y - scroll), min(rows, stop.y + stop.height - scroll)
    if first >= last:
        return
    canvas.spot(x, top + first, (page.width, last - first), f"{ROW}{name}")
    if name == state.cursor:
        canvas.ground(x, top + first, page.width - 1, last - first, "pick")
        canvas.put(
            x, top + first, page.signs.of("running"), TEXT._replace(bold=True, ground="pick")
        )


def _digits(canvas: Canvas) -> None:
    """A digit of the book is pressed by the mouse as by its key: it lies on top of its line."""
    for y, row in enumerate(canvas.letters):
        digit, before, after = row[3], canvas.inks[y][2], canvas.inks[y][4]
        if (
            digit.isdecimal()
            and row[2] == row[4] == " "
            and before.ground == after.ground == "pick"
        ):
            canvas.spot(2, y, (3, 1), digit)
