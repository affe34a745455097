"""Whether anybody still waits for what a thread has found."""

from __future__ import annotations

# Textual says Worker without saying of what
from textual.worker import get_current_worker  # pyright: ignore[reportUnknownVariableType]


def still_wanted() -> bool:
    """False where a newer thread was begun meanwhile, or the screen is gone."""
    return not get_current_worker().is_cancelled
