"""What a screen adds to a job card: how far it is scrolled and what was just said."""

from __future__ import annotations

from dataclasses import dataclass

from tui import keys
from tui.parts.lines import Key
from tui.words import Chance

KEYS = keys.last_row(keys.JOB)
"""As they are built in."""


@dataclass(frozen=True, slots=True)
class JobState:
    """All defaults: the top of the card.

    Attributes:
        scroll: rows that the page is moved up; too many show its end.
        settled: the chance of the promise as a live screen holds it.
        said: what was just done or refused; a refusal begins with `!`.
        names: whoever looks may see the customer's name and number.
    """

    scroll: int = 0
    settled: Chance | None = None
    said: str | None = None
    names: bool = False
    keys: tuple[Key, ...] = KEYS
