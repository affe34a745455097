"""A month as a page: what it says first, then what to change, hours, what was lost, money."""

from __future__ import annotations

from collections.abc import Mapping

from store.views.month.told_values import ShouldSay
from store.views.month.values import Month
from tui.colours import Ink
from tui.keys import filled
from tui.month import charts
from tui.month.figures import JOBS
from tui.month.sheet import BOLD, DIM, TEXT, Page, Room
from tui.month.words import kits_words, lost_words, money_words, ratio_words
from tui.papers import month_pictures as pictures
from tui.papers.month_told import year
from tui.papers.said import number
from tui.parts.canvas import Piece
from tui.signs import Signs
from tui.words import cut

GOOD = ("Truer since",)
BAD = ("Further off since", "That is more than luck explains")
"""How the last of the first sentences begins where it is a verdict."""
MARKS: Mapping[Room, int] = {"little": 2, "some": 4, "much": 6}
"""Rows of marks that stand on one another."""
LINES: Mapping[Room, int] = {"little": 3, "some": 3, "much": 9}
"""Lines of the book that are told: those that cost most."""
UNSURE = 2
"""So many lines of the book that are not sure yet are told, where there is room."""


def first_page(found: Month, width: int, signs: Signs, room: Room) -> Page:
    """The answers: what people read who read nothing else."""
    page = Page(width, signs, room)
    _said(page, found)
    strip = pictures.strip(found)
    if strip is not None:
        page.gap("some")
        charts.strip(page, strip, MARKS[room], JOBS)
    _book(page, found)
    page.gap("some")
    charts.bars(page, pictures.hours(found), "hours", ("attended", "on_jobs", "sold"))
    if room == "much":
        page.labelled("", ratio_words(found), "efficiency", DIM)
    page.gap()
    page.labelled("lost", lost_words(found), "lost")
    page.labelled("kits", kits_words(found), "kits")
    page.labelled("money", money_words(found), "money")
    return page


def _said(page: Page, found: Month) -> None:
    """Two sentences; the verdict coloured, dim where it is none. The rest where there is room."""
    if not found.accuracy.enough:
        for n, one in enumerate(found.said):
            page.words(one, BOLD if n == 0 and found.empty is None else DIM, JOBS)
        return
    first, *others = found.said
    head, _, verdict = first.removesuffix(".").rpartition(". ")
    pieces: list[Piece] = [(f"{head}. ", BOLD), (f"{verdict}.", _verdict(verdict))]
    if len(first) < page.width - 3:
        page.pieces(pieces, JOBS)
    else:
        page.words(f"{head}.", BOLD, JOBS)
        page.words(f"{verdict}.", _verdict(verdict), JOBS)
    for n, one in enumerate(others):
        if n == 0 or page.room == "much":
            page.words(one, TEXT if n == 0 else DIM, JOBS)


def _verdict(text: str) -> Ink:
    if text.startswith(GOOD):
        return Ink("ahead", bold=True)
    return Ink("behind", bold=True) if text.startswith(BAD) else DIM


def _book(page: Page, found: Month) -> None:
    """What to change in the book, each with its digit; what is not sure is dim and has none."""
    every = list(enumerate(found.should_say))
    sure = [(n, one) for n, one in every if one.sure][: LINES[page.room]]
    unsure = [(n, one) for n, one in every if not one.sure][: UNSURE if page.room == "much" else 1]
    page.gap()
    if not sure and not unsure:
        page.words("Nothing in the work book is worth changing: no phase differs by more than "
                   "luck.", DIM)  # fmt: skip
        return
    title = "worth changing in the book" if sure else "nothing sure to change in the book"
    row, at = page.row(), _columns(page.width)
    row.put(2, 0, title, BOLD)
    for x, head in zip(at, ("book", "takes"), strict=False):
        row.right(x, 0, head, DIM)
    row.put(at[2], 0, "sure", DIM)
    row.put(at[3], 0, "in a year", DIM)
    for digit, (n, one) in enumerate(sure, 1):
        _should(page, "" if found.reader == "technician" else f"{digit}", f"book-{n}", one)
    for n, one in unsure:
        _should(page, "", f"book-{n}", one)
    left = sum(one.sure for _, one in every) - len(sure)
    if left and page.room == "much":
        page.words(f"{left} more are sure: they come up when these are adopted.", DIM)


def _columns(width: int) -> tuple[int, int, int, int]:
    """Ends of `book` and `takes`, beginnings of `sure` and `in a year`."""
    takes = width - 33 if width >= 76 else width - 28
    return takes - 7, takes, takes + 3, takes + (18 if width >= 76 else 14)


def _should(page: Page, digit: str, stop: str, one: ShouldSay) -> None:
    row, at = page.row(stop), _columns(page.width)
    ink = TEXT if one.sure else DIM
    if digit:
        row.put(2, 0, f" {digit} ", Ink("text", bold=True, ground="pick"))
        row.spot(2, 0, (3, 1), digit)
    name = one.name + (f", {one.family}" if one.family else "")
    row.put(6, 0, cut(name, at[0] - 6 - 5, page.signs.more), ink)
    row.right(at[0], 0, number(round(one.book_h, 1)), DIM)
    row.right(at[1], 0, number(round(one.should_h, 1)), BOLD if one.sure else DIM)
    room = at[3] - at[2] - 1
    sure = f"{one.finished} times, yes" if one.sure else f"{one.finished} times, not yet"
    row.put(at[2], 0, sure if len(sure) <= room else sure.replace(" times", ""), DIM)
    if one.sure:
        row.put(at[3], 0, cut(year(one.year_h), page.width - at[3] - 1), ink)


def adopt_hint(found: Month) -> str:
    """What stands where nothing was said yet."""
    if any(one.sure for one in found.should_say) and found.reader != "technician":
        return filled("A digit adopts, {month.several} several; the old book stays.")
    return ""
