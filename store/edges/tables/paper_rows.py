"""A row of a day on paper as it is typed: `2417.3 0730 1000`, `tidying 10:15-10:45`, `.4 1200`.

What repeats is left out: the job of the row before (`.4`), all that it was on, the time at which
that row ended. Digits, dots and the dash or plus of a pad are enough for all of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from store.edges.instants import BadInstant, parse_instant
from store.sums.working_time import Calendar
from store.trouble import Refused

_PHASE = re.compile(r"([1-9]\d{0,8})?\.([1-9]\d{0,2}[a-z]{0,3})", re.ASCII)
_CLOCK = re.compile(r"(\d{1,2}):?(\d{2})", re.ASCII)
_PARTS = re.compile(r"[\s,;+*/\-–]+")
NIGHT_ENDS = 5
"""Who stops before five in the morning worked through midnight."""
LIKE = "Like 2417.3 0730 1000."


@dataclass(frozen=True, slots=True)
class RowRead:
    """A row with all that it left out: job and phase, or a reason on no job; instants."""

    job: str | None
    phase: str | None
    reason: str | None
    since: datetime
    until: datetime


@dataclass(frozen=True, slots=True)
class PaperPage:
    """What a row is read against: the day, the shop's calendar, reasons of time on no job."""

    day: date
    calendar: Calendar
    reasons: Sequence[str]

    @property
    def zone(self) -> ZoneInfo:
        """The shop's zone."""
        return self.calendar.zone

    def begins(self, before: RowRead | None) -> datetime | None:
        """When a row begins that does not say it: where the one before ended, after a break that
        comes then; the first with the shift. None where nothing tells."""
        if before is None:
            shifts = self.calendar.shifts_of(self.day)
            return shifts[0][0] if shifts else None
        for start, end in self.calendar.breaks_of(self.day):
            if start <= before.until < end:
                return end
        return before.until


def read_row(text: str, page: PaperPage, before: RowRead | None) -> RowRead:
    """Read one row.

    Args:
        before: the row above, None for the first.

    Raises:
        Refused: saying what is missing or wrong.
    """
    words = [one for one in _PARTS.split(text.strip().lower()) if one]
    if not words:
        raise Refused(f"Nothing was typed. {LIKE}")
    named = not _CLOCK.fullmatch(words[0])
    job, phase, reason = _what(words[0] if named else None, page, before)
    times = words[1:] if named else words
    if len(times) not in (1, 2):
        lacks = "lacks its time" if not times else "has too many words"
        raise Refused(f"{text.strip()[:30]} {lacks}: what, from, to. {LIKE}")
    since = _on(page, page.day, _clock(times[0])) if len(times) == 2 else page.begins(before)
    if since is None:
        raise Refused(f"{text.strip()[:30]} lacks a time: from when to when? {LIKE}")
    return RowRead(job, phase, reason, since, _until(page, _clock(times[-1]), since))


def _what(
    word: str | None, page: PaperPage, before: RowRead | None
) -> tuple[str | None, str | None, str | None]:
    if word is None:
        if before is None:
            raise Refused(f"It lacks what it was on: a phase or a reason. {LIKE}")
        return before.job, before.phase, before.reason
    found = _PHASE.fullmatch(word)
    if found:
        job = found[1] or (before.job if before is not None else None)
        if job is None:
            raise Refused(f"{word} lacks its job: the row above has none. {LIKE}")
        return job, found[2], None
    reasons = [one for one in page.reasons if one.startswith(word)]
    if len(reasons) != 1:
        raise Refused(
            f"{word[:20]} is neither a phase like 2417.3 nor one of {', '.join(page.reasons)}."
        )
    return None, None, reasons[0]


def _clock(text: str) -> tuple[int, int]:
    found = _CLOCK.fullmatch(text)
    hour, minute = (int(found[1]), int(found[2])) if found else (24, 60)
    if (hour, minute) == (24, 0):
        return 24, 0
    if hour > 23 or minute > 59:
        raise Refused(f"{text[:20]} is no time of day. Type one like 0730 or 14:05.")
    return hour, minute


def _until(page: PaperPage, clock: tuple[int, int], since: datetime) -> datetime:
    """A time in the small hours, before the row begins, is on the day after."""
    until = _on(page, page.day, clock)
    if until < since and clock[0] < NIGHT_ENDS:
        return _on(page, page.day + timedelta(days=1), clock)
    return until


def _on(page: PaperPage, day: date, clock: tuple[int, int]) -> datetime:
    if clock == (24, 0):
        day, clock = day + timedelta(days=1), (0, 0)
    try:
        return parse_instant(f"{day.isoformat()}T{clock[0]:02d}:{clock[1]:02d}", page.zone)
    except BadInstant as error:
        raise Refused(f"{error}") from error


def read_rows(
    texts: Iterable[str], page: PaperPage
) -> tuple[list[RowRead | None], dict[int, str]]:  # fmt: skip
    """Read rows one after another; what cannot be read is None, and why stands by its number.

    A row under one that cannot be read leaves out what the last good one said.
    """
    rows: list[RowRead | None] = []
    faults: dict[int, str] = {}
    before: RowRead | None = None
    for n, text in enumerate(texts, 1):
        try:
            before = read_row(text, page, before)
            rows.append(before)
        except Refused as refused:
            faults[n] = str(refused)
            rows.append(None)
    return rows, faults


def noted(row: RowRead, page: PaperPage) -> str:
    """What is allowed and worth a look: labour outside the shop's hours."""
    shifts = page.calendar.shifts_of(page.day)
    if not shifts:
        return "The shop is closed that day: this counts as labour all the same."
    first, last = min(one[0] for one in shifts), max(one[1] for one in shifts)
    zone = page.zone
    if row.until > last:
        return f"Beyond the shift, which ends {last.astimezone(zone):%H:%M}: it counts as labour."
    if row.since < first:
        return f"Before the shift, which begins {first.astimezone(zone):%H:%M}: it counts."
    return ""
