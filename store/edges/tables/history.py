"""history.csv: finished phases from outside, every row checked before any is used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Generic, TypeVar
from zoneinfo import ZoneInfo

from store.edges.tables.fields import MOST_SEQ, flag, hours, instant, one_of, text, texts, whole
from store.edges.tables.rows import Column, Fault, Line, Style, opened, rows
from store.learn.records import CLASSES, Record

T = TypeVar("T")
SEQ = whole(1, MOST_SEQ, "the order of a phase in its job: 1, 2, 3")


@dataclass(slots=True)
class Read(Generic[T]):
    """What a file holds.

    Attributes:
        rows: what can be used.
        lines: the line of each of them.
        faults: what cannot, from the top down; several may be in one line.
    """

    rows: list[T] = field(default_factory=list[T])
    lines: list[int] = field(default_factory=list[int])
    faults: list[Fault] = field(default_factory=list[Fault])


FIELDS = {
    "started_at": "started",
    "closed_at": "closed",
    "book_hours": "book_h",
    "actual_hours": "actual_h",
    "class": "phase_class",
    "surprise_hours": "surprise_h",
}
"""Columns whose field of a record has another name."""


def columns(zone: ZoneInfo | None) -> Style:
    """The columns of the format.

    Args:
        zone: of instants without offset; None: there must be none.
    """
    at = instant(zone)

    def style(comma: bool) -> tuple[Column, ...]:
        labour = hours(comma=comma)
        return (
            Column("job", text),
            Column("template", text),
            Column("variant", text),
            Column("phase", text),
            Column("seq", SEQ),
            Column("technician", text),
            Column("started_at", at),
            Column("closed_at", at),
            Column("book_hours", labour),
            Column("actual_hours", labour),
            Column("grade", whole(1, 4, "a grade: 1, 2, 3 or 4"), needed=False),
            Column("class", one_of(*CLASSES), needed=False),
            Column("people", whole(1, 1000, "a number of people: 1, 2, 3"), needed=False),
            Column("lumped_with", SEQ, needed=False),
            Column("cut_off", flag, needed=False),
            Column("serves", texts, needed=False),
            Column("surprise_hours", hours(comma=comma, zero=True), needed=False),
        )

    return style


NAMES = tuple(one.name for one in columns(None)(False))


def read_history(
    path: Path, *, renamed: Mapping[str, str] | None = None, zone: ZoneInfo | None = None
) -> Read[Record]:
    """Read a history; what is said of a job must be the same in all its rows.

    Args:
        renamed: names of our columns by the file's own headings, where these are others.
        zone: of instants without offset; None: they are faults.

    Raises:
        Refused: the file cannot be read, or its first line is no header of this format.
    """
    found: Read[Record] = Read()
    jobs: dict[str, tuple[int, str, str]] = {}
    seen: dict[tuple[str, int], int] = {}
    with opened(path) as file:
        for one in rows(file, columns(zone), renamed):
            faults = one.faults or (*_of_row(one), *_of_job(one, jobs, seen))
            if faults:
                found.faults += faults
                continue
            record = _record(one.values)
            seen[record.job, record.seq] = one.line
            jobs.setdefault(record.job, (one.line, record.template, record.variant))
            found.rows.append(record)
            found.lines.append(one.line)
    _part_lonely(found, seen)
    found.faults.sort(key=lambda fault: fault.line)
    return found


def _record(values: dict[str, Any]) -> Record:
    return Record(**{FIELDS.get(name, name): value for name, value in values.items()})


def _of_row(one: Line) -> list[Fault]:
    values, found = one.values, list[Fault]()
    if values["closed_at"] < values["started_at"]:
        found.append(Fault(one.line, "closed_at lies before started_at: check both."))
    if values.get("lumped_with") == values["seq"]:
        found.append(Fault(one.line, "lumped_with names the row itself: give its neighbour's seq."))
    return found


def _of_job(
    one: Line, jobs: Mapping[str, tuple[int, str, str]], seen: Mapping[tuple[str, int], int]
) -> list[Fault]:
    job, seq, found = one.values["job"], one.values["seq"], list[Fault]()
    if (job, seq) in seen:
        says = f"job {job} has seq {seq} in line {seen[job, seq]} already: number its phases anew."
        found.append(Fault(one.line, says))
    line, *before = jobs.get(job, (0, one.values["template"], one.values["variant"]))
    for name, there in zip(("template", "variant"), before, strict=True):
        if one.values[name] != there:
            says = f"{name} is {one.values[name]}, but {there} in line {line}: a job has one."
            found.append(Fault(one.line, says))
    return found


def _part_lonely(found: Read[Record], seen: dict[tuple[str, int], int]) -> None:
    """Rows lumped with one that is not there, or was left out, are faults too."""
    while True:
        lonely = {
            at
            for at, one in enumerate(found.rows)
            if one.lumped_with is not None and (one.job, one.lumped_with) not in seen
        }
        if not lonely:
            return
        for at in lonely:
            one = found.rows[at]
            del seen[one.job, one.seq]
            says = f"lumped_with names seq {one.lumped_with}, which job {one.job} does not have"
            found.faults.append(Fault(found.lines[at], f"{says}: leave it empty."))
        kept = [at for at in range(len(found.rows)) if at not in lonely]
        found.rows = [found.rows[at] for at in kept]
        found.lines = [found.lines[at] for at in kept]
