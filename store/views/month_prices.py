"""What other hours or another rate would have kept of the last twelve months' quotes."""

from __future__ import annotations

from store.views.month_look import Look
from store.views.month_told_values import Prices


def prices_of(look: Look) -> Prices:
    """Return the last twelve months' quotes at other hours, and what each operation earned."""
    return Prices(look.span.first, look.span.last, (), (), (), "")
