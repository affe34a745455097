"""The shop file: opened, read and changed here and nowhere else.

WAL mode, so that readers never wait; `synchronous = full`, so that what was acknowledged outlives a
power cut; one writer connection for each process, kept behind a lock and reopened after an I/O
error; readers open, look and close.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Generator
from contextlib import contextmanager, suppress
from pathlib import Path

from store.file.change import By, Change
from store.file.layout import check_layout
from store.file.trouble import AlreadyRecorded, Busy, NoShop, NotAShop, NotWritten, Unreadable
from store.trouble import Trouble

BUSY_S = 10.0
"""How long a writer waits for another terminal."""


class Shop:
    """One workshop's file.

    Attributes:
        path: where it is.
        proven: PINs proven in this process, by person: the check they were proven against.
    """

    def __init__(self, path: Path) -> None:
        """Open the file; one of an older layout is brought up to date by replaying it.

        Raises:
            NoShop, NotAShop, NewerShop, Unreadable: as they say; nothing was changed.
        """
        self.path = Path(path)
        self.proven: dict[str, str] = {}
        self._lock = threading.RLock()
        self._writer: sqlite3.Connection | None = None
        self._bulk: Change | None = None
        look_at(self.path)
        self._idle = connect(self.path)
        with self._idle_or_trouble():
            check_layout(self._idle, self.path)

    @contextmanager
    def _idle_or_trouble(self) -> Generator[None]:
        try:
            yield
        except sqlite3.Error as error:
            self._idle.close()
            raise as_trouble(error, self.path) from error
        except Trouble:
            self._idle.close()
            raise

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            if self._writer is not None:
                self._writer.close()
                self._writer = None
            self._idle.close()

    @contextmanager
    def reading(self) -> Generator[sqlite3.Connection]:
        """Give a connection that sees one moment of the file, for one look."""
        if self._bulk is not None:
            yield self._bulk.db
            return
        try:
            db = connect(self.path)
        except sqlite3.Error as error:
            raise as_trouble(error, self.path) from error
        try:
            db.execute("begin")
            yield db
        except sqlite3.Error as error:
            raise as_trouble(error, self.path) from error
        finally:
            db.close()

    @contextmanager
    def changing(self, by: By) -> Generator[Change]:
        """Begin the one transaction of an action: all of it is written, or nothing.

        Raises:
            AlreadyRecorded: an act with this key is in the ledger.
            Busy: another terminal kept the file; nothing was written.
            NotWritten: the disk refused; nothing was written.
        """
        with self._lock:
            if self._bulk is not None:
                with self._nested(self._bulk, by) as change:
                    yield change
                return
            db = self._begin()
            try:
                change = Change(db, by)
                yield change
                self._commit(db, by.key)
            except sqlite3.Error as error:
                self._give_up(db, error)
                raise as_trouble(error, self.path) from error
            finally:
                if self._writer is not None and db.in_transaction:
                    db.execute("rollback")

    @contextmanager
    def bulk(self) -> Generator[None]:
        """Put many actions into one transaction, for the demo shop and for imports."""
        with self._lock:
            db = self._begin()
            try:
                self._bulk = Change(db, None)
                yield
                db.execute("commit")
            finally:
                self._bulk = None
                if db.in_transaction:
                    db.execute("rollback")

    @contextmanager
    def beside(self) -> Generator[sqlite3.Connection]:
        """Write what stands outside the ledger: tries of PINs, the demo's clock."""
        with self._lock:
            if self._bulk is not None:
                yield self._bulk.db
                return
            db = self._begin()
            try:
                yield db
                db.execute("commit")
            except sqlite3.Error as error:
                self._give_up(db, error)
                raise as_trouble(error, self.path) from error
            finally:
                if self._writer is not None and db.in_transaction:
                    db.execute("rollback")

    @contextmanager
    def _nested(self, bulk: Change, by: By) -> Generator[Change]:
        bulk.db.execute("savepoint act")
        before = bulk.last
        try:
            change = Change(bulk.db, by, last=bulk.last)
            yield change
            bulk.last = change.last
            bulk.db.execute("release act")
        except BaseException:
            bulk.last = before
            bulk.db.execute("rollback to act")
            bulk.db.execute("release act")
            raise

    def _begin(self) -> sqlite3.Connection:
        try:
            look_at(self.path)
            if self._writer is None or not self._same_file():
                self._reopen()
            assert self._writer is not None
            self._writer.execute("begin immediate")
        except sqlite3.Error as error:
            raise as_trouble(error, self.path) from error
        return self._writer

    def _same_file(self) -> bool:
        return self._inode == self.path.stat().st_ino

    def _reopen(self) -> None:
        if self._writer is not None:
            self._writer.close()
        self._inode = self.path.stat().st_ino
        self._writer = connect(self.path)
        check_layout(self._writer, self.path)

    def _commit(self, db: sqlite3.Connection, key: str) -> None:
        try:
            db.execute("commit")
        except sqlite3.Error as error:
            self._give_up(db, error)
            if not self._is_recorded(key):
                raise as_trouble(error, self.path) from error

    def _is_recorded(self, key: str) -> bool:
        """Tell whether a commit that raised was kept all the same: it can be."""
        try:
            db = connect(self.path)
        except sqlite3.Error:
            return False
        try:
            return bool(db.execute("select 1 from ledger where key = ?", [key]).fetchone())
        except sqlite3.Error:
            return False
        finally:
            db.close()

    def _give_up(self, db: sqlite3.Connection, error: sqlite3.Error) -> None:
        """After an I/O error a connection is not to be trusted: the next change opens anew."""
        if _name(error).startswith(("SQLITE_IOERR", "SQLITE_CORRUPT", "SQLITE_FULL")):
            with suppress(sqlite3.Error):
                db.close()
            self._writer = None


