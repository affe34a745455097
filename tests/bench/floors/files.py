"""A past written as the contract's files."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from store.learn.dates.spans import Span
from store.learn.records import Record
from tests.bench.floors.past import Past

HISTORY = ("job", "template", "variant", "phase", "seq", "technician", "started_at", "closed_at",
           "book_hours", "actual_hours", "grade", "class", "people")  # fmt: skip
SPANS = ("job", "seq", "kind", "reason", "badge", "started_at", "ended_at", "expected_end")


def write(past: Past, folder: Path) -> None:
    """Write history.csv, spans.csv, open.csv and people.csv."""
    folder.mkdir(parents=True, exist_ok=True)
    _table(folder / "history.csv", HISTORY, map(_record, past.records))
    _table(folder / "spans.csv", SPANS, map(_span, past.spans))
    openings = ((_at(start), _at(end)) for start, end in past.open_spans)
    _table(folder / "open.csv", ("opened_at", "closed_at"), openings)
    employed = (
        (badge, _at(since), _at(until))
        for badge, spans in past.people.employed.items()
        for since, until in spans
    )
    _table(folder / "people.csv", ("badge", "from", "until"), employed)


def _table(file: Path, heading: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    with file.open("w", encoding="utf-8", newline="") as opened:
        out = csv.writer(opened)
        out.writerow(heading)
        out.writerows(rows)


def _record(one: Record) -> Sequence[object]:
    return (
        one.job, one.template, one.variant, one.phase, one.seq, one.technician, _at(one.started),
        _at(one.closed), f"{one.book_h:.4f}", f"{one.actual_h:.6f}", one.grade, one.phase_class,
        one.people,
    )  # fmt: skip


def _span(one: Span) -> Sequence[object]:
    return (
        one.job, one.seq, one.kind, one.reason, one.badge, _at(one.started), _at(one.ended),
        _at(one.expected),
    )  # fmt: skip


def _at(x: float | None) -> str:
    return "" if x is None else datetime.fromtimestamp(x, UTC).isoformat()
