"""A lock on a file that its holder's death lets go: it tells a file in use from one left behind."""

from __future__ import annotations

import errno
import fcntl
import os
from pathlib import Path

NO_LOCKS = (errno.ENOLCK, errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOTSUP, errno.EINVAL)
"""What file systems without locks answer."""


def lock(held: int) -> bool | None:
    """Take the lock of an open file without waiting.

    Returns:
        False where another one has it, None where this file system knows no locks.
    """
    try:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return None if error.errno in NO_LOCKS else False
    return True


def is_at(held: int, path: Path) -> bool:
    """Tell whether an open file still has that name."""
    try:
        there = path.lstat()
    except OSError:
        return False
    mine = os.fstat(held)
    return (mine.st_dev, mine.st_ino) == (there.st_dev, there.st_ino)
