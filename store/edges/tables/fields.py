"""What the fields of our CSV files can hold, and what to do about one that cannot."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from store.edges.instants import BadDate, BadInstant, parse_date, parse_instant
from store.edges.tables.rows import UNSHOWABLE, Bad, quoted

LONGEST_TEXT = 200
MOST_H = 1_000_000.0
LEAST_H = 1e-6
"""Beyond these a figure is no labour hour, whatever the unit it was meant in."""
MOST_SEQ = 1_000_000

_UTC = ZoneInfo("UTC")
_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?", re.ASCII)
_WHOLE = re.compile(r"\+?(\d{1,9})(?:[.,]0+)?", re.ASCII)
_OFFSET = re.compile(r"(?:Z|[+-][0-9]{2}(?::?[0-9]{2})?)", re.IGNORECASE)


def text(found: str) -> str:
    """One line of signs that can be shown."""
    if len(found) > LONGEST_TEXT:
        raise Bad(f"is longer than {LONGEST_TEXT} signs: shorten it.")
    wrong = None if found.isprintable() else UNSHOWABLE.search(found)
    if wrong is None:
        return found
    if "\ud800" <= wrong[0] <= "\udfff":
        raise Bad("holds bytes that are no UTF-8 text: save the file as UTF-8.")
    raise Bad("holds a line break or a sign that cannot be shown: take it out.")


def texts(found: str) -> tuple[str, ...]:
    """Texts joined with a plus sign."""
    return tuple(one.strip() for one in text(found).split("+") if one.strip())


def hours(*, comma: bool, zero: bool = False) -> Callable[[str], float]:
    """Give a reader of hours.

    Args:
        comma: a comma may stand for the decimal point.
        zero: 0 is a figure too.
    """

    def read(found: str) -> float:
        written = found.replace(",", ".", 1) if comma else found
        if not _NUMBER.fullmatch(written):
            raise Bad(f"{quoted(found)} is no number: write hours like 2.5.")
        value = float(written)
        if zero and value == 0:
            return 0.0
        if not LEAST_H <= value <= MOST_H:
            least = "of 0 or more" if zero else "above 0"
            raise Bad(f"{quoted(found)} is no length of work: write hours {least}, like 2.5.")
        return value

    return read


def whole(least: int, most: int, like: str) -> Callable[[str], int]:
    """Give a reader of whole numbers in a range, both ends included."""

    def read(found: str) -> int:
        digits = _WHOLE.fullmatch(found)
        if not digits or not least <= int(digits[1]) <= most:
            raise Bad(f"{quoted(found)} is not {like}.")
        return int(digits[1])

    return read


def one_of(*values: str) -> Callable[[str], str]:
    """Give a reader of a choice."""

    def read(found: str) -> str:
        if found not in values:
            raise Bad(f"{quoted(found)} is none of {', '.join(values)}.")
        return found

    return read


def flag(found: str) -> bool:
    """1 or 0."""
    return bool(_BIT(found))


_BIT = whole(0, 1, "1 or 0")


def instant(zone: ZoneInfo | None) -> Callable[[str], float]:
    """Give a reader of instants, in POSIX seconds.

    Args:
        zone: of those without offset; None: there must be none.
    """

    def read(found: str) -> float:
        try:
            moment = parse_instant(found, zone or _UTC)
        except BadInstant as bad:
            raise Bad(str(bad)) from None
        if zone is None and not _OFFSET.search(found, 11):
            raise Bad(
                f"{quoted(found)} has no offset from UTC: add it like {found}+02:00, "
                "or say the zone of them all with --zone."
            )
        return moment.timestamp()

    return read


def day(zone: ZoneInfo | None, *, end: bool = False) -> Callable[[str], float]:
    """Give a reader of days and instants, in POSIX seconds; a day's start, or its end."""
    at = instant(zone)

    def read(found: str) -> float:
        try:
            first = parse_date(found)
        except BadDate:
            return at(found)
        local = datetime.combine(first, time()) + timedelta(days=1 if end else 0)
        return local.replace(tzinfo=zone or UTC).timestamp()

    return read
