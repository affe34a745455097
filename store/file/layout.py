"""Which shape of tables a file has, and how an older one becomes ours: by replaying its ledger."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from importlib.resources import files
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from store.file.ledger import Row, rows
from store.file.trouble import Damaged, NewerShop, NotAShop, OldSqlite

if TYPE_CHECKING:
    from store.edges.events.base import Event

LAYOUT = 9
"""Raised whenever `tables.sql` or an applying function changes what the ledger becomes, and with
every script of migrations."""

APPLICATION_ID = 0x484F4953
"""Marks an SQLite file as ours ("HOIS")."""

OLDEST_SQLITE = (3, 38)
"""STRICT tables, and `->>`."""


def tables_sql() -> str:
    """Return the schema of the derived tables."""
    return files("store.file").joinpath("tables.sql").read_text("utf-8")


def statements(script: str) -> list[str]:
    """Split a script, so that it can run inside a transaction."""
    found: list[str] = []
    collected = ""
    for line in script.splitlines(keepends=True):
        collected += line
        if sqlite3.complete_statement(collected):
            found.append(collected)
            collected = ""
    return found


def derived_tables() -> list[str]:
    """Return the names of the derived tables, in the order in which they are made."""
    return [
        one.split("create table ", 1)[1].split(" ", 1)[0]
        for one in statements(tables_sql())
        if "create table " in one
    ]


def refuse_foreign(db: sqlite3.Connection, path: Path) -> int:
    """Refuse a file that is not ours or is newer; return the layout it has.

    Raises:
        OldSqlite, NotAShop, NewerShop: as they say.
    """
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise OldSqlite(sqlite3.sqlite_version, OLDEST_SQLITE)
    if db.execute("pragma application_id").fetchone()[0] != APPLICATION_ID:
        raise NotAShop(path)
    found: int = db.execute("pragma user_version").fetchone()[0]
    if found > LAYOUT:
        raise NewerShop(path, found, LAYOUT)
    return found


def check_layout(db: sqlite3.Connection, path: Path) -> None:
    """Refuse a file that is not ours or is newer; bring an older one up to date.

    Raises:
        OldSqlite, NotAShop, NewerShop, Damaged: as they say; nothing was changed.
    """
    if refuse_foreign(db, path) < LAYOUT:
        upgrade(db, path)


def upgrade(db: sqlite3.Connection, path: Path) -> None:
    """Bring what is not derived up to date, then make the derived tables anew from the ledger.

    All of it in one transaction; a second process that meant to do the same finds it done.

    Raises:
        Damaged: the ledger cannot be replayed; nothing was changed.
    """
    from store.file.migrations import migrate

    db.execute("pragma foreign_keys = off")  # tables are dropped in any order
    try:
        db.execute("begin immediate")
        if db.execute("pragma user_version").fetchone()[0] < LAYOUT:
            migrate(db)
            for table in _derived_until_now(db):
                db.execute(f'drop table "{table}"')
            make_tables(db)
            replay(db, path)
            db.execute(f"pragma user_version = {LAYOUT}")
        db.execute("commit")
    finally:
        if db.in_transaction:
            db.execute("rollback")
        db.execute("pragma foreign_keys = on")


BLOCK = 500
"""Entries that go through each stage together: a third faster than one by one."""


def blocks(db: sqlite3.Connection) -> Iterator[list[Row]]:
    """Yield the ledger in order, block by block."""
    source = rows(db)
    while block := list(islice(source, BLOCK)):
        yield block


def replay(db: sqlite3.Connection, path: Path) -> None:
    """Apply the whole ledger to empty tables.

    Raises:
        Damaged: an entry is not what its kind allows, or does not fit what came before.
    """
    from store.file.tables import apply  # whoever only looks does without the models

    for block in blocks(db):
        at = block[0]
        read: list[Event] = []
        try:
            for at in block:
                read.append(at.event())
            for at, event in zip(block, read, strict=True):
                apply(db, at, event)
        except STUMBLES as error:
            raise Damaged(path, f"entry {at.seq} of its ledger cannot be replayed") from error


STUMBLES = (
    ValueError, LookupError, TypeError, AssertionError, OverflowError, sqlite3.IntegrityError,
)  # fmt: skip
"""What applying an entry can meet that was written or changed by other means than an action:
pydantic's refusal is a ValueError, an unknown kind a LookupError."""


def make_tables(db: sqlite3.Connection) -> None:
    """Create the derived tables, empty."""
    for one in statements(tables_sql()):
        db.execute(one)


LEARNED = ("learned_part", "learned_forecast", "learned_turn", "learned_help", "learned_need")
"""Tables of what was learned: made anew from the ledger by the learner, not by replaying it."""

PERMANENT = (
    "ledger",
    "customer_private",
    "private_word",
    "pin_private",
    "pin_tries",
    "demo_clock",
    *LEARNED,
)
"""Tables that are not derived."""


def _derived_until_now(db: sqlite3.Connection) -> list[str]:
    """Tables of an older layout, whatever they were called."""
    kept = (*PERMANENT, "_sqlite_migrations")
    return [
        name
        for (name,) in db.execute(
            "select name from sqlite_master where type = 'table' and name not like 'sqlite\\_%' "
            "escape '\\' order by rowid desc"
        )
        if name not in kept
    ]
