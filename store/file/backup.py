"""A safe copy while the shop is in use, and the way back from one."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Generator
from contextlib import ExitStack, closing, contextmanager, suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from store.file.layout import refuse_foreign
from store.file.opening import ASIDE, MAGIC, as_trouble, code_of, connect, look_at
from store.file.shop import Shop
from store.file.trouble import (
    AlreadyThere,
    Busy,
    NoBackup,
    NoShop,
    NotAShop,
    NotProven,
    Unreadable,
)
from store.file.verify import Verdict, verify
from store.file.whole import OWN_FILE, companion, half_made, make_folder, put_in_place
from store.trouble import Trouble

EMPTIED_TRIES = 20
"""How often a file's log is emptied before somebody writes to it again."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore did. `kept`: where the file that it replaced lies now."""

    verdict: Verdict
    kept: Path | None


def backup(shop: Shop, target: Path) -> Verdict:
    """Copy the shop file, as it is at one moment, while others go on working.

    Returns:
        What verifying the copy said: it is ok.

    Raises:
        AlreadyThere: the target exists.
        NotProven: the copy does not agree with its ledger, because the shop file does not.
        NoShop, Damaged, Unreadable, NotWritten: file, folder or disk refused.
            In every case nothing new is at the target.
    """
    taken = AlreadyThere(target, "Give another name for the backup.")
    with _words(target, taken):
        look_at(shop.path)
        if target.exists():
            raise taken
        if not target.parent.is_dir():
            raise _unwritable(target, "there is no such folder")
        with half_made(target) as half:
            _copy(shop.path, half)
            verdict = _proven(half, shop.path, "Look at it with `hoistbook verify`.")
            put_in_place(half, target)
    return verdict


def restore(source: Path, target: Path, *, replace: bool = False) -> Restored:
    """Put a backup in the shop file's place, once it has proven to agree with its own ledger.

    Args:
        replace: a shop file that is there gives way; it is kept beside under another name.

    Raises:
        NoBackup: the source is not there, no shop file, or the target itself.
        NewerShop: it was written by a later version.
        AlreadyThere: the target exists and `replace` was not said.
        NotAShop: what stands at the target is something else, which is never replaced.
        NotProven, Damaged: the source does not agree with its own ledger.
        Busy: another terminal kept the target.
        Unreadable, NotWritten: folder or disk refused. In every case the target is as it was.
    """
    _refuse_source(source)
    taken = AlreadyThere(
        target, "Say --replace to put the backup in its place: the old file is kept beside it."
    )
    with _words(target, taken):
        there = target.exists()
        if there:
            _refuse_target(source, target, taken, replace=replace)
        make_folder(target.parent)
        with half_made(target) as half:
            _copy(source, half)
            verdict = _proven(half, source, "Nothing was restored: take an earlier backup.")
            _in_wal_mode(half)
            if there:
                return Restored(verdict, _swap(half, target))
            put_in_place(half, target)
            return Restored(verdict, None)


def _refuse_target(source: Path, target: Path, taken: AlreadyThere, *, replace: bool) -> None:
    if target.samefile(source):
        raise NoBackup(source, "is the shop file itself")
    if not replace:
        raise taken
    look_at(target)
    # whoever restores has no connection to the target yet, whose locks this would drop
    with target.open("rb") as file:
        if file.read(len(MAGIC)) != MAGIC:
            raise NotAShop(target)


@contextmanager
def _words(path: Path, taken: AlreadyThere) -> Generator[None]:
    try:
        yield
    except FileExistsError as error:
        raise taken from error
    except OSError as error:
        raise _unwritable(path, error.strerror or "cannot be written") from error
    except sqlite3.Error as error:
        if code_of(error).startswith(("SQLITE_CANTOPEN", "SQLITE_READONLY", "SQLITE_PERM")):
            raise _unwritable(path, "cannot be written there") from error
        raise as_trouble(error, path) from error


