"""What is said of a machine's clock that was set back."""

from __future__ import annotations

from store.file.change import Change
from store.file.facts import calendar_of
from store.sums.spans import apart

BEHIND_S = 60
"""From here on it is said that the machine's clock stands behind the newest entry."""


def stands_behind(change: Change) -> str:
    """What is added to the words of an act; "" where the clock goes right."""
    if change.stepped_back < BEHIND_S:
        return ""
    newest = change.now.astimezone(calendar_of(change.db).zone)
    return (
        f" This machine's clock stands {apart(change.stepped_back)} behind the newest entry "
        f"({newest:%Y-%m-%d %H:%M}). This one is kept; set the clock, then look at the hours on "
        "the day sheet."
    )
