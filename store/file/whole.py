"""A file written whole or not at all: made beside its place under another name, then put there."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Generator
from contextlib import contextmanager, suppress
from pathlib import Path

COMPANIONS = ("-wal", "-shm", "-journal")
"""Files that SQLite keeps beside a database."""

NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK)
"""What file systems without hard links answer: many a memory stick."""


def companion(path: Path, ending: str) -> Path:
    """Return the name of a file that SQLite keeps beside a database."""
    return path.with_name(path.name + ending)


@contextmanager
def half_made(path: Path) -> Generator[Path]:
    """Give a free name in the same folder; what is left there afterwards is taken away."""
    half = path.with_name(f".{path.name}.{secrets.token_hex(4)}.half")
    try:
        yield half
    finally:
        for one in (half, *(companion(half, ending) for ending in COMPANIONS)):
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

    Raises:
        OSError: the disk refused; what was there is as it was.
    """
    _onto_disk(half)
    half.replace(path)
    _onto_disk(path.parent)


def _refuse_taken(path: Path) -> None:
    if os.path.lexists(path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))


def _claim_and_rename(half: Path, path: Path) -> None:
    path.touch(exist_ok=False)
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
