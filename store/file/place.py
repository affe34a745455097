"""What a folder tells of a shop file without opening it: several looks cost some microseconds."""

from __future__ import annotations

import os
from pathlib import Path
from time import sleep
from typing import NamedTuple

NOWHERE = (0, 0)
"""In the place of device and number of a file that is not there."""
SWAP_TRIES, SWAP_S = 20, 0.01
"""How long a file may be away while another one is put in its place."""


class Look(NamedTuple):
    """What a folder tells of a shop file: another look, and somebody was at it.

    Attributes:
        file: device and number of the file; `log` and `shared` of what SQLite keeps beside it.
        size, changed_ns: move at a checkpoint, and when somebody writes over it.
    """

    file: tuple[int, int]
    size: int
    changed_ns: int
    log: tuple[int, int]
    shared: tuple[int, int]


def look_at_place(path: Path) -> Look:
    """Look at a file and what lies beside it, without opening anything."""
    try:
        found = os.stat(path)  # noqa: PTH116 - before each look at the shop: pathlib takes longer
        file, size, changed = (found.st_dev, found.st_ino), found.st_size, found.st_mtime_ns
    except OSError:
        file, size, changed = NOWHERE, 0, 0
    return Look(file, size, changed, number_of(f"{path}-wal"), number_of(f"{path}-shm"))


def number_of(name: str) -> tuple[int, int]:
    try:
        found = os.stat(name)  # noqa: PTH116 - as above
    except OSError:
        return NOWHERE
    return found.st_dev, found.st_ino


def look_again(path: Path) -> Look:
    """Look at a file that was just gone: whoever restores a backup is about to put it there."""
    for _ in range(SWAP_TRIES):
        found = look_at_place(path)
        if found.file != NOWHERE:
            return found
        sleep(SWAP_S)
    return look_at_place(path)