def look_at(path: Path) -> None:
    """Refuse what cannot be a shop file before SQLite touches it.

    Raises:
        NoShop, NotAShop, Unreadable: as they say.
    """
    try:
        if not path.exists():
            raise NoShop(path)
        if path.is_dir():
            raise NotAShop(path)
        with path.open("rb") as file:
            head = file.read(16)
    except OSError as error:
        raise Unreadable(
            path, error.strerror or "cannot be read", "Ask whoever looks after this machine."
        ) from error
    if head != b"SQLite format 3\0":
        raise NotAShop(path)


def connect(path: Path) -> sqlite3.Connection:
    """Open a connection with our settings; nothing is begun."""
    db = sqlite3.connect(path, timeout=BUSY_S, isolation_level=None, check_same_thread=False)
    db.row_factory = sqlite3.Row
    db.execute("pragma foreign_keys = on")
    db.execute("pragma synchronous = full")
    db.execute("pragma journal_size_limit = 4194304")
    return db


def _name(error: sqlite3.Error) -> str:
    return getattr(error, "sqlite_errorname", None) or ""


def as_trouble(error: sqlite3.Error, path: Path) -> Trouble:
    """Say in words what SQLite said in codes; what is our own fault stays an error."""
    name = _name(error)
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return Busy()
    if name.startswith("SQLITE_FULL"):
        return NotWritten("the disk is full", "Make room, then do it again: nothing was lost.")
    if name.startswith("SQLITE_IOERR"):
        return NotWritten(
            "the disk could not be read or written", "Do it again; if it stays, change the disk."
        )
    if name.startswith(("SQLITE_READONLY", "SQLITE_PERM", "SQLITE_CANTOPEN", "SQLITE_AUTH")):
        return Unreadable(
            path, "the file or its folder cannot be written",
            "Give this user write permission on the folder, or choose another --shop FILE.",
        )  # fmt: skip
    if name.startswith(("SQLITE_NOTADB",)):
        return NotAShop(path)
    if name.startswith("SQLITE_CORRUPT"):
        return NotWritten("the file is damaged", "Restore a backup: hoistbook restore FILE.")
    raise error


__all__ = ["AlreadyRecorded", "By", "Change", "Shop", "as_trouble", "connect", "look_at"]
