"""Days on which a hired kit comes or goes back: working days, and not long ago or far ahead."""

from __future__ import annotations

from datetime import datetime, timedelta

from store.actions.acting import Acting
from store.trouble import Refused

LONGEST = timedelta(days=366)
"""A kit that is wanted for longer is bought; a day further ahead is a slip of the fingers."""


def day_words(doing: Acting, at: datetime) -> str:
    """Return `Thu 15 Oct` of the shop."""
    local = at.astimezone(doing.calendar.zone)
    return f"{local:%a} {local.day} {local:%b}"


def check_day(doing: Acting, at: datetime | None, begins: str) -> None:
    """Refuse a day that has been, lies far ahead, or on which the shop is closed."""
    if at is None:
        return
    if at <= doing.at:
        raise Refused(f"{begins} in the past: give a later day.")
    if at > doing.at + LONGEST:
        raise Refused(f"{begins} more than a year ahead: check the year.")
    if not doing.calendar.shifts_of(doing.calendar.day_of(at)):
        opens = day_words(doing, doing.calendar.next_opening(at))
        raise Refused(
            f"{begins} on {day_words(doing, at)}, and the shop is closed then: open again {opens}."
        )
