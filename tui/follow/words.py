"""Follow-ups in words."""

from __future__ import annotations

from datetime import date

from store.views.follow_ups import FollowUp
from tui.desk.reading import day_words
from tui.words import MONTHS, counted, distance


def when_words(one: FollowUp) -> str:
    """How it was set: `by 2026-11-12 or at 128,450 km`."""
    parts = [f"by {one.day}"] if one.day else []
    if one.distance is not None:
        parts.append(f"at {distance(one.distance, one.unit)}")
    return " or ".join(parts)


def due_words(one: FollowUp, today: date) -> str:
    """`today`, `Thu`, `12 Nov`; of what is overdue by how many days, or since when."""
    if one.due is None:
        return "no day"
    if one.overdue:
        days = (today - one.due).days
        if days < 100:
            return f"{counted(days, 'day')} ago"
        return f"{one.due.day} {MONTHS[one.due.month - 1]} {one.due.year}"
    return day_words(one.due, today)


def said(one: FollowUp) -> tuple[str, ...]:
    """More of one line: how it was set, from what it is counted, whom to call."""
    facts = [f"{one.vehicle}{f', {one.plate}' if one.plate else ''}: {one.work}."]
    facts.append(f"Set {when_words(one)}, from the {one.counted_from} of {one.since}.")
    if one.customer:
        facts.append(f"{one.customer}{f', {one.telephone}' if one.telephone else ''}.")
    return tuple(facts)
