"""What is never derived grows by migrations; each runs once, in a transaction of its own."""

from __future__ import annotations

import sqlite3
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlite_utils import Database

SCRIPTS = (
    "0001_ledger", "0002_learned", "0003_private_words", "0004_help", "0005_need", "0006_uptime",
    "0007_kinds",
)  # fmt: skip
"""In order; a script is never edited once released."""


def migrate(db: sqlite3.Connection) -> None:
    """Apply the scripts that this file has not had yet."""
    from sqlite_utils import Database, Migrations  # pulls numpy in where it is installed

    ours = Migrations("hoistbook")
    for name in SCRIPTS:
        ours(name=name)(_runner(name))
    ours.apply(Database(db))


class _runner:  # noqa: N801 - used like a function; sqlite-utils asks for its name
    def __init__(self, name: str) -> None:
        self.__name__ = name

    def __call__(self, db: Database, /) -> None:
        run(db.conn, self.__name__)


def run(db: sqlite3.Connection, name: str) -> None:
    """Run one script on a connection, inside whatever transaction is open."""
    from store.file.layout import statements

    script = files("store.file.migrations").joinpath(f"{name}.sql")
    for one in statements(script.read_text("utf-8")):
        db.execute(one)
