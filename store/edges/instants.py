"""Instants and dates as people and files write them (ISO 8601)."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from store.trouble import Trouble

_INSTANT = re.compile(
    r"""(?: [0-9]{4}-[0-9]{2}-[0-9]{2} [T\ ] [0-9]{2}:[0-9]{2} (?: :[0-9]{2} (?: [.,][0-9]+ )? )?
        | [0-9]{8} T [0-9]{4} (?: [0-9]{2} (?: [.,][0-9]+ )? )?
        )
        (?: Z | [+-][0-9]{2} (?: :?[0-9]{2} )? )?""",
    re.VERBOSE,
)
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_FILE_FORM = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{6}\+00:00")
YEARS = range(1900, 2200)
"""Outside them a year is a slip of the fingers."""


class BadInstant(Trouble):
    """A text that names no moment, or two."""

    def __init__(self, text: str, wrong: str, instead: str) -> None:
        self.text = text
        super().__init__(f"{text!r} {wrong}: {instead}.")


class BadDate(Trouble):
    """A text that names no day."""

    def __init__(self, text: str) -> None:
        self.text = text
        super().__init__(f"{text!r} is no date: type year-month-day like 2026-10-14.")


def parse_instant(text: str, zone: ZoneInfo) -> datetime:
    """Read date and time of day, down to minutes at least.

    Args:
        text: ISO 8601, extended or basic; a space may stand for the T; digits of a second after
            the sixth are dropped.
        zone: the shop's, in which a text without offset is read.

    Returns:
        The instant in UTC.

    Raises:
        BadInstant: not such a text, no such day or time, a year outside `YEARS`, or without
            offset a local time that is skipped or happens twice.
    """
    written = text.strip().upper()
    if _DATE.fullmatch(written):
        raise BadInstant(text, "has no time of day", f"add it like {written}T10:40")
    if not _INSTANT.fullmatch(written):
        raise BadInstant(text, "is no date and time", "type them like 2026-10-14T10:40")
    try:
        moment = datetime.fromisoformat(written)
    except ValueError:
        raise BadInstant(
            text, "is no moment of the calendar", "check day, hour, minute and offset"
        ) from None
    if moment.year not in YEARS:
        raise BadInstant(text, "is too far away", "check the year")
    if moment.tzinfo is None:
        moment = _local(text, moment, zone)
    return moment.astimezone(UTC)


def parse_date(text: str) -> date:
    """Read a local day, `2026-10-14`.

    Raises:
        BadDate: anything else, or a year outside `YEARS`.
    """
    try:
        day = date.fromisoformat(text.strip() if _DATE.fullmatch(text.strip()) else "")
    except ValueError:
        raise BadDate(text) from None
    if day.year not in YEARS:
        raise BadDate(text)
    return day


def to_text(at: datetime) -> str:
    """The file's form of an instant: UTC, fixed width, so that texts sort as instants do.

    Raises:
        ValueError: an instant without offset.
    """
    return _aware(at).astimezone(UTC).isoformat(timespec="microseconds")


def from_text(text: str) -> datetime:
    """Read what `to_text` wrote.

    Raises:
        ValueError: any other form.
    """
    if not _FILE_FORM.fullmatch(text):
        raise ValueError(f"not an instant of the shop file: {text!r}")
    return datetime.fromisoformat(text)


def for_zone(at: datetime, zone: ZoneInfo) -> str:
    """An instant with the zone's offset, to the second, or with a fraction where it has one.

    Raises:
        ValueError: an instant without offset.
    """
    return _aware(at).astimezone(zone).isoformat()


def _local(text: str, moment: datetime, zone: ZoneInfo) -> datetime:
    """A local time that names exactly one moment."""
    first = moment.replace(tzinfo=zone, fold=0)
    second = moment.replace(tzinfo=zone, fold=1)
    before, after = _offset(first), _offset(second)
    if before < after:
        later = (moment + (after - before)).isoformat(sep="T", timespec="minutes")
        raise BadInstant(text, "is skipped when the clocks go forward", f"did you mean {later}")
    if before > after:
        raise BadInstant(
            text,
            "happens twice when the clocks go back",
            f"type {first.isoformat()} for the first or {second.isoformat()} for the second",
        )
    return first


def _offset(at: datetime) -> timedelta:
    return at.utcoffset() or timedelta()


def _aware(at: datetime) -> datetime:
    if at.tzinfo is None:
        raise ValueError(f"an instant needs an offset: {at}")
    return at
