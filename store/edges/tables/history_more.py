"""people.csv, spans.csv and open.csv: what a history needs beside its hours to forecast dates."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from store.edges.tables.fields import day, instant, one_of, text
from store.edges.tables.history import SEQ, Read
from store.edges.tables.rows import Column, Fault, Line, opened, rows
from store.learn.dates.spans import KINDS, Span
from store.learn.records import People

T = TypeVar("T")
Employed = tuple[str, float, float | None, str | None]
"""Badge, from, until in POSIX seconds, and experience."""
Open = tuple[float, float]
EXPERIENCE = ("apprentice 1", "apprentice 2", "apprentice 3", "apprentice 4", "skilled", "expert")


def people_columns(zone: ZoneInfo | None) -> tuple[Column, ...]:
    """The columns of people.csv."""
    return (
        Column("badge", text),
        Column("from", day(zone)),
        Column("until", day(zone, end=True), needed=False),
        Column("experience", one_of(*EXPERIENCE), needed=False),
    )


def spans_columns(zone: ZoneInfo | None) -> tuple[Column, ...]:
    """The columns of spans.csv."""
    return (
        Column("job", text),
        Column("seq", SEQ),
        Column("kind", one_of(*KINDS)),
        Column("started_at", instant(zone)),
        Column("reason", text, needed=False),
        Column("badge", text, needed=False),
        Column("ended_at", instant(zone), needed=False),
        Column("expected_end", instant(zone), needed=False),
    )


def open_columns(zone: ZoneInfo | None) -> tuple[Column, ...]:
    """The columns of open.csv."""
    return Column("opened_at", instant(zone)), Column("closed_at", instant(zone))


def read_people(path: Path, *, zone: ZoneInfo | None = None) -> Read[Employed]:
    """Read who was employed when: instants, or days of the zone (else UTC), both ends included.

    Raises:
        Refused: the file cannot be read, or its first line is no header of this format.
    """

    def build(values: dict[str, Any]) -> Employed:
        return values["badge"], values["from"], values.get("until"), values.get("experience")

    return _read(path, people_columns(zone), build, "from", "until")


def people_of(rows: Sequence[Employed]) -> People:
    """Return the same by badge."""
    employed: dict[str, list[tuple[float, float | None]]] = defaultdict(list)
    for badge, since, until, _ in rows:
        employed[badge].append((since, until))
    return People(
        {badge: tuple(sorted(each, key=lambda span: span[0])) for badge, each in employed.items()},
        {badge: experience for badge, _, _, experience in rows if experience},
    )


def read_spans(path: Path, *, zone: ZoneInfo | None = None) -> Read[Span]:
    """Read what went on with jobs; one without `ended_at` goes on still.

    Raises:
        Refused: the file cannot be read, or its first line is no header of this format.
    """
    return _read(path, spans_columns(zone), _span, "started_at", "ended_at")


def _span(values: dict[str, Any]) -> Span:
    return Span(
        values["job"], values["seq"], values["kind"], values.get("reason", ""),
        values.get("badge", ""), values["started_at"], values.get("ended_at"),
        values.get("expected_end"),
    )  # fmt: skip


def read_open(path: Path, *, zone: ZoneInfo | None = None) -> Read[Open]:
    """Read when the shop was open, breaks cut out.

    Raises:
        Refused: the file cannot be read, or its first line is no header of this format.
    """

    def build(values: dict[str, Any]) -> Open:
        return values["opened_at"], values["closed_at"]

    return _read(path, open_columns(zone), build, "opened_at", "closed_at")


def _read(
    path: Path,
    columns: Sequence[Column],
    build: Callable[[dict[str, Any]], T],
    first: str,
    last: str,
) -> Read[T]:
    found: Read[T] = Read()
    with opened(path) as file:
        for one in rows(file, lambda comma: columns):
            faults = one.faults or (*_in_order(one, first, last), *_of_nobody(one))
            found.faults += faults
            if not faults:
                found.rows.append(build(one.values))
                found.lines.append(one.line)
    return found


def _in_order(one: Line, first: str, last: str) -> list[Fault]:
    end = one.values.get(last)
    if end is None or end >= one.values[first]:
        return []
    return [Fault(one.line, f"{last} lies before {first}: check both.")]


def _of_nobody(one: Line) -> list[Fault]:
    """A clock is somebody's."""
    if one.values.get("kind") == "labour" and "badge" not in one.values:
        return [Fault(one.line, "badge is empty: say whose clock it was.")]
    return []
