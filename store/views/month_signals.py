"""Signal or noise: what changed in the shop that luck hardly explains, up to a month's end."""

from __future__ import annotations

from store.views.month_look import Look
from store.views.month_told_values import Signals


def signals_of(look: Look) -> Signals:
    """Return changes of operations, phases, families, people and suppliers, with their charts."""
    return Signals((), (), (), 0, 0.0, "")
