"""One tape played at another time: dates moved by whole weeks, ids, plates and people exchanged."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import NamedTuple
from zoneinfo import ZoneInfo

from demo.making import ZONE
from store.edges.instants import from_text, to_text
from tests.bench.years.tape import Line, Tape

LETTERS = "BDFGHJKLNPRSTVXZ"
PARTS = re.compile(
    r'"(?P<day>\d{4}-\d\d-\d\d)(?P<time>T[\d:.]{15}\+00:00)?"'
    r'|"(?P<id>[a-z]-[0-9a-f]{20})"'
    r'|"(?P<month_of>month)":"(?P<month>\d{4}-\d\d)"'
    r'|"(?P<job_of>job|of|before|to)":"(?P<job>[1-9]\d*)"'
    r'|"(?P<one_of>clock|because|takes_back|away_from|hold|signature|finding|entry)":(?P<one>\d+)'
    r'|"(?P<many_of>clocks|confirms)":\[(?P<many>[\d,]+)\]'
    r"|(?P<plate>\b[B-Z]{3} \d\d-\d\d\b)"
)
"""What of a payload is not the same at another time."""


class Entry(NamedTuple):
    """An entry of a copy, before it has its number and its hash."""

    happened_at: str
    badge: str
    terminal: str
    kind: str
    payload: str


class Act(NamedTuple):
    """Entries of one act, and the copy they belong to; acts sort by their moment."""

    recorded_at: str
    order: int
    copy: Copy
    key: str
    entries: list[Line]


@dataclass(slots=True)
class Copy:
    """One playing of a tape.

    Attributes:
        order: unlike that of any other copy; 0 keeps ids, plates and moments as they are.
        weeks: by how much everything lies earlier.
        people: new id of each id of a person or place; others are made.
        badges: new badge of each badge.
        jobs: new number of each job, so far.
        seqs: new number of each entry, so far.
    """

    tape: Tape
    order: int
    weeks: int
    people: Mapping[str, str]
    badges: Mapping[str, str]
    jobs: dict[str, str] = field(default_factory=dict[str, str])
    seqs: dict[int, int] = field(default_factory=dict[int, int])

    def acts(self, without: frozenset[str] = frozenset()) -> Iterator[Act]:
        """Yield the acts in order, without entries of some kinds."""
        for act in self.tape.acts:
            lines = [one for one in act if one.row.kind not in without]
            if lines:
                row = lines[0].row
                key = f"{self.order:04x}{row.key.partition('.')[0]}"
                yield Act(self.moment(row.recorded_at), self.order, self, key, lines)

    def opened(self, payload: str, new: str) -> None:
        """From now on the job that is opened has another number."""
        self.jobs[json.loads(payload)["job"]] = new

    def entry(self, line: Line) -> Entry:
        """Return an entry as it is in this copy."""
        row = line.row
        return Entry(
            self.moment(row.happened_at), self.badges.get(row.badge, row.badge), row.terminal,
            row.kind, PARTS.sub(self._put, line.payload),
        )  # fmt: skip

    def _put(self, found: re.Match[str]) -> str:
        kind = found.lastgroup
        if kind == "day":
            return f'"{moved_day(found["day"], self.weeks)}"'
        if kind == "time":
            return f'"{self.moment(found["day"] + found["time"])}"'
        if kind == "id":
            return f'"{self.id(found["id"])}"'
        if kind == "month":
            return f'"month":"{moved_day(found["month"] + "-15", self.weeks)[:7]}"'
        if kind == "job":
            return f'"{found["job_of"]}":"{self.jobs.get(found["job"], found["job"])}"'
        if kind == "one":
            return f'"{found["one_of"]}":{self.seqs[int(found["one"])]}'
        if kind == "many":
            many = ",".join(str(self.seqs[int(one)]) for one in found["many"].split(","))
            return f'"{found["many_of"]}":[{many}]'
        return self.plate(found["plate"])

    def moment(self, instant: str) -> str:
        """Return an instant moved, at the same time of the shop's day."""
        return moved(instant, self.weeks) if self.weeks else instant

    def id(self, old: str) -> str:
        """Return the id that stands for another in this copy."""
        known = self.people.get(old)
        if known is not None or not self.order:
            return known or old
        return f"{old[:2]}{_hex(f'{self.order} {old}')[:20]}"

    def plate(self, old: str) -> str:
        """Return another plate of the same pattern."""
        if not self.order:
            return old
        number = int(_hex(f"{self.order} {old}")[:8], 16)
        letters = "".join(LETTERS[number >> 4 * n & 15] for n in range(3))
        return f"{letters} {10 + (number >> 12) % 90}-{10 + (number >> 20) % 90}"


def _hex(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


@lru_cache(maxsize=65536)
def moved_day(day: str, weeks: int) -> str:
    """Return a date so many weeks earlier: the same day of the week."""
    return (date.fromisoformat(day) - timedelta(weeks=weeks)).isoformat()


def moved(instant: str, weeks: int) -> str:
    """Return an instant so many weeks earlier, at the same local time."""
    hour = instant[:13]
    return _moved_hour(hour, weeks) + instant[13:]


@lru_cache(maxsize=65536)
def _moved_hour(hour: str, weeks: int) -> str:
    at = from_text(hour + ":00:00.000000+00:00")
    local = at.astimezone(ZONE).replace(tzinfo=None) - timedelta(weeks=weeks)
    return to_text(_at(local, ZONE))[:13]


def _at(local: datetime, zone: ZoneInfo) -> datetime:
    return local.replace(tzinfo=zone).astimezone(UTC)
