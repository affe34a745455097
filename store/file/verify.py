"""Is the shop file what its ledger says? The chain checked, the tables made anew and compared."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Generator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from store.edges.events.base import Event
from store.file.chain import Chain, named, read_event, shown
from store.file.comparing import schema_difference, scripts_difference, table_difference
from store.file.layout import LEARNED, STUMBLES, blocks, derived_tables, make_tables
from store.file.ledger import Row
from store.file.migrations import SCRIPTS, run
from store.file.noted import SHOWN, Newest, beginning_of, compare, look_for, newest_of
from store.file.pins import read_secret
from store.file.shop import Shop
from store.file.tables import apply
from store.file.trouble import Damaged
from store.trouble import Trouble


@dataclass(frozen=True, slots=True)
class Verdict:
    """What came of the look.

    Attributes:
        ok: everything agrees.
        events: entries in the ledger.
        seq: the entry at which something is wrong, where it is one.
        table: the table in which something is wrong.
        says: the first thing that is wrong, in words; or how much was looked at.
        last: hash of the last entry; empty where something is wrong before it.
    """

    ok: bool
    events: int
    seq: int | None
    table: str | None
    says: str
    last: str = ""


class _Wrong(Trouble):
    def __init__(self, table: str | None, says: str, seq: int | None = None) -> None:
        self.table, self.seq = table, seq
        super().__init__(says)


def verify(path: Path, *, noted: Sequence[str] = (), against: Path | None = None) -> Verdict:
    """Check a shop file, at one moment of it, while others go on working.

    In this order: its schema; the ledger's chain, each entry valid for its kind; every derived
    table against the ledger replayed; PINs and customers' names against it; the file's pages; and
    what was kept elsewhere, without which a ledger that was written anew as a whole looks right.

    Args:
        noted: hashes of its last entry, or their beginnings, noted at some time.
        against: a backup made at some time.

    Raises:
        NoShop, NotAShop, NewerShop, Unreadable, Busy: it cannot be looked at.
        NoBackup, Refused: nor can what it is to be compared with.
    """
    hashes = [beginning_of(one) for one in noted]
    newest = None if against is None else newest_of(against)
    try:
        shop = Shop(path)
        with closing(shop), shop.reading() as db:
            verdict = _look(db)
            if verdict.ok:
                return _kept(db, verdict, hashes, newest)
            return verdict
    except Damaged as damaged:
        return Verdict(False, 0, None, None, f"The file is damaged: {damaged.why}.")


def _look(db: sqlite3.Connection) -> Verdict:
    events = 0
    try:
        with closing(_made()) as made:
            with _readable("sqlite_master"):
                _check_schema(db, made)
            events = db.execute("select count(*) from ledger").fetchone()[0]
            with _readable("ledger"):
                end = _replay(db, made)
            for table in derived_tables():
                with _readable(table):
                    _check_table(db, made, table)
            with _readable("pin_private"):
                _check_pins(db, made)
            with _readable("customer_private"):
                _check_customers(db, made)
            _check_pages(db)
    except _Wrong as wrong:
        return Verdict(False, events, wrong.seq, wrong.table, str(wrong))
    return Verdict(
        True, events, None, None,
        f"{events:,} entries, each following from the one before, the last with hash "
        f"{end[:SHOWN]}; {len(derived_tables())} tables are as the ledger says.", end,
    )  # fmt: skip


def _kept(
    db: sqlite3.Connection, verdict: Verdict, hashes: Sequence[str], newest: Newest | None
) -> Verdict:
    """The verdict on a file that agrees with itself, after a look at what was kept elsewhere."""
    found = [look_for(db, one) for one in hashes]
    if newest is not None:
        found.append(compare(db, newest))
    for one in found:
        if one.wrong:
            return replace(verdict, ok=False, seq=one.seq, table="ledger", says=one.says)
    return replace(verdict, says=" ".join([verdict.says, *(one.says for one in found)]))


@contextmanager
def _readable(table: str) -> Generator[None]:
    """Text that is no UTF-8 is an edit, not a fault of the disk: it has no code of SQLite's."""
    try:
        yield
    except sqlite3.OperationalError as error:
        if "UTF-8" not in str(error):
            raise
        raise _Wrong(table, f"Table {table} holds text that cannot be read.") from error


