"""A connection to a shop file, and what SQLite says of one in codes put into words."""

from __future__ import annotations

import os
import random
import sqlite3
import time
from contextlib import suppress
from pathlib import Path

from store.file.memory import Connection
from store.file.trouble import Busy, Damaged, MovedAside, NoShop, NotAShop, NotWritten, Unreadable
from store.trouble import Trouble

BUSY_S = 10.0
"""How long a writer waits for another terminal."""

LOOK_AGAIN_S = 0.002
"""How long it waits before it looks again whether the file is free, on average."""

ASIDE = ".replaced-"
"""How a shop file is named, with a number after it, that gave way to a backup."""

MAGIC = b"SQLite format 3\0"
"""How every database begins."""


def look_at(path: Path) -> None:
    """Refuse what cannot be a shop file before SQLite touches it.

    The file is not opened here: to close any descriptor of it would drop, by the rules of POSIX
    locks, every lock that this process holds on it through SQLite, and another process could then
    throw the write-ahead log away under us. What the file holds SQLite finds out.

    Raises:
        NoShop, NotAShop, Unreadable: as they say.
    """
    try:
        if not path.exists():
            raise no_shop(path)
        if not path.is_file() or path.stat().st_size == 0:
            raise NotAShop(path)
        readable = os.access(path, os.R_OK)
    except OSError as error:
        raise Unreadable(
            path, error.strerror or "cannot be read", "Ask whoever looks after this machine."
        ) from error
    if not readable:
        raise Unreadable(path, "cannot be read", "Ask whoever looks after this machine.")


def no_shop(path: Path) -> NoShop:
    """Say that nothing is there, or that a restore was cut short between two names."""
    aside = moved_aside(path)
    return NoShop(path) if aside is None else MovedAside(path, aside)


def moved_aside(path: Path) -> Path | None:
    """Return the shop file that last gave way to a backup, where one lies beside that place."""
    begins = f"{path.name}{ASIDE}"
    with suppress(OSError):
        found = [one for one in path.parent.iterdir() if one.name.startswith(begins)]
        numbered = [one for one in found if one.name.removeprefix(begins).isdecimal()]
        return max(numbered, key=lambda one: int(one.name.removeprefix(begins)), default=None)
    return None


def connect(path: Path, mode: str = "rw") -> sqlite3.Connection:
    """Open a connection with our settings; nothing is begun.

    Args:
        mode: `rw` never makes a file where there is none, `rwc` does, `ro` only reads.
    """
    db = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True, timeout=BUSY_S, isolation_level=None, check_same_thread=False,
        factory=Connection,
    )  # fmt: skip
    try:
        db.row_factory = sqlite3.Row
        db.execute("pragma foreign_keys = on")
        db.execute("pragma synchronous = full")
        db.execute("pragma journal_size_limit = 4194304")
    except BaseException as error:
        db.close()
        if isinstance(error, UnicodeDecodeError):  # SQLite's message quotes a schema that is none
            raise Damaged(path, "its schema cannot be read") from error
        raise
    return db


def connect_past_log(path: Path) -> sqlite3.Connection:
    """Open the file itself, as if it had no log, only to look: it takes no lock and waits for none.

    What it reads may be half of a checkpoint. Closing it drops no lock of this process: SQLite
    keeps descriptors open as long as another connection has a lock on the same file.
    """
    return sqlite3.connect(
        f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True, isolation_level=None,
        check_same_thread=False,
    )  # fmt: skip


def take_write_lock(db: sqlite3.Connection) -> None:
    """Begin a transaction that writes, when nobody else is in one.

    SQLite waits by sleeping longer and longer, up to 100 ms: whoever has waited long looks least
    often, and others go past him. Here everybody looks equally often, at uneven times. With 30
    terminals that write without a pause the longest wait of 99 in 100 was a fifth of SQLite's.

    Raises:
        sqlite3.Error: the file is locked, still after `BUSY_S`; or as the disk says.
    """
    db.execute("pragma busy_timeout = 0")
    try:
        for _ in range(int(BUSY_S / LOOK_AGAIN_S)):
            try:
                db.execute("begin immediate")
                return
            except sqlite3.OperationalError as error:
                if not code_of(error).startswith("SQLITE_BUSY"):
                    raise
            time.sleep(random.uniform(0.5, 1.5) * LOOK_AGAIN_S)
        db.execute("begin immediate")
    finally:
        db.execute(f"pragma busy_timeout = {int(1000 * BUSY_S)}")


def file_number(path: Path) -> tuple[int, int]:
    """Return what tells a file from another one put in its place; zeros where there is none."""
    try:
        found = os.stat(path)  # noqa: PTH116 - twice for each change: pathlib takes as long again
    except OSError:
        return 0, 0
    return found.st_dev, found.st_ino


def code_of(error: sqlite3.Error) -> str:
    """Return SQLite's name of an error; empty for one that Python raised by itself."""
    return getattr(error, "sqlite_errorname", None) or ""


def as_trouble(error: sqlite3.Error, path: Path) -> Trouble:
    """Say in words what SQLite said in codes; what is our own fault stays an error."""
    code = code_of(error)
    if code.startswith(("SQLITE_BUSY", "SQLITE_LOCKED", "SQLITE_PROTOCOL")):
        return Busy()
    if code.startswith("SQLITE_FULL"):
        return NotWritten("the disk is full", "Make room, then do it again: nothing was lost.")
    if code.startswith("SQLITE_IOERR"):
        return NotWritten(
            "the disk could not be read or written", "Do it again; if it stays, change the disk."
        )
    if code.startswith("SQLITE_CANTOPEN") and not path.exists():
        return no_shop(path)
    if code.startswith(("SQLITE_READONLY", "SQLITE_PERM", "SQLITE_CANTOPEN", "SQLITE_AUTH")):
        return Unreadable(
            path, "the file, its folder or its disk cannot be written",
            "Give this user write permission on the folder, or choose another --shop FILE.",
        )  # fmt: skip
    if code.startswith("SQLITE_NOTADB"):
        return NotAShop(path)
    if code.startswith("SQLITE_CORRUPT"):
        return Damaged(path, "the file, or its disk, cannot be read to its end")
    raise error
