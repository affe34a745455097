"""Whether a job can come in, or what it came in without; its parts, and where hired kits are."""

from __future__ import annotations

from store.views.parts_values import PartOnCard
from store.views.values import JobCard
from tui.colours import Ink
from tui.job.labelled import FIRST, Labelled
from tui.parts.canvas import Piece
from tui.parts.lines import put_pieces
from tui.parts.sheet import Sheet
from tui.ready.paint import sign_of
from tui.ready.words import kit_words, part_more
from tui.signs import Signs
from tui.words import wrapped

DIM, TEXT = Ink("dim"), Ink("text")


def add_ready(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """The sign of a job that has not come in, or what it lacked when it did."""
    rows = Labelled(sheet, "ready")
    ready = card.job.ready
    if ready is not None and ready.ready:
        pieces: list[Piece] = [(f"{signs.of('done')} ", Ink("ahead")), ("ready to come in", TEXT)]
        put_pieces(rows.row(), (FIRST, 0), pieces, sheet.width - FIRST - 1, signs)
    for one in ready.lacks if ready is not None else ():
        pieces = [(f"{signs.of('waiting')} ", Ink("waiting")), (_lacks(one.words), TEXT)]
        put_pieces(rows.row(), (FIRST, 0), pieces, sheet.width - FIRST - 1, signs)
    if ready is None and card.unready:
        text = f"it came in without {'; '.join(card.unready)}"
        for line in wrapped(text, sheet.width - FIRST - 1):
            rows.row().put(FIRST, 0, line, TEXT)


def _lacks(words: str) -> str:
    return words if words.startswith("not ") else f"lacks {words}"


def add_parts(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Each part line with what it is, then the hired kits and when they come or go back."""
    rows = Labelled(sheet, "parts")
    for one in card.parts:
        put_pieces(rows.row(), (FIRST, 0), _part(one, card, signs), sheet.width - FIRST - 1, signs)
    for kit in card.tools:
        if kit.owned and kit.at != "elsewhere":
            continue
        state, role = sign_of(kit)
        pieces: list[Piece] = [
            (f"{signs.of(state)} ", Ink(role)), (f"kit {kit.name}: ", TEXT),
            (kit_words(kit, card.calendar.zone, card.at), DIM),
        ]  # fmt: skip
        put_pieces(rows.row(), (FIRST, 0), pieces, sheet.width - FIRST - 1, signs)


def _part(one: PartOnCard, card: JobCard, signs: Signs) -> list[Piece]:
    state, role = sign_of(one)
    where = f" for {one.phase}" if one.phase else ""
    more = "; ".join([one.state, *part_more(one, card.calendar.zone, card.at)])
    ink = Ink(role) if one.lacks else DIM
    return [(f"{signs.of(state)} ", Ink(role)), (f"{one.line} {one.text}{where}: ", TEXT),
            (more, ink)]  # fmt: skip
