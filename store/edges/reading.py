"""Files that somebody names to be read: whatever they turn out to be, nobody waits for them."""

from __future__ import annotations

import os
from pathlib import Path
from typing import BinaryIO


def opened_to_read(path: Path) -> BinaryIO:
    """Open a file; a pipe that nobody writes into is empty, and is not waited for.

    Raises:
        OSError, ValueError: it is not there, is a folder, or cannot be read.
    """
    number = os.open(path, os.O_RDONLY | os.O_CLOEXEC | os.O_NONBLOCK)
    try:
        os.set_blocking(number, True)
        return os.fdopen(number, "rb")
    except BaseException:
        os.close(number)
        raise
