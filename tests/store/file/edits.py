"""What somebody with an SQLite tool and bad intent, or a failing disk, could do to a shop file."""

from __future__ import annotations

import sqlite3
from collections.abc import Generator
from contextlib import closing, contextmanager
from pathlib import Path

from store.file.ledger import COLUMNS, Row, rehash
from store.file.shop import Shop
from store.file.verify import Verdict, verify

Value = str | int | float | None


@contextmanager
def tampering(path: Path) -> Generator[sqlite3.Connection]:
    """A connection on which no trigger, check or foreign key stands in the way."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        triggers = db.execute(
            "select name, sql from sqlite_master where type = 'trigger'"
        ).fetchall()  # fmt: skip
        db.execute("pragma ignore_check_constraints = on")
        db.execute("pragma foreign_keys = off")
        db.execute("pragma synchronous = off")  # hundreds of these need not outlive a power cut
        db.execute("begin immediate")
        for name, _ in triggers:
            db.execute(f"drop trigger {name}")
        yield db
        for _, sql in triggers:
            db.execute(sql)
        db.execute("commit")


def ledger(db: sqlite3.Connection) -> list[Row]:
    """All rows of the ledger."""
    return [Row(*one) for one in db.execute(f"select {COLUMNS} from ledger order by seq")]


def write(db: sqlite3.Connection, row: Row) -> None:
    """Put a row into the ledger in place of the one with its number."""
    db.execute("delete from ledger where seq = ?", [row.seq])
    db.execute(
        f"insert into ledger ({COLUMNS}) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, row.key, row.happened_at, row.recorded_at, row.badge, row.terminal, row.kind,
         row.payload, row.stepped_back, row.previous, row.hash),
    )  # fmt: skip


def signed(row: Row, **new: str | int) -> Row:
    """The row with other values and the hash that fits them."""
    values: dict[str, str | int] = {**row._asdict(), **new}
    unsigned = Row(**values)  # type: ignore[arg-type]  # names and types are the row's own
    return Row(**{**values, "hash": rehash(unsigned)})  # type: ignore[arg-type]  # as above


def found_wrong(path: Path) -> Verdict:
    """The verdict on a file in which something must be found."""
    verdict = verify(path)
    assert not verdict.ok
    assert verdict.says.isprintable(), ascii(verdict.says)
    return verdict


def write_anew(path: Path, at: int, **new: str | int) -> None:
    """Change an entry, write every hash after it anew, and have all tables follow from it."""
    with tampering(path) as db:
        rows = ledger(db)
        previous = rows[at - 1].previous
        for row in rows[at - 1 :]:
            changes = new if row.seq == at else {}
            made = signed(row, previous=previous, **changes)
            previous = made.hash
            write(db, made)
    replay(path)


def cut_off(path: Path, after: int) -> None:
    """Take away all entries after one, and have all tables follow from what is left."""
    with tampering(path) as db:
        db.execute("delete from ledger where seq > ?", [after])
    replay(path)


def replay(path: Path) -> None:
    """Have the program itself make the tables anew, as it does with a file of an older layout."""
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("pragma user_version = 0")
    db.close()
    Shop(path).close()
