"""Single edits of what follows from the ledger, and of what holds it, made at random."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from random import Random

from store.file.layout import derived_tables
from tests.faults.tampering_loose import Edit, Edited, untyped
from tests.faults.tampering_values import Value, another
from tests.store.file.edits import tampering

PRIVATE = ("pin_private",)


def a_value_elsewhere(path: Path, dice: Random) -> Edited:
    """Another value in any column of any row of a derived table, or of the PINs."""
    table = dice.choice((*derived_tables(), *PRIVATE))
    with tampering(path) as db:
        columns, row = _some_row(db, table, dice)
        at = dice.randrange(len(columns))
        new = another(dice, row[at])
        done = db.execute(
            f"update {table} set {columns[at]} = ? where {_same(columns)}", [new, *row]
        ).rowcount
        assert done == 1
    return Edited(table, f"{table}.{columns[at]}: {row[at]!r} is {new!r}")


def a_value_of_another_type_elsewhere(path: Path, dice: Random) -> Edited:
    """A value of a type that the table does not take; the pages tell, if nothing before."""
    table = dice.choice((*derived_tables(), *PRIVATE))
    with untyped(path, table) as db:
        columns, row = _some_row(db, table, dice)
        at = dice.randrange(len(columns))
        new = dice.choice((b"5", b"\xff", str(row[at]).encode()))
        db.execute(f"update {table} set {columns[at]} = ? where {_same(columns)}", [new, *row])
    return Edited(table, f"{table}.{columns[at]}: {row[at]!r} is {new!r}")


def a_row_gone_elsewhere(path: Path, dice: Random) -> Edited:
    """A row taken out of a derived table."""
    table = dice.choice((*derived_tables(), *PRIVATE))
    with tampering(path) as db:
        columns, row = _some_row(db, table, dice)
        assert db.execute(f"delete from {table} where {_same(columns)}", row).rowcount == 1
    return Edited(table, f"{table}: {row!r} gone")


def a_row_more_elsewhere(path: Path, dice: Random) -> Edited:
    """A row put into a derived table, like one that is there."""
    table = dice.choice((*derived_tables(), *PRIVATE))
    with tampering(path) as db:
        columns, row = _some_row(db, table, dice)
        keys = _keys(db, table)
        new = [another(dice, one) if name in keys else one
               for name, one in zip(columns, row, strict=True)]  # fmt: skip
        db.execute(f"insert into {table} values ({', '.join('?' * len(new))})", new)
    return Edited(table, f"{table}: {new!r} more")


def _some_row(
    db: sqlite3.Connection, table: str, dice: Random
) -> tuple[list[str], tuple[Value, ...]]:
    found = db.execute(f"select * from {table}")
    columns = [str(one[0]) for one in found.description]
    return columns, dice.choice(found.fetchall())


def _keys(db: sqlite3.Connection, table: str) -> set[str]:
    return {
        str(name)
        for (name,) in db.execute("select name from pragma_table_info(?) where pk", [table])
    }


def _same(columns: list[str]) -> str:
    return " and ".join(f"{one} is ?" for one in columns)


def the_schema(path: Path, dice: Random) -> Edited:
    """A trigger, index, table or view dropped, added or written otherwise."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("pragma foreign_keys = off")
        sql = _of_schema(db, dice)
        db.execute(sql)
    return Edited("", sql)


def _of_schema(db: sqlite3.Connection, dice: Random) -> str:
    named = db.execute(
        "select type, name from sqlite_master where type in ('trigger', 'index') "
        "and sql is not null and name not like '%migrations%'"
    ).fetchall()  # fmt: skip
    table = dice.choice((*derived_tables(), "ledger", "pin_private", "customer_private"))
    column = dice.choice(db.execute("select name from pragma_table_info(?)", [table]).fetchall())[0]
    return dice.choice((
        "drop {} {}".format(*dice.choice(named)),
        f"drop table {table}",
        f"alter table {table} add column more text",
        f"alter table {table} rename column {column} to other",
        f"create view v as select * from {table}",
        f"create index i on {table} ({column})",
        f"create trigger t after insert on {table} begin delete from {table}; end",
        f"create table t as select * from {table}",
    ))  # fmt: skip


DERIVED_EDITS: tuple[Edit, ...] = (
    a_value_elsewhere, a_value_elsewhere, a_value_elsewhere, a_value_of_another_type_elsewhere,
    a_row_gone_elsewhere, a_row_more_elsewhere,
)  # fmt: skip
