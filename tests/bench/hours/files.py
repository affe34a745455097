"""A simulated history as the file that the command line reads."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from store.learn.records import Record

NEEDED = (
    "job", "template", "variant", "phase", "seq", "technician", "started_at", "closed_at",
    "book_hours", "actual_hours",
)  # fmt: skip
FURTHER = ("grade", "class", "people", "lumped_with", "cut_off")


def write_history(path: Path, records: Iterable[Record], *, further: bool = True) -> None:
    """Write history.csv (RFC 4180), with the optional columns or without them."""
    with path.open("w", encoding="utf-8", newline="") as file:
        lines = csv.writer(file)
        lines.writerow([*NEEDED, *(FURTHER if further else ())])
        for one in records:
            lines.writerow([*_needed(one), *(_further(one) if further else ())])


def _needed(one: Record) -> list[str]:
    return [
        one.job,
        one.template,
        one.variant,
        one.phase,
        str(one.seq),
        one.technician,
        _instant(one.started),
        _instant(one.closed),
        f"{one.book_h:.4f}",
        f"{one.actual_h:.4f}",
    ]


def _further(one: Record) -> list[str]:
    known = (one.grade, one.phase_class, one.people, one.lumped_with)
    return [*("" if value is None else str(value) for value in known), "1" if one.cut_off else ""]


def _instant(at: float) -> str:
    return datetime.fromtimestamp(at, UTC).isoformat(timespec="seconds")
