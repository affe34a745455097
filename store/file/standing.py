"""Is what stands at the path still the file that was opened? Others copy, move and delete files.

SQLite takes for granted that nobody but SQLite touches its files. A copy laid over an open file is
mixed with the pages that are remembered of it; one that was moved there is read together with the
log of the file before; of a deleted log the entries live as long as the processes that write it.
So before each use the folder is looked at (two or three calls, some microseconds), and what changed
is told from a checkpoint, of which there is one for some hundred acts.

Source of what goes wrong: SQLite, "How To Corrupt An SQLite Database File", sections 1 and 4 (from
memory), and the tests of `tests/faults/places*.py`.
"""

from __future__ import annotations

import ctypes
import sqlite3
import threading
from contextlib import closing, suppress
from pathlib import Path
from typing import NamedTuple, NoReturn

from store.file.change import Last, newest
from store.file.opening import as_trouble, code_of, connect, connect_past_log
from store.file.place import NOWHERE, Look, look_again, look_at_place, number_of
from store.file.readers import Readers
from store.file.trouble import Busy, Gone, Overwritten, put_in_its_place
from store.file.whole import companion, half_made, put_in_place

NOT_TO_TELL = (
    "SQLITE_BUSY", "SQLITE_CANTOPEN", "SQLITE_IOERR", "SQLITE_READONLY", "SQLITE_PERM",
)  # fmt: skip
"""Errors that say nothing of what is in a file."""
BEFORE = ".before-"
"""How what was saved of a file is named that another one took the place of."""


class InFile(NamedTuple):
    """What the file itself holds, without its log.

    Attributes:
        last: its newest entry; of checkpoints it only ever grows.
        roots: pages at which its tables begin: another copy of the same entries has others.
    """

    last: Last = Last()
    roots: tuple[int, ...] = ()


def in_file(path: Path) -> InFile:
    """Look into the file without its log; nothing where that cannot be told."""
    with suppress(sqlite3.Error), closing(connect_past_log(path)) as db:
        return InFile(newest(db), roots_of(db))
    return InFile()


def roots_of(db: sqlite3.Connection) -> tuple[int, ...]:
    """Pages at which tables and indexes begin."""
    return tuple(row[0] for row in db.execute("select rootpage from sqlite_master"))


