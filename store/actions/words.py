"""Hours and times inside the sentences that actions say."""

from __future__ import annotations

from datetime import datetime

from store.sums.working_time import Calendar


def hours_words(hours: float) -> str:
    """Return `1.4 h`."""
    return f"{hours:.1f} h"


def clock_time(at: datetime, calendar: Calendar) -> str:
    """Return `Wed 14 Oct 10:40` in the shop's zone."""
    return f"{at.astimezone(calendar.zone):%a %d %b %H:%M}"
