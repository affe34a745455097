"""Dates as an iCalendar file: RFC 5545, all instants in UTC, days as days."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta

from store.views.dates import Dated, Dates
from tui.words import plain

FOLD = 75
"""Octets of a line at most, its end not counted (RFC 5545, 3.1)."""
END = "\r\n"
NO_DATE = (
    "BEGIN:VTIMEZONE", "TZID:Etc/UTC", "BEGIN:STANDARD", "DTSTART:19700101T000000",
    "TZOFFSETFROM:+0000", "TZOFFSETTO:+0000", "END:STANDARD", "END:VTIMEZONE",
)  # fmt: skip
"""A calendar has one component at least (3.6); where nothing is due this one says nothing."""


def ics_of(found: Dates) -> str:
    """The whole calendar; its lines end with CRLF."""
    lines = [
        "BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//hoistbook//dates//EN", "CALSCALE:GREGORIAN",
        *(() if found.dates else NO_DATE),
        *(line for one in found.dates for line in _event(one, found)), "END:VCALENDAR",
    ]  # fmt: skip
    return "".join(piece + END for line in lines for piece in folded(line))


def _event(one: Dated, found: Dates) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{escaped(f'{one.thing}.{found.shop}')}@hoistbook"
    yield f"DTSTAMP:{_instant(found.at)}"
    if one.sequence:
        yield f"SEQUENCE:{one.sequence}"
    if one.cancelled:
        yield "STATUS:CANCELLED"
    yield from _when(one)
    yield f"SUMMARY:{escaped(one.title)}"
    if one.note:
        yield f"DESCRIPTION:{escaped(one.note)}"
    yield f"CATEGORIES:{escaped(one.kind.upper())}"
    for alarm in (*(() if one.alarm is None else (one.alarm,)), *one.alarms):
        yield from _alarm(alarm, one.title)
    yield "END:VEVENT"


def _when(one: Dated) -> Iterable[str]:
    """3.6.1: a day lasts that day; an instant without an end is over when it begins."""
    if isinstance(one.when, datetime):
        return (f"DTSTART:{_instant(one.when)}",)
    return (f"DTSTART;VALUE=DATE:{one.when:%Y%m%d}", "TRANSP:TRANSPARENT")


def _instant(at: datetime) -> str:
    """3.3.5, form 2: UTC."""
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _alarm(at: timedelta | datetime, title: str) -> Iterable[str]:
    """3.6.6, 3.8.6.3: so long before the event begins, or at an instant."""
    if isinstance(at, datetime):
        trigger = f"TRIGGER;VALUE=DATE-TIME:{_instant(at)}"
    else:
        trigger = f"TRIGGER:-PT{int(at / timedelta(minutes=1))}M"
    return (
        "BEGIN:VALARM", "ACTION:DISPLAY", f"DESCRIPTION:{escaped(title)}", trigger, "END:VALARM",
    )  # fmt: skip


def escaped(text: str) -> str:
    """Text as a value has it (3.3.11): backslash, semicolon and comma behind a backslash."""
    found = plain(text)
    for sign in ("\\", ";", ","):
        found = found.replace(sign, f"\\{sign}")
    return found


def folded(line: str) -> Iterator[str]:
    """The line in pieces of at most `FOLD` octets, all but the first after a blank (3.1)."""
    piece, room = "", FOLD
    for letter in line:
        octets = len(letter.encode())
        if octets > room:
            yield piece
            piece, room = " ", FOLD - 1
        piece += letter
        room -= octets
    yield piece
