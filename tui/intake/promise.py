"""The promise row: dates by chance, the chosen one filled, and a day that somebody typed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from rich.cells import cell_len

from store.views.counter import Counter
from tui.colours import Ink, Role
from tui.intake.state import OFFER, OFFERED, IntakeState, date_at
from tui.keys import filled
from tui.parts.canvas import Canvas
from tui.signs import Signs
from tui.words import Chance, chance, cut, day_time, zone_of

DIM = Ink("dim")
CHOSEN = Ink("promise", loud=True)
LABEL = 12


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that can be promised: its date (None: nothing yet), and its chance in words."""

    at: datetime | None
    words: str
    role: Role
    chosen: bool
    chance: float | None = None


def in_words(keeping: Chance) -> str:
    """Word and figure side by side."""
    return f"{keeping.word} {keeping.tenths}".rstrip()


def offers(here: Counter, state: IntakeState) -> list[Offer]:
    """What can be promised, from nothing to safe; a day that was typed at its place by time."""
    form, found = state.form, state.found
    none = form.chance is None and form.day is None
    dated: list[Offer] = []
    for level in OFFERED:
        at = date_at(found.promise, level) if found else None
        if at is not None:
            said = chance(level)
            chosen = form.chance == level
            words = said.word if level == 0.5 else in_words(said)
            dated.append(Offer(at, words, said.role, chosen, level))
    if form.day is not None:
        dated.append(_typed(form.day, state))
    dated.sort(key=lambda one: (one.at or here.at, one.chance is not None))
    return [Offer(None, "nothing yet", "dim", none), *dated]


def _typed(day: datetime, state: IntakeState) -> Offer:
    chosen = state.form.chance is None
    if state.day_chance is None:
        return Offer(day, "chance not known", "dim", chosen)
    said = chance(state.day_chance)
    return Offer(day, in_words(said), said.role, chosen)


def paint_promise(
    canvas: Canvas, top: int, width: int, here: Counter, state: IntakeState, signs: Signs
) -> None:
    """Two rows: dates, and under each its chance."""
    canvas.put(1, top, "promise", DIM)
    found = offers(here, state)
    if len(found) == 1:
        canvas.put(LABEL, top, cut(_why_none(state), width - LABEL - 1, signs.more), DIM)
        return
    zone = zone_of(here.zone)
    columns = [_column(here, zone, one) for one in found]
    x = LABEL - 1
    for n in _window(columns, [one.chosen for one in found], width - 1 - x):
        offer, (date, words) = found[n], columns[n]
        canvas.put(x, top, f" {date} ", CHOSEN if offer.chosen else Ink("text"))
        canvas.put(x + 1, top + 1, words, Ink(offer.role, bold=offer.chosen))
        canvas.spot(x, top, (_wide(columns[n]) - 1, 2), f"{OFFER}{n}")
        x += _wide(columns[n])


def _column(here: Counter, zone: ZoneInfo, offer: Offer) -> tuple[str, str]:
    """Date and chance of an offer; long words in their short form."""
    date = day_time(offer.at, zone, here.at) if offer.at else "not yet"
    return date, offer.words if cell_len(offer.words) <= 15 else _short(offer.words)


def _wide(column: tuple[str, str]) -> int:
    return max(cell_len(column[0]) + 2, cell_len(column[1]) + 1) + 1


def _window(columns: list[tuple[str, str]], chosen: list[bool], room: int) -> range:
    """As many offers as fit; what is chosen is among them, the farther end goes first."""
    first, last = 0, len(columns)
    at = chosen.index(True) if True in chosen else 0
    while last - first > 1 and sum(map(_wide, columns[first:last])) > room:
        if at - first >= last - 1 - at:
            first += 1
        else:
            last -= 1
    return range(first, last)


def _short(words: str) -> str:
    for long, brief in (("more likely than not", "leans good"), ("a coin toss", "coin toss"),
                        ("chance not known", "unknown")):  # fmt: skip
        words = words.replace(long, brief)
    return words


def _why_none(state: IntakeState) -> str:
    if state.wrong or not state.form.work:
        return "not yet"
    if state.stage not in ("dates", "whole"):
        return "not yet; dates are being worked out"
    return filled("not yet: nothing was learned of dates.  {intake.promise} types a day")
