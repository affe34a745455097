"""Calendar months: the same day of a later month."""

from __future__ import annotations

from calendar import monthrange
from datetime import date


def months_later(day: date, months: int) -> date:
    """Return the same day so many months later, or that month's last day.

    Args:
        months: 0 or more.

    Raises:
        ValueError: there is no such year.
    """
    years, month = divmod(day.month - 1 + months, 12)
    year = day.year + years
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
