"""Where a month's hours went: attended, on jobs, on none, sold; what was held; the lifts."""

from __future__ import annotations

from store.views.month_look import Look
from store.views.month_spent_values import Held, Hours, Lifts, OddsSeen
from store.views.month_way import Figure

NOTHING_H = Figure(0.0, "h", "")


def hours_of(look: Look) -> Hours:
    """Return attended, worked, indirect and sold hours with their ratios."""
    none = Figure(None, "x", "")
    return Hours(NOTHING_H, NOTHING_H, NOTHING_H, NOTHING_H, NOTHING_H, none, none, none)


def held_of(look: Look) -> Held:
    """Return working hours held, by reason."""
    return Held(NOTHING_H)


def lifts_of(look: Look) -> Lifts:
    """Return every lift's worked, held and dead hours, and how far ahead the shop is booked."""
    return Lifts((), Figure(None, "days", ""))


def odds_of(look: Look) -> tuple[OddsSeen, ...]:
    """Return surprises and decisions by phase beside the book's odds."""
    return ()
