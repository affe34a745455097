"""The job card for any size, as lines: what is owed first, then hours, then how it came to be."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from store.views.values import JobCard
from tui.colours import Ink, Paint
from tui.job.clearing import add_clearing
from tui.job.desk import add_desk
from tui.job.head import paint_job_head
from tui.job.hours import add_phases
from tui.job.outside import add_advice, add_calls, add_money, add_outwork
from tui.job.owed import add_owed
from tui.job.proofs import add_proofs, add_steps
from tui.job.ready import add_parts, add_ready
from tui.job.sections import add_estimate, add_facts, add_lane, add_ledger
from tui.job.state import JobState
from tui.job.told import add_extra, add_findings, add_kits, add_notes, add_promises
from tui.lane.outlook import outlook
from tui.parts.canvas import Canvas, Line
from tui.parts.lines import LEAST, paint_keys, paint_said, too_small
from tui.parts.sheet import Sheet
from tui.signs import Signs
from tui.words import Chance, cut

TOP, FOOT = 3, 2
"""Rows of head and gap, rows of what was said and keys."""
TWO_COLUMNS, LEFT = 180, 124
"""From so many cells on the ledger stands beside the rest, right of the cell."""


@dataclass(frozen=True, slots=True)
class Page:
    """All of a card at one width, however much of it a screen shows.

    Attributes:
        sheets: one, or on wide screens the ledger as a second one; both move together.
    """

    sheets: tuple[Sheet, ...]

    def last_scroll(self, height: int) -> int:
        """The farthest scroll that has an effect on a screen so high."""
        return max(0, *(sheet.height - rows_of(height) for sheet in self.sheets))

    def starts(self, height: int) -> list[int]:
        """Scrolls at which a section is the first row, from the top to the end of the page."""
        last = self.last_scroll(height)
        marks = {min(row, last) for sheet in self.sheets[:1] for _, row in sheet.marks}
        return sorted({0, last, *marks})

    def ledger(self, height: int) -> int:
        """The scroll that shows the ledger from its beginning."""
        row = next(row for sheet in self.sheets for name, row in sheet.marks if name == "ledger")
        return min(row, self.last_scroll(height))

    def below(self, row: int) -> list[str]:
        """Names of the sections that begin at or under a row."""
        return [name for sheet in self.sheets for name, start in sheet.marks if start >= row]


def rows_of(height: int) -> int:
    """Rows of the page that a screen so high shows."""
    return height - TOP - FOOT


def job_lines(
    card: JobCard, size: tuple[int, int], paint: Paint, signs: Signs, state: JobState
) -> list[Line]:
    """The card as exactly height lines of exactly width cells."""
    shown = signs.without_colour() if paint.monochrome else signs
    return job_canvas(card, size, shown, state).lines(paint)


def job_canvas(
    card: JobCard, size: tuple[int, int], signs: Signs, state: JobState, page: Page | None = None
) -> Canvas:
    """The same before it is coloured; `page` where it was laid out already."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    page = page or job_page(card, width, signs, state.settled, names=state.names)
    paint_job_head(canvas, card, outlook(card.job, state.settled), signs)
    rows = rows_of(height)
    scroll = min(max(0, state.scroll), page.last_scroll(height))
    x = 0
    for sheet in page.sheets:
        own = min(scroll, max(0, sheet.height - rows))
        sheet.show(canvas, (x, TOP), rows, own)
        x = LEFT
    paint_said(canvas, height - 2, state.said or "", signs)
    _paint_below(canvas, page, (scroll, height), state.said or "", signs)
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


def _paint_below(canvas: Canvas, page: Page, at: tuple[int, int], said: str, signs: Signs) -> None:
    """How many lines are under the screen, and which sections begin in them."""
    scroll, height = at
    below = page.last_scroll(height) - scroll
    if not below:
        return
    room = canvas.width - 2 - (cell_len(said) + 3 if said else 0)
    text = f"{below} more lines below"
    names = ", ".join(page.below(scroll + rows_of(height)))
    if names and cell_len(text) + 12 < room:
        text = cut(f"{text}: {names}", room, signs.more)
    if cell_len(text) <= room:
        canvas.right(canvas.width - 1, height - 2, text, Ink("dim"))


def job_last_scroll(card: JobCard, size: tuple[int, int], signs: Signs) -> int:
    """The farthest that `JobState.scroll` has an effect in this size."""
    return job_page(card, size[0], signs, None).last_scroll(size[1])


def job_page(
    card: JobCard, width: int, signs: Signs, settled: Chance | None, *, names: bool = False
) -> Page:
    """Lay the card out, on wide screens with the ledger on a second sheet."""
    wide = width >= TWO_COLUMNS
    sheet = Sheet(LEFT - 2 if wide else width)
    add_owed(sheet, card, signs)
    add_phases(sheet, card, signs)
    add_ready(sheet, card, signs)
    add_clearing(sheet, card)
    add_desk(sheet, card, names=names)
    add_estimate(sheet, card, signs)
    add_findings(sheet, card, signs)
    add_extra(sheet, card, signs)
    add_calls(sheet, card, signs)
    add_money(sheet, card, signs)
    add_outwork(sheet, card, signs)
    add_advice(sheet, card, signs)
    add_notes(sheet, card, signs)
    add_proofs(sheet, card, signs)
    add_promises(sheet, card, signs)
    add_parts(sheet, card, signs)
    add_kits(sheet, card, signs)
    add_facts(sheet, card, signs)
    add_lane(sheet, card, outlook(card.job, settled), signs)
    add_steps(sheet, card, signs)
    if not wide:
        add_ledger(sheet, card, signs)
        return Page((sheet,))
    beside = Sheet(width - LEFT)
    add_ledger(beside, card, signs)
    return Page((sheet, beside))