def _unwritable(path: Path, why: str) -> Unreadable:
    return Unreadable(path, why, "Nothing was changed: choose another place.")


def _refuse_source(source: Path) -> None:
    try:
        look_at(source)
        with closing(connect(source, "ro")) as db:
            refuse_foreign(db, source)
    except NoShop as error:
        raise NoBackup(source, "is not there") from error
    except NotAShop as error:
        raise NoBackup(source, "is not a shop file") from error
    except sqlite3.Error as error:
        raise _of_source(error, source) from error


def _of_source(error: sqlite3.Error, source: Path) -> Trouble:
    code = code_of(error)
    if code.startswith("SQLITE_NOTADB"):
        return NoBackup(source, "is not a shop file")
    if code.startswith(("SQLITE_CANTOPEN", "SQLITE_READONLY")):
        return Unreadable(source, "it cannot be read where it lies", "Copy it to another folder.")
    return as_trouble(error, source)


def _copy(source: Path, half: Path) -> None:
    with closing(connect(source, "ro")) as db:
        try:
            db.execute("vacuum into ?", [str(half)])
        except sqlite3.DatabaseError as error:
            if code_of(error).startswith("SQLITE_CORRUPT"):
                raise _of_source(error, source) from error
            raise


def _proven(half: Path, named: Path, remedy: str) -> Verdict:
    verdict = verify(half)
    if not verdict.ok:
        raise NotProven(named, verdict.says, remedy)
    return verdict


def _in_wal_mode(half: Path) -> None:
    with closing(connect(half)) as db:
        db.execute("pragma journal_mode = wal")


def _swap(half: Path, target: Path) -> Path:
    """Move the old file aside and put the new one there, while nobody can write the old one.

    A writer that waits for the lock sees, once it has it, that the file is another one by now.
    """
    with _locked(target):
        kept = _free_name(target)
        target.rename(kept)
        moved = [(kept, target)]
        try:
            _for_the_same_people(half, kept)
            wal = companion(target, "-wal")
            if wal.exists():
                wal.rename(companion(kept, "-wal"))
                moved.append((companion(kept, "-wal"), wal))
            companion(target, "-shm").unlink(missing_ok=True)
            put_in_place(half, target)
        except OSError:
            for there, back in reversed(moved):
                if not back.exists():
                    there.rename(back)
            raise
    return kept


def _for_the_same_people(half: Path, kept: Path) -> None:
    """Give the new file the old one's owner and group; what anybody else could do ends."""
    was = kept.stat()
    with suppress(PermissionError):  # an owner gives nothing away, only the administrator
        os.chown(half, was.st_uid, was.st_gid)
    theirs = was.st_mode & 0o060 if half.stat().st_gid == was.st_gid else 0
    half.chmod(OWN_FILE | theirs)


@contextmanager
def _locked(target: Path) -> Generator[None]:
    """Hold the write lock of a file; of one that is torn there is none to hold."""
    with ExitStack() as held:
        try:
            db = held.enter_context(closing(connect(target)))
            refuse_foreign(db, target)
            _all_in_one_file(db, target)
        except sqlite3.DatabaseError as error:
            if not code_of(error).startswith("SQLITE_CORRUPT"):
                raise
        yield


def _all_in_one_file(db: sqlite3.Connection, target: Path) -> None:
    """Lock a file of which nothing is in its log: whoever is killed between two names loses none.

    Raises:
        Busy: somebody looks at it all the time, or writes.
    """
    for _ in range(EMPTIED_TRIES):
        if db.execute("pragma wal_checkpoint(truncate)").fetchone()[0]:
            break
        db.execute("begin immediate")
        log = companion(target, "-wal")
        if not log.exists() or log.stat().st_size == 0:
            return
        db.execute("rollback")  # somebody wrote in between
    raise Busy


def _free_name(target: Path) -> Path:
    return next(
        name
        for name in (target.with_name(f"{target.name}{ASIDE}{n}") for n in count(1))
        if not name.exists()
    )
