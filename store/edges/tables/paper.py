"""Days from paper as a table: badge, date, what, from, to; one row for each clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from store.edges.instants import BadDate, parse_date
from store.edges.tables.fields import text
from store.edges.tables.rows import Bad, Column, Fault, opened, rows


@dataclass(frozen=True, slots=True)
class PaperLine:
    """A line of the table: `typed` is the row as one types it into the grid."""

    line: int
    badge: str
    day: date
    typed: str


def _day(found: str) -> date:
    try:
        return parse_date(found)
    except BadDate as bad:
        raise Bad(str(bad)) from None


COLUMNS = (
    Column("badge", text), Column("date", _day), Column("what", text),
    Column("from", text), Column("to", text),
)  # fmt: skip


def read_paper(path: Path) -> tuple[list[PaperLine], list[Fault]]:
    """Read a table of days; lines with faults are left out and named.

    Raises:
        Refused: it cannot be read, or is no such table.
    """
    found: list[PaperLine] = []
    faults: list[Fault] = []
    with opened(path) as file:
        for line in rows(file, lambda comma: COLUMNS):
            faults += line.faults
            if not line.faults:
                one = line.values
                typed = f"{one['what']} {one['from']} {one['to']}"
                found.append(PaperLine(line.line, one["badge"].upper(), one["date"], typed))
    return found, faults
