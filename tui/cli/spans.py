"""Shifts and breaks as they are typed: `mon-fri 07:30-16:30`."""

from __future__ import annotations

import re

from store.edges.events.shop import WeekSpan
from tui.cli.usage import WrongUsage

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_SPAN = re.compile(
    r"([a-z,-]+)\s+([01]?\d|2[0-3]):([0-5]\d)\s*-\s*([01]?\d|2[0-3]):([0-5]\d)", re.ASCII
)


def span(text: str, where: str) -> WeekSpan:
    """Days and hours of a shift or break; an end at or before its start is on the next day.

    Raises:
        WrongUsage: it is written otherwise.
    """
    found = _SPAN.fullmatch(text.strip().lower())
    days = _days(found[1]) if found else None
    if found is None or days is None:
        raise WrongUsage(
            f'{where}: {text!r} is no time of the week: write it like "mon-fri 07:30-16:30" '
            'or "mon,wed,sat 08:00-12:00".'
        )
    return WeekSpan(
        days=days, start=f"{int(found[2]):02d}:{found[3]}", end=f"{int(found[4]):02d}:{found[5]}"
    )


def _days(text: str) -> list[int] | None:
    """Monday is 1; None where it names no days."""
    days: set[int] = set()
    for piece in text.split(","):
        first, sign, last = piece.partition("-")
        if first not in DAYS or (sign and last not in DAYS):
            return None
        start = DAYS.index(first)
        end = DAYS.index(last) if sign else start
        days.update(one % 7 + 1 for one in range(start, end + (1 if end >= start else 8)))
    return sorted(days)
