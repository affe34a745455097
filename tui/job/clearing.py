"""The section of a held job's card: what clearing its lift takes, and when that pays."""

from __future__ import annotations

from store.views.values import JobCard
from tui.colours import Ink
from tui.parts.clearing import clearing_lines
from tui.parts.sheet import Sheet
from tui.words import wrapped

NAME = "clear the lift"
LEFT = 3


def add_clearing(sheet: Sheet, card: JobCard) -> None:
    """Nothing where the job is on no lift, or goes on."""
    if card.clearing is None:
        return
    sheet.gap()
    sheet.mark(NAME)
    sheet.block().put(1, 0, NAME, Ink("dim"))
    for line in clearing_lines(card.clearing):
        for nth, piece in enumerate(wrapped(line, sheet.width - LEFT - 3)):
            sheet.block().put(LEFT + (2 if nth else 0), 0, piece, Ink("text"))
