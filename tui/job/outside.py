"""Sections of a card about customers and other firms: calls, money, outwork, advice."""

from __future__ import annotations

from collections.abc import Iterable

from store.views.outside_values import AdviceLine, OutworkLine
from store.views.values import JobCard
from tui.colours import Ink
from tui.job.labelled import FIRST, Labelled
from tui.job.outside_words import (
    advice_words,
    call_said,
    money_words,
    outwork_words,
)
from tui.job.told import dated
from tui.parts.canvas import Piece
from tui.parts.lines import put_pieces
from tui.parts.sheet import Sheet
from tui.signs import STATES, Signs, State
from tui.words import cut, wrapped

DIM, TEXT = Ink("dim"), Ink("text")
ANSWERED: dict[str | None, State] = {
    None: "answer", "agreed": "done", "declined": "to come", "later": "to come",
}  # fmt: skip


def add_calls(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Every attempt to reach the customer."""
    rows = Labelled(sheet, "calls")
    for one in card.calls:
        dated(rows, card, (one.at, one.who, call_said(one)), signs)


def add_money(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What was agreed, what was used up, what is expected against a ceiling."""
    if card.money is None:
        return
    rows, over = Labelled(sheet, "money"), card.money.over > 0
    for line in money_words(card.money):
        ink = Ink("behind") if over and "over the ceiling" in line else TEXT
        for piece in wrapped(line, sheet.width - FIRST - 1):
            rows.row().put(FIRST, 0, piece, ink)


def add_outwork(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What is at other firms, or came back from them."""
    _two_in_each(sheet, "outwork", ((_away(one), outwork_words(one, card)) for one in card.outwork),
                 signs)  # fmt: skip


def _away(line: OutworkLine) -> State:
    return "outwork" if line.away else "done"


def add_advice(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What was advised, and the customer's word on it."""
    zone, now = card.calendar.zone, card.at
    _two_in_each(
        sheet, "advice", ((_said(one), advice_words(one, zone, now)) for one in card.advice), signs
    )


def _said(line: AdviceLine) -> State:
    return ANSWERED[line.answer]


def _two_in_each(
    sheet: Sheet, name: str, lines: Iterable[tuple[State, tuple[str, str]]], signs: Signs
) -> None:
    """A sign and a sentence, and under it what was said."""
    rows = Labelled(sheet, name)
    for state, (first, second) in lines:
        pieces: list[Piece] = [
            (f"{signs.of(state)} ", Ink(STATES[state].role)),
            (cut(first, sheet.width - FIRST - 3, signs.more), TEXT),
        ]
        put_pieces(rows.row(), (FIRST, 0), pieces, sheet.width - FIRST - 1, signs)
        for piece in wrapped(second, sheet.width - FIRST - 3):
            rows.row().put(FIRST + 2, 0, piece, DIM)
