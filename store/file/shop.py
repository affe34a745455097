"""The shop file: opened, read and changed here and nowhere else.

WAL mode, so that readers never wait; `synchronous = full`, so that what was acknowledged outlives a
power cut; one writer connection for each process, kept behind a lock and opened anew after an I/O
error or when another file was put in its place; readers look at one moment and let go of it.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Generator
from contextlib import AbstractContextManager, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from store.file.change import By, Change, Last, newest
from store.file.layout import LAYOUT, check_layout, refuse_foreign
from store.file.memory import forget, remember
from store.file.opening import as_trouble, code_of, connect, look_at, take_write_lock
from store.file.pins import Derived
from store.file.readers import Readers
from store.file.standing import Standing
from store.file.trouble import AlreadyRecorded, Busy, InDoubt
from store.trouble import Trouble

REPLACED_TRIES = 3
"""How often a writer looks again when the file was replaced while it waited."""


@dataclass(slots=True)
class _Bulk:
    """A transaction of many acts, and the newest row in it."""

    db: sqlite3.Connection
    last: Last


class Shop:
    """One workshop's file.

    Attributes:
        path: where it is.
        standing: what stands at the path, looked at before each use.
        proven: PINs proven in this process, by person: the check they were proven against.
        derived: keys derived of PINs typed in this process and not proven yet, by person.
    """

    def __init__(self, path: Path) -> None:
        """Open the file; one of an older layout is brought up to date by replaying it.

        Raises:
            NoShop, NotAShop, NewerShop, Unreadable, Damaged: as they say; nothing was changed.
        """
        self.path = Path(path)
        self.proven: dict[str, str] = {}
        self.derived: dict[str, Derived] = {}
        self._lock = threading.RLock()
        self._writer: sqlite3.Connection | None = None
        self._file: tuple[int, ...] = ()
        self._bulk: _Bulk | None = None
        self._bulk_thread, self._bulk_key = 0, ""
        look_at(self.path)
        self._readers = Readers(self.path, self._open)
        self.standing = Standing(self.path, self._readers)

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._drop_writer()
            self._readers.close()

    @contextmanager
    def reading(self) -> Generator[sqlite3.Connection]:
        """Give a connection that sees one moment of the file, for one look.

        Raises:
            NoShop, NewerShop, Unreadable, Damaged, Busy: as they say.
        """
        bulk = self._own_bulk()
        if bulk is not None:
            yield bulk.db
            return
        self.standing.check()
        db = self._readers.take()
        try:
            self._begin_look(db)
            yield db
            db.execute("rollback")
        except BaseException as error:
            self._readers.drop(db)
            if isinstance(error, sqlite3.Error):
                raise as_trouble(error, self.path) from error
            raise
        self._readers.give_back(db)

    def _begin_look(self, db: sqlite3.Connection) -> None:
        db.execute("begin")
        if refuse_foreign(db, self.path) < LAYOUT:  # an older one was put in its place
            db.execute("rollback")
            check_layout(db, self.path)
            db.execute("begin")

    def changing(self, by: By) -> AbstractContextManager[Change]:
        """Begin the one transaction of an action: all of it is written, or nothing.

        Raises:
            AlreadyRecorded: an act with this key is in the ledger.
            Busy: another terminal kept the file; nothing was written.
            NotWritten, Unreadable, Damaged: the disk refused; nothing was written.
            InDoubt: the disk failed so that nobody can tell.
        """
        bulk = self._own_bulk()
        return self._alone(by) if bulk is None else self._nested(bulk, by)

    def _own_bulk(self) -> _Bulk | None:
        """The bulk that this thread is in."""
        return self._bulk if self._bulk_thread == threading.get_ident() else None

    @contextmanager
    def _alone(self, by: By) -> Generator[Change]:
        with self._lock, self._transaction(lambda: by.key) as db:
            change = Change(db, by)
            yield change
        self.standing.saw(change.last)

    @contextmanager
    def bulk(self) -> Generator[None]:
        """Put many actions into one transaction, for the demo shop and for imports.

        Raises:
            Busy, NotWritten, Unreadable, Damaged, InDoubt: as for `changing`.
        """
        with self._lock, self._transaction(lambda: self._bulk_key) as db:
            bulk = _Bulk(db, newest(db))
            db.execute("pragma cache_size = -65536")
            self._bulk, self._bulk_thread = bulk, threading.get_ident()
            try:
                yield
            finally:
                self._bulk, self._bulk_key = None, bulk.last.key
                db.execute("pragma cache_size = -2000")
        self.standing.saw(bulk.last)

    @contextmanager
    def beside(self) -> Generator[sqlite3.Connection]:
        """Write what stands outside the ledger: tries of PINs, the demo's clock."""
        with self._lock:
            if self._bulk is not None:
                yield self._bulk.db
                return
            with self._transaction(None) as db:
                yield db

    def settle(self) -> bool:
        """Move what the side file holds into the file, and empty it: what was deleted is gone.

        Returns:
            Whether nothing is left in it; somebody who looks at the file just now keeps it.

        Raises:
            Unreadable, Damaged: as they say.
        """
        with self._lock:
            if self._bulk is not None:
                return False
            try:
                db = self._open_writer()
                return int(db.execute("pragma wal_checkpoint(truncate)").fetchone()[0]) == 0
            except sqlite3.Error as error:
                self._give_up(error)
                raise as_trouble(error, self.path) from error

    @contextmanager
    def _nested(self, bulk: _Bulk, by: By) -> Generator[Change]:
        db, before = bulk.db, bulk.last
        db.execute("savepoint act")
        try:
            change = Change(db, by, last=before)
            yield change
            db.execute("release act")
            bulk.last = change.last
        except BaseException:
            forget(db)
            if db.in_transaction:  # a full disk has rolled back all of it already
                db.execute("rollback to act")
                db.execute("release act")
            raise

    @contextmanager
    def _transaction(self, key: Callable[[], str] | None) -> Generator[sqlite3.Connection]:
        """Take the lock before the first read, and write all of it or nothing.

        Args:
            key: gives the key of an event of it, by which to tell whether a commit that raised was
                kept all the same.
        """
        db = self._begin()
        remember(db)
        try:
            yield db
            self._commit(db, key)
        except sqlite3.Error as error:
            self._give_up(error)
            raise as_trouble(error, self.path) from error
        finally:
            remember(db, on=False)
            self._roll_back(db)

    def _begin(self) -> sqlite3.Connection:
        try:
            for _ in range(REPLACED_TRIES):
                db = self._open_writer()
                take_write_lock(db)
                layout = db.execute("pragma user_version").fetchone()[0]
                if layout == LAYOUT and self._file == self._readers.number():
                    return db
                self._drop_writer()  # replaced, or of another layout, since it was opened
        except sqlite3.Error as error:
            self._give_up(error)
            raise as_trouble(error, self.path) from error
        raise Busy

    def _open_writer(self) -> sqlite3.Connection:
        self.standing.check()
        number = self._readers.number()
        if self._writer is not None and self._file == number:
            return self._writer
        self._drop_writer()
        look_at(self.path)
        db = self._open()
        try:
            db.execute("pragma journal_mode = wal")  # a backup copied by hand has another
            db.execute("pragma temp_store = memory")  # what an act of a bulk may have to give back
        except BaseException:
            db.close()
            raise
        self._writer, self._file = db, number
        return db

    def _open(self) -> sqlite3.Connection:
        try:
            db = connect(self.path)
        except sqlite3.Error as error:
            raise as_trouble(error, self.path) from error
        try:
            if refuse_foreign(db, self.path) < LAYOUT:
                check_layout(db, self.path)
        except sqlite3.Error as error:
            db.close()
            raise as_trouble(error, self.path) from error
        except Trouble:
            db.close()
            raise
        return db

    def _commit(self, db: sqlite3.Connection, key: Callable[[], str] | None) -> None:
        try:
            db.execute("commit")
        except sqlite3.Error as error:
            self._drop_writer()
            if key is None or not self._is_recorded(key(), error):
                raise

    def _is_recorded(self, key: str, error: sqlite3.Error) -> bool:
        """Tell whether a commit that raised was kept all the same: it can be."""
        try:
            db = connect(self.path)
            try:
                return bool(db.execute("select 1 from ledger where key = ?", [key]).fetchone())
            finally:
                db.close()
        except sqlite3.Error:
            raise InDoubt from error

    def _roll_back(self, db: sqlite3.Connection) -> None:
        if self._writer is db and db.in_transaction:
            try:
                db.execute("rollback")
            except sqlite3.Error:
                self._drop_writer()

    def _give_up(self, error: sqlite3.Error) -> None:
        """After an I/O error a connection is not to be trusted: the next change opens anew."""
        if not code_of(error).startswith(("SQLITE_BUSY", "SQLITE_CONSTRAINT", "SQLITE_ERROR")):
            self._drop_writer()

    def _drop_writer(self) -> None:
        if self._writer is not None:
            with suppress(sqlite3.Error):
                self._writer.close()
            self._writer = None


__all__ = ["AlreadyRecorded", "By", "Change", "Shop", "as_trouble", "connect", "look_at"]
