"""What a single edit of a shop file is, and a way round the types of its tables."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Generator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from random import Random

from tests.store.file.edits import tampering

TYPED = (" strict, without rowid", " strict")


@dataclass(frozen=True, slots=True)
class Edited:
    """What was changed.

    Attributes:
        table: in which; empty where only the pages can tell.
        says: for whoever reads what was not found.
        seqs: entries of the ledger one of which must be named; none where it is not the ledger.
    """

    table: str
    says: str
    seqs: tuple[int, ...] = ()


Edit = Callable[[Path, Random], Edited]


@contextmanager
def untyped(path: Path, table: str) -> Generator[sqlite3.Connection]:
    """A connection on which a table takes anything; its schema reads as before in the end."""
    with tampering(path) as db:
        was = db.execute("select sql from sqlite_master where name = ?", [table]).fetchone()[0]
        loose = was.replace("not null", "")
        for word, instead in zip(TYPED, (" without rowid", ""), strict=True):
            loose = loose.replace(word, instead)
        _set_schema(db, table, loose)
    with tampering(path) as db:
        yield db
        _set_schema(db, table, was)


def _set_schema(db: sqlite3.Connection, table: str, sql: str) -> None:
    version = db.execute("pragma schema_version").fetchone()[0]
    db.execute("pragma writable_schema = on")
    db.execute("update sqlite_master set sql = ? where name = ? and type = 'table'", [sql, table])
    db.execute(f"pragma schema_version = {version + 1}")
    db.execute("pragma writable_schema = off")
