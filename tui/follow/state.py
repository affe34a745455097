"""What the list of follow-ups shows beside the lines themselves."""

from __future__ import annotations

from dataclasses import dataclass

from tui import keys
from tui.parts.canvas import ON_SCREEN
from tui.parts.lines import Key

ROW = f"{ON_SCREEN}row "
"""What a press of a line presses; then which."""


@dataclass(frozen=True, slots=True)
class FollowState:
    """What the screen adds.

    Attributes:
        cursor: the line that one stands on, `job.line`; None where there is none.
        who: signed in, in words.
        said: what was just done or refused.
        stale: since when it could not be read.
    """

    cursor: str | None = None
    who: str = ""
    said: str | None = None
    stale: str | None = None
    keys: tuple[Key, ...] = keys.last_row(keys.FOLLOW)
