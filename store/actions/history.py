"""Finished phases from outside taken in, so that they teach like one's own."""

from __future__ import annotations

from collections.abc import Sequence

from store.actions.acting import Acting, Done, acting
from store.edges.events.past import HistoryImported, HistoryTakenBack
from store.file.change import By
from store.file.ledger import Row
from store.file.past_rows import clashes, piece
from store.file.shop import Shop
from store.learn.records import Record
from store.trouble import Refused

ROWS = 300
"""In one event at most: a row of the ledger stays readable."""


def import_history(shop: Shop, by: By, *, records: Sequence[Record], source: str) -> Done:
    """Take finished phases in.

    Args:
        source: what they came from, the name of a file.

    Raises:
        Refused: there are none; a job is one of this shop, or was imported before.
    """
    with acting(shop, by, "import history") as doing:
        if not records:
            raise Refused(f"{source} holds no finished phase: nothing was imported.")
        clash = next(clashes(doing.db, records), None)
        if clash is not None:
            raise Refused(f"{source}: {clash[1]}")
        parts = [records[at : at + ROWS] for at in range(0, len(records), ROWS)]
        for number, part in enumerate(parts, 1):
            doing.record(
                HistoryImported(
                    source=source, part=number, parts=len(parts), phases=len(records),
                    rows=[piece(one) for one in part],
                )
            )  # fmt: skip
        jobs = len({one.job for one in records})
        return doing.done(f"{counted(records, jobs)} imported from {source}.")


def counted(records: Sequence[Record], jobs: int) -> str:
    """`20 finished phases of 3 jobs`"""
    phases = f"{len(records):,} finished phase{'s' if len(records) != 1 else ''}"
    return f"{phases} of {jobs:,} job{'s' if jobs != 1 else ''}"


def history_gone(doing: Acting, row: Row, event: HistoryImported) -> None:
    """Take out again what an import brought."""
    doing.record(HistoryTakenBack(imported=row.seq))
