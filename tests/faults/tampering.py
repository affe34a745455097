"""Rows of the table: a shop file that was changed by other means than an action."""

from __future__ import annotations

from collections.abc import Generator
from contextlib import contextmanager
from functools import partial
from unittest.mock import patch

from store.file import chain, verify
from store.file.ledger import Row as Entry
from tests.faults.row import Outcome, Row, Tries
from tests.faults.tampering_bytes import nothing, of_file, of_side_file
from tests.faults.tampering_edits import DERIVED_EDITS, the_schema
from tests.faults.tampering_ledger import LEDGER_EDITS
from tests.faults.tampering_loose import Edit
from tests.faults.tampering_tries import edits
from tests.faults.tampering_whole import cut_off_tries, written_anew_tries


@contextmanager
def without(name: str, *, protected: bool) -> Generator[None]:
    """Take one look out of `verify`, where a row is to be seen to fail."""
    if protected:
        yield
        return
    with patch.object(verify, name, nothing):
        yield


def own_hash(row: Entry) -> str:
    """What stands there instead of what should."""
    return row.hash


def of_ledger(tries: Tries) -> Outcome:
    """Single edits of the ledger."""
    if tries.protected:
        return edits(LEDGER_EDITS, tries)
    with patch.object(chain, "rehash", own_hash):
        return edits(LEDGER_EDITS, tries)


def of_others(ways: tuple[Edit, ...], taken_out: str, tries: Tries) -> Outcome:
    """Single edits of what follows from the ledger, or of what holds it."""
    with without(taken_out, protected=tries.protected):
        return edits(ways, tries)


ROWS = (
    Row(
        "one edit of the ledger",
        "a value, its type, its form or its Unicode form changed; rows gone, doubled, swapped, "
        "renumbered, signed anew; triggers dropped meanwhile",
        "the file's whole content read by SQL before and after is not the same",
        "the hash of an entry computed again: an edit that no table shows goes unseen",
        of_ledger, quick=3, long=400, bare=6,
    ),
    Row(
        "one edit of a derived table",
        "any value of any row of any table but the ledger changed, retyped, taken out or put in; "
        "PINs too",
        "the file's whole content read by SQL before and after is not the same",
        "the comparison of the tables with the ledger replayed: wrong values are shown as right",
        partial(of_others, DERIVED_EDITS, "_check_table"), quick=3, long=400, bare=3,
    ),
    Row(
        "one edit of the schema",
        "a trigger, index, table, view or column dropped, added or renamed",
        "the schema read before and after is not the same",
        "the comparison of the schema: a ledger without its triggers is called whole",
        partial(of_others, (the_schema,), "_check_schema"), quick=2, long=100, bare=3,
    ),
    Row(
        "every hash written anew",
        "an entry changed, every hash after it computed anew, all tables replayed",
        "verify alone finds nothing, and the entry reads otherwise than before",
        "the noted hash and the backup to compare with: it goes unseen",
        written_anew_tries, quick=2, long=60, bare=1,
    ),
    Row(
        "last entries cut off",
        "entries taken from the ledger's end, all tables replayed",
        "verify alone finds nothing, and the ledger is shorter",
        "the noted hash and the backup to compare with: it goes unseen",
        cut_off_tries, quick=2, long=60, bare=1,
    ),
    Row(
        "bits of the file turned over",
        "up to three bits of the shop file, anywhere",
        "its content reads otherwise or not at all, or verify finds its pages unsound; else beside",
        "tables and pages compared: a value that was changed so is shown as right",
        of_file, quick=3, long=400, bare=8,
    ),
    Row(
        "bits of the side file turned over",
        "a bit of the write-ahead log of a terminal that was killed",
        "the ledger is shorter than what was acknowledged",
        "the noted hash: entries that were acknowledged are gone unseen",
        of_side_file, quick=2, long=60, bare=2,
    ),
)  # fmt: skip
