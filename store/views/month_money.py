"""A month's money: labour sold and worked, not charged, not billed, hires, quotes, extra work."""

from __future__ import annotations

from store.views.month_look import Look
from store.views.month_spent_values import Money, Quotes
from store.views.month_way import Figure

NOTHING = Figure(None, "money", "")
NONE_GIVEN = Figure(0.0, "n", "")


def money_of(look: Look) -> Money:
    """Return the money of a month."""
    return Money(
        NOTHING, NOTHING, NOTHING, (), NOTHING, NOTHING, NOTHING, Figure(0.0, "days", ""),
        NOTHING, NOTHING,
    )  # fmt: skip


def quotes_of(look: Look) -> Quotes:
    """Return the quotes given in a month and what became of them."""
    return Quotes(NONE_GIVEN, NONE_GIVEN, NONE_GIVEN, NONE_GIVEN, None, None, "")