class Standing:
    """One shop file at its path, as this process knows it."""

    def __init__(self, path: Path, readers: Readers) -> None:
        self._path, self._readers = path, readers
        self._lock = threading.Lock()
        self._seen = look_at_place(path)
        self._in_file = in_file(path)
        self._newest = self._in_file.last
        self._gone = False
        self._told = ""

    def saw(self, newest: Last) -> None:
        """Know the newest entry: what stands there later must hold it too."""
        if newest.seq > self._newest.seq:
            self._newest = newest

    def news(self) -> str:
        """What was found and put right, said once; empty where nothing was."""
        told, self._told = self._told, ""
        return told

    def check(self) -> None:
        """Go on only with the file that was opened, or with another one after saying so.

        Raises:
            Gone, Overwritten, Busy: as they say; nothing was changed.
        """
        if look_at_place(self._path) == self._seen:
            return
        with self._lock:
            found, seen = look_at_place(self._path), self._seen
            if found.file == NOWHERE and not self._gone:
                found = look_again(self._path)
            self._gone = found.file == NOWHERE
            if found.file != seen.file:
                self._other_file(found)
            elif found != seen:
                self._same_file(found)
            self._seen = look_at_place(self._path)

    def _same_file(self, found: Look) -> None:
        if (found.size, found.changed_ns) != (self._seen.size, self._seen.changed_ns):
            self._refuse_written_over(shorter=found.size < self._seen.size)
        lost_log = NOWHERE != self._seen.log != found.log
        if lost_log:
            self._save_log()
        if lost_log or NOWHERE != self._seen.shared != found.shared:
            self._readers.renew()

    def _refuse_written_over(self, *, shorter: bool) -> None:
        """A checkpoint takes nothing away. What it has half done a whole look finds sound."""
        checkpoint = not shorter and self._in_file.last.seq > 0 and self._grew()
        if not checkpoint and not self._is_sound():
            raise Overwritten(self._path)
        self._in_file = in_file(self._path)

    def _grew(self) -> bool:
        with suppress(sqlite3.Error), closing(connect_past_log(self._path)) as db:
            grew = roots_of(db) == self._in_file.roots and holds(db, self._in_file.last)
            if grew:
                with closing(connect(self._path)) as with_log:
                    return holds(with_log, self._newest)
        return False

    def _is_sound(self) -> bool:
        try:
            with closing(connect(self._path)) as db:
                whole = db.execute("select count(*) = max(seq) from ledger").fetchone()[0]
                pages = db.execute("pragma quick_check(1)").fetchone()[0]
                return bool(whole) and pages == "ok" and holds(db, self._newest)
        except sqlite3.Error as error:
            if code_of(error).startswith(NOT_TO_TELL):
                raise as_trouble(error, self._path) from error
            return False

    def _save_log(self) -> None:
        """The log was deleted; who has it open still can bring what is in it into the file."""
        db = self._readers.spare()
        if db is None:
            return
        try:
            busy = db.execute("pragma wal_checkpoint(truncate)").fetchone()[0]
        finally:
            self._readers.put_back(db)
        if busy:
            raise Busy

    # -- another file, or none

    def _other_file(self, found: Look) -> None:
        old = self._readers.spare()
        had = self._known_of(old)
        try:
            if found.file == NOWHERE:
                self._say_gone(old, had)
            self._take_other(found, old, had)
        except BaseException:
            if old is not None:
                self._readers.put_back(old)
            raise
        if old is not None:
            keep_open(old)
        self._readers.renew()
        self._in_file = in_file(self._path)
        self._newest = self._in_file.last

    def _say_gone(self, old: sqlite3.Connection | None, had: Last) -> NoReturn:
        renamed = self._under_another_name()
        if renamed is not None:
            raise Gone(self._path, f": it is called {renamed} now. Give it its name back")
        saved = self._saved(old, had)
        if saved is not None:
            restore = f"hoistbook --shop {self._path} restore {saved}"
            raise Gone(self._path, f". What was confirmed is saved: {restore}")
        raise Gone(self._path, ", and what was confirmed with it: put it and its folder back")

    def _take_other(self, found: Look, old: sqlite3.Connection | None, had: Last) -> None:
        stale = NOWHERE != found.log == self._seen.log
        if stale:  # SQLite would read it into a file that it does not belong to
            for ending in ("-wal", "-shm"):
                companion(self._path, ending).unlink(missing_ok=True)
        has = ends_otherwise(self._path, had)
        if has is not None:
            kept = (None if stale else self._under_another_name()) or self._saved(old, had)
            self._told = put_in_its_place(self._path, has, had.seq, kept)

    def _known_of(self, old: sqlite3.Connection | None) -> Last:
        if old is not None:
            with suppress(sqlite3.Error):
                return newest(old)
        return self._newest

    def _under_another_name(self) -> Path | None:
        with suppress(OSError):
            for one in sorted(self._path.parent.iterdir()):
                if number_of(str(one)) == self._seen.file:
                    return one
        return None

    def _saved(self, old: sqlite3.Connection | None, had: Last) -> Path | None:
        """Write what is still open of the file before beside it, once for all terminals."""
        target = self._path.with_name(f"{self._path.name}{BEFORE}{had.seq}-{had.hash[:8]}")
        if target.exists():
            return target
        if old is None or not had.seq:
            return None
        try:
            with half_made(target) as half:
                old.execute("vacuum into ?", [str(half)])
                put_in_place(half, target)
        except FileExistsError:
            return target  # another terminal was first
        except (OSError, sqlite3.Error):
            return None
        return target


def keep_open(old: sqlite3.Connection) -> None:
    """Never close it: the last one to let go of a file deletes its log by name, and by that name
    there is the log of another file now."""
    ctypes.pythonapi.Py_IncRef(ctypes.py_object(old))


def holds(db: sqlite3.Connection, last: Last) -> bool:
    """Whether an entry is there; that of an empty ledger is."""
    row = db.execute("select hash from ledger where seq = ?", [last.seq]).fetchone()
    return not last.seq or (row is not None and row[0] == last.hash)


def ends_otherwise(path: Path, had: Last) -> int | None:
    """The last entry of the file that stands there now, 0 of none; None where it goes on from
    what was known."""
    try:
        with closing(connect(path)) as db:
            return None if holds(db, had) else newest(db).seq
    except sqlite3.Error:
        return 0
