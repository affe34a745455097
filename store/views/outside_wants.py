"""What the floor says of people and firms outside the shop that wants somebody."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from store.sums.working_time import Calendar
from store.views.outside_values import CallLine, OutworkLine
from store.views.values import AskedWork, Want


def word_wanted(number: str, asked: AskedWork, called: CallLine | None, calendar: Calendar) -> str:
    """Say which word of the customer's is waited for, and when it was last tried for."""
    if asked.hours or asked.money is None:
        extra = f"+{asked.hours:.1f} h"
    else:
        extra = f"+{asked.money:,.2f}"
    tried = ""
    if called is not None and called.at >= asked.since:
        got = "reached" if called.reached else "tried"
        tried = f" ({got} {called.at.astimezone(calendar.zone):%a %H:%M})"
    return f"{number} customer's word{tried}: {asked.text}, {extra}"


def firms_to_ask(
    away: Iterable[OutworkLine], now: datetime, calendar: Calendar, lift: str | None
) -> list[Want]:
    """Say which firms are to be asked today, or have let their own day pass."""
    return [
        Want("DUE", lift, one.job, _ask(one, now, calendar), one.promised)
        for one in away
        if is_due(one, now, calendar)
    ]


def is_due(line: OutworkLine, now: datetime, calendar: Calendar) -> bool:
    """Whether a firm is to be asked: its day has come, or its promise has been."""
    today = calendar.day_of(now)
    return line.away and (
        (line.chase is not None and line.chase <= today)
        or (line.promised is not None and line.promised <= now)
    )


def _ask(line: OutworkLine, now: datetime, calendar: Calendar) -> str:
    says = f"{line.job}.{line.phase} ask {line.firm}: {line.what}"
    if line.promised is None:
        return says
    word = "was promised" if line.promised <= now else "promised"
    return f"{says}, {word} {_when(line.promised, calendar)}"


def _when(at: datetime, calendar: Calendar) -> str:
    local = at.astimezone(calendar.zone)
    return f"{local:%a} {local.day} {local:%b} {local:%H:%M}"
