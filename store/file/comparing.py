"""Two databases compared: their schemas by what they say, their tables row by row."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Collection
from itertools import zip_longest

BLOCK = 2000
"""Rows compared at once; only a block that differs is looked at row by row."""

SHOWN = 40
"""Characters shown of a value."""

Value = str | bytes | int | float | None
Values = tuple[Value, ...]


def schema_difference(
    ours: sqlite3.Connection, made: sqlite3.Connection, may_lack: Collection[str] = ()
) -> tuple[str, str] | None:
    """Return name and words of the first table, index or trigger that differs.

    Args:
        ours: the shop file.
        made: a database made as this version makes one.
        may_lack: tables that whoever needs them makes again.
    """
    there, wanted = _schema(ours), _schema(made)
    for name, (kind, sql) in wanted.items():
        if name not in there and name in may_lack:
            continue
        if name not in there:
            return name, f"the {kind} {name} is missing."
        if there[name] != (kind, sql):
            return name, f"the {kind} {name} is not as this version makes it."
    for name, (kind, _) in there.items():
        if name not in wanted:
            return name, f"the {kind} {name} does not belong there."
    return None


def scripts_difference(db: sqlite3.Connection, scripts: Collection[str]) -> tuple[str, str] | None:
    """Say where the list of scripts that a file has had is not that of those it must have had."""
    try:
        had = {str(name) for (name,) in db.execute(f"select name from {MIGRATIONS}")}
    except sqlite3.OperationalError:
        return MIGRATIONS, f"the table {MIGRATIONS} is missing or was changed."
    if had == set(scripts):
        return None
    return MIGRATIONS, f"the table {MIGRATIONS} does not list what was done to this file."


SQLITES_OWN = ("sqlite_sequence", "sqlite_stat1", "sqlite_stat4")
"""Tables that SQLite makes for itself."""
MIGRATIONS = "_sqlite_migrations"
QUOTED_OR_COMMENT = re.compile(r"('[^']*'|\"[^\"]*\")|--[^\n]*")


def _schema(db: sqlite3.Connection) -> dict[str, tuple[str, str]]:
    return {
        name: (kind, _bare(sql or ""))
        for kind, name, of, sql in db.execute(
            "select type, name, tbl_name, sql from sqlite_master order by rowid"
        )
        if not (
            (kind == "index" and sql is None)  # of a unique column, made with its table
            or (kind in ("table", "index") and of in (MIGRATIONS, *SQLITES_OWN))
        )
    }


def _bare(sql: str) -> str:
    """A statement without comments and line breaks; what looks like one in a text is none."""
    return " ".join(QUOTED_OR_COMMENT.sub(lambda found: found[1] or "", sql).split())


def table_difference(ours: sqlite3.Connection, made: sqlite3.Connection, table: str) -> str | None:
    """Say where a table of the shop file first differs from what its ledger makes of it."""
    return _Pair(ours, made, table).difference()


class _Pair:
    """One table in both databases, with the same columns."""

    def __init__(self, ours: sqlite3.Connection, made: sqlite3.Connection, table: str) -> None:
        self.ours, self.made, self.table = ours, made, table
        found = made.execute("select name, pk from pragma_table_info(?)", [table]).fetchall()
        self.columns = [str(name) for name, _ in found]
        keys = sorted((pk, at) for at, (_, pk) in enumerate(found) if pk)
        self.keys = [at for _, at in keys]

    def difference(self) -> str | None:
        listed = ", ".join(f'"{one}"' for one in self.columns)
        order = ", ".join(self.columns[at] for at in self.keys)
        query = f'select {listed} from "{self.table}" order by {order}'
        there, wanted = _plain(self.ours, query), _plain(self.made, query)
        while True:
            left: list[Values] = there.fetchmany(BLOCK)
            right: list[Values] = wanted.fetchmany(BLOCK)
            if left != right:
                return self._in_block(left, right)
            if not left:
                return None

    def _in_block(self, left: list[Values], right: list[Values]) -> str:
        one, other = next((a, b) for a, b in zip_longest(left, right) if a != b)
        if one is not None and not self._has(self.made, one):
            return f"row {self._named(one)}: the file has it, the ledger does not."
        if one is None or not self._has(self.ours, other):
            return f"row {self._named(other)}: the ledger has it, the file does not."
        column, a, b = next(
            (name, a, b) for name, a, b in zip(self.columns, one, other, strict=True) if a != b
        )
        says, should = _shown(a, b)
        return (
            f"row {self._named(other)}, column {column}: the file says {says}, the ledger {should}."
        )

    def _has(self, db: sqlite3.Connection, row: Values) -> bool:
        where = " and ".join(f'"{self.columns[at]}" = ?' for at in self.keys)
        found = db.execute(
            f'select 1 from "{self.table}" where {where}', [row[at] for at in self.keys]
        ).fetchone()
        return found is not None

    def _named(self, row: Values) -> str:
        return ", ".join(f"{self.columns[at]} {_words(row[at])}" for at in self.keys)


def _plain(db: sqlite3.Connection, query: str) -> sqlite3.Cursor:
    cursor = db.cursor()
    cursor.row_factory = None
    return cursor.execute(query)


def _shown(one: Value, other: Value) -> tuple[str, str]:
    """Two values, cut to where they first differ."""
    a, b = _words(one), _words(other)
    if max(len(a), len(b)) <= SHOWN:
        return a, b
    pairs = enumerate(zip(a, b, strict=False))
    same = next((n for n, (x, y) in pairs if x != y), min(len(a), len(b)))
    start = max(0, same - SHOWN // 2)
    return _cut(a, start), _cut(b, start)


def _cut(text: str, start: int) -> str:
    end = start + SHOWN
    return f"{'…' if start else ''}{text[start:end]}{'…' if end < len(text) else ''}"


def _words(value: Value) -> str:
    return "nothing" if value is None else str(value).replace("\n", " ")
