"""What the work book should say: what was learned beside it, and what adopts it."""

from __future__ import annotations

from store.views.month_look import Look
from store.views.month_told_values import ShouldSay


def should_say_of(look: Look) -> tuple[ShouldSay, ...]:
    """Return phases whose book hours are worth changing, what costs most first."""
    return ()
