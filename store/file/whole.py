"""A file written whole or not at all: made beside its place under another name, then put there.

What is made here is its owner's alone, whatever the umask says: a shop file holds telephone
numbers and PINs, a report holds who earned what. Whoever means to share a file opens it once:
what is written over it keeps that.
"""

from __future__ import annotations

import errno
import os
import re
import secrets
import stat
from collections.abc import Generator
from contextlib import contextmanager, suppress
from pathlib import Path

from store.file.locks import is_at, lock

COMPANIONS = ("-wal", "-shm", "-journal")
"""Files that SQLite keeps beside a database."""

LEFT = re.compile(r"\..+\.[0-9a-f]{8}\.half", re.DOTALL)
"""How a file is named while it is made."""

OWN_FILE, OWN_FOLDER = 0o600, 0o700
"""Modes of what only its owner can reach."""

NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK)
"""What file systems without hard links answer: many a memory stick."""


def companion(path: Path, ending: str) -> Path:
    """Return the name of a file that SQLite keeps beside a database."""
    return path.with_name(path.name + ending)


def make_folder(path: Path) -> None:
    """Make a folder where there is none, and those above it that lack; a power cut leaves them.

    Raises:
        OSError: it cannot be there.
    """
    for one in (*reversed(path.parents), path):
        if not one.is_dir():
            one.mkdir(OWN_FOLDER, exist_ok=True)
            with suppress(PermissionError):  # may be entered and not read: /home here and there
                _onto_disk(one.parent)


@contextmanager
def half_made(path: Path) -> Generator[Path]:
    """Give an empty file in the same folder, with a name of its own for as long as it is made.

    What is left of it afterwards is taken away. Whoever is killed meanwhile leaves it behind, a
    whole copy of a shop it may be: whoever makes the next file in that folder takes it away.

    Raises:
        OSError: nothing can be made in that folder.
    """
    _take_away_left(path.parent)
    half, held = _begun(path)
    try:
        yield half
    finally:
        _take_away(half)
        os.close(held)


def _begun(path: Path) -> tuple[Path, int]:
    """Make a half file and hold its lock, by which others see that somebody still makes it."""
    while True:
        half = path.with_name(f".{path.name}.{secrets.token_hex(4)}.half")
        held = os.open(half, os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, OWN_FILE)
        if lock(held) is not False and is_at(held, half):
            return half, held
        os.close(held)  # somebody took it for one that was left, in the moment before the lock


def _take_away_left(folder: Path) -> None:
    """Take away what a killed process left half made; what nobody can tell stays."""
    with suppress(OSError):
        for left in [one for one in folder.iterdir() if LEFT.fullmatch(one.name)]:
            with suppress(OSError):
                if left.lstat().st_nlink > 1 or _is_left(left):
                    _take_away(left)


def _is_left(half: Path) -> bool:
    """Nobody holds its lock.

    Not to be asked of one that has its own name already, and this one still: that is a shop at
    work perhaps, and to close a descriptor of it drops what this process has locked of it.
    """
    held = os.open(half, os.O_RDWR | os.O_NOFOLLOW | os.O_CLOEXEC)
    try:
        return lock(held) is True
    finally:
        os.close(held)


def _take_away(half: Path) -> None:
    for one in (*(companion(half, ending) for ending in COMPANIONS), half):
        with suppress(OSError):
            one.unlink(missing_ok=True)


def put_in_place(half: Path, path: Path) -> None:
    """Give a finished file its name, if nothing has that name.

    Raises:
        FileExistsError: something is there; it was left as it is.
        OSError: the disk refused; nothing is there.
    """
    _onto_disk(half)
    _refuse_taken(path)
    for ending in COMPANIONS[:2]:  # of a file deleted by hand: SQLite would read them into ours
        companion(path, ending).unlink(missing_ok=True)
    try:
        os.link(half, path)
    except OSError as error:
        if error.errno not in NO_LINKS:
            raise
        _claim_and_rename(half, path)
    _onto_disk(path.parent)


def put_over(half: Path, path: Path) -> None:
    """Give a finished file its name; what had that name gives way in one step.

    Whoever could read what was there can read what is there now.

    Raises:
        OSError: the disk refused; what was there is as it was.
    """
    with suppress(FileNotFoundError):
        half.chmod(stat.S_IMODE(path.stat().st_mode))
    _onto_disk(half)
    half.replace(path)
    _onto_disk(path.parent)


def _refuse_taken(path: Path) -> None:
    if os.path.lexists(path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))


def _claim_and_rename(half: Path, path: Path) -> None:
    path.touch(OWN_FILE, exist_ok=False)
    try:
        half.replace(path)
    except OSError:
        path.unlink()
        raise


def _onto_disk(path: Path) -> None:
    """Ask for a file, or a folder's list of names, to outlive a power cut."""
    number = os.open(path, os.O_RDONLY)
    try:
        os.fsync(number)
    except OSError as error:
        if error.errno not in (errno.EINVAL, errno.ENOTSUP):  # no such thing for folders there
            raise
    finally:
        os.close(number)
