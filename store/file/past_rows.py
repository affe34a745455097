"""Finished phases that were imported: rows of a table, records, pieces of events."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING, cast

from store.edges.instants import from_text, to_text
from store.learn.records import PhaseClass, Record

if TYPE_CHECKING:
    from store.edges.events.past import PastPhase

COLUMNS = (
    "job, template, variant, phase, seq, technician, started, closed, book_h, actual_h, grade, "
    "class, people, lumped_with, cut_off, serves, surprise_h"
)


def imported_work(db: sqlite3.Connection) -> list[Record]:
    """Return what was imported, by job and order."""
    return [_record(row) for row in db.execute(f"select {COLUMNS} from past_phase")]


def _record(row: sqlite3.Row) -> Record:
    return Record(
        row[0], row[1], row[2], row[3], row[4], row[5], _seconds(row[6]), _seconds(row[7]),
        row[8], row[9], row[10], cast("PhaseClass | None", row[11]), row[12], row[13],
        bool(row[14]), tuple(json.loads(row[15])), row[16],
    )  # fmt: skip


def piece(record: Record) -> PastPhase:
    """Return a record as an event holds it.

    Raises:
        pydantic.ValidationError: it holds what no event can.
    """
    from store.edges.events.past import PastPhase

    return PastPhase(
        job=record.job, seq=record.seq, template=record.template, variant=record.variant,
        phase=record.phase, technician=record.technician, started=_text(record.started),
        closed=_text(record.closed), book_h=record.book_h, actual_h=record.actual_h,
        grade=record.grade, phase_class=record.phase_class, people=record.people,
        lumped_with=record.lumped_with, cut_off=record.cut_off, serves=list(record.serves),
        surprise_h=record.surprise_h,
    )  # fmt: skip


def clashes(db: sqlite3.Connection, records: Sequence[Record]) -> Iterator[tuple[int, str]]:
    """Yield place and reason of every record that the file cannot take in beside what it has."""
    own = {row[0] for row in db.execute("select job from job")}
    there = {(row[0], row[1]) for row in db.execute("select job, seq from past_phase")}
    known = {
        row[0]: (row[1], row[2])
        for row in db.execute("select job, template, variant from past_phase")
    }
    for at, one in enumerate(records):
        if one.job in own:
            yield at, f"job {one.job} is a job of this shop: leave it out, or call it otherwise."
        elif (one.job, one.seq) in there:
            yield at, f"job {one.job} seq {one.seq} was imported before: leave it out."
        elif known.get(one.job, (one.template, one.variant)) != (one.template, one.variant):
            template, variant = known[one.job]
            yield (
                at,
                (
                    f"job {one.job} was imported as {template} on {variant} before: "
                    "call one of them otherwise."
                ),
            )


def _seconds(text: str) -> float:
    return from_text(text).timestamp()


def _text(at: float) -> str:
    return to_text(datetime.fromtimestamp(at, UTC))