def _made() -> sqlite3.Connection:
    """Return an empty database with the tables as this version makes them."""
    made = sqlite3.connect("", isolation_level=None, cached_statements=500)
    made.execute("pragma cache_size = -65536")  # beyond it the copy of a long past goes to disk
    made.row_factory = sqlite3.Row
    made.execute("begin")  # foreign keys are looked at once, in the file itself
    for name in SCRIPTS:
        run(made, name)
    make_tables(made)
    return made


def _check_schema(db: sqlite3.Connection, made: sqlite3.Connection) -> None:
    difference = schema_difference(db, made, may_lack=LEARNED) or scripts_difference(db, SCRIPTS)
    if difference is not None:
        raise _Wrong(difference[0], f"The file's schema was changed: {difference[1]}")


def _replay(db: sqlite3.Connection, made: sqlite3.Connection) -> str:
    """Check the chain and apply each entry to the scratch copy; return the last hash."""
    chain = Chain()
    for block in blocks(db):
        before, fault = chain.seq, None
        for row in block:
            fault = chain.fault(row)
            if fault is not None:
                break
        sound = block[: chain.seq - before]
        for row, event in [(row, _event(row)) for row in sound]:
            _apply(made, row, event)
        if fault is not None:
            raise _Wrong("ledger", f"In the ledger {fault}", block[len(sound)].seq)
    return chain.hash


def _event(row: Row) -> Event:
    event = read_event(row)
    if isinstance(event, str):
        raise _Wrong("ledger", f"In the ledger {event}", row.seq)
    return event


def _apply(made: sqlite3.Connection, row: Row, event: Event) -> None:
    try:
        apply(made, row, event)
    except STUMBLES as error:
        says = (
            f"In the ledger {named(row)} does not fit what came before: {shown(str(error), 200)}."
        )
        raise _Wrong("ledger", says, row.seq) from error


def _check_table(db: sqlite3.Connection, made: sqlite3.Connection, table: str) -> None:
    difference = table_difference(db, made, table)
    if difference is not None:
        raise _Wrong(table, f"Table {table}, {difference}")


def _check_pins(db: sqlite3.Connection, made: sqlite3.Connection) -> None:
    checks = dict(
        tuple(row)
        for row in made.execute("select person, pin_check from person where pin_check is not null")
    )
    for (person,) in db.execute("select person from pin_private order by 1"):
        if person not in checks:
            raise _Wrong(
                "pin_private", f"Table pin_private, row {person}: the ledger knows no PIN."
            )
    for person, check in sorted(checks.items()):
        secret = read_secret(db, person)
        if secret is None:
            raise _Wrong("pin_private", f"Table pin_private, row {person} is missing.")
        if secret.check(person) != check:
            raise _Wrong(
                "pin_private", f"Table pin_private, row {person} is not what the ledger set."
            )


def _check_customers(db: sqlite3.Connection, made: sqlite3.Connection) -> None:
    """Names may go, by an event or as the law asks; none may stay or come without one."""
    erased = dict(tuple(row) for row in made.execute("select customer, erased_at from customer"))
    kept = db.execute(
        "select 'customer_private', customer from customer_private union all "
        "select 'private_word', customer from private_word order by 1, 2"
    )
    for table, customer in kept:
        if customer not in erased:
            raise _Wrong(
                table, f"Table {table}, row {customer}: the ledger knows no such customer."
            )
        if erased[customer] is not None:
            raise _Wrong(
                table, f"Table {table}, row {customer}: the ledger says that it was erased."
            )


def _check_pages(db: sqlite3.Connection) -> None:
    orphan = db.execute("pragma foreign_key_check").fetchone()
    if orphan is not None:
        raise _Wrong(orphan[0], f"Table {orphan[0]} has a row that belongs to nothing.")
    found = db.execute("pragma integrity_check(1)").fetchone()[0]
    if found != "ok":
        value = re.search(r"(?:value|NULL) (?:value )?in (\w+)\.\w+$", found)
        says = f"The file's pages are not sound: {shown(found, 200)}."
        raise _Wrong(value[1] if value else None, says)
