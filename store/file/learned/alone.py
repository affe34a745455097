"""One learner at a time for each shop file, by a lock on a side file that a killed one lets go."""

from __future__ import annotations

import os
import time
from collections.abc import Generator
from contextlib import contextmanager, suppress
from pathlib import Path

from store.file.locks import is_at, lock

POLL_S = 0.05
"""How often whoever must wait asks again."""


def side_file(shop: Path) -> Path:
    """Return the file on which the learner of a shop holds its lock; there only while it works."""
    return shop.with_name(f".{shop.name}.learner")


@contextmanager
def alone(shop: Path, wait_s: float = 0.0) -> Generator[bool]:
    """Be the learner of a shop file; gives False where another one is, after so many seconds.

    Whoever gets False may leave: the other looks once more at the ledger after it has let go.
    """
    held = _take(shop)
    for _ in range(round(wait_s / POLL_S)):
        if held is not None:
            break
        time.sleep(POLL_S)
        held = _take(shop)
    try:
        yield held is not None
    finally:
        if held is not None:
            with suppress(OSError):
                side_file(shop).unlink()  # while the lock is held: nobody else can mean this one
            os.close(held)


def is_somebody_there(shop: Path) -> bool:
    """Tell whether a learner works at a shop file now."""
    if not side_file(shop).exists():
        return False
    with alone(shop) as mine:
        return not mine


def _take(shop: Path) -> int | None:
    """Return the descriptor that holds the lock; None where another holds it or nobody can."""
    side = side_file(shop)
    while True:
        try:
            held = os.open(side, os.O_RDONLY | os.O_CREAT | os.O_CLOEXEC, _mode(shop))
        except OSError:
            return None  # a folder that cannot be written: neither can what was learned
        if lock(held) is False:  # where there are no locks two learners do some work twice, no more
            os.close(held)
            return None
        if is_at(held, side):
            return held
        os.close(held)  # taken away by whoever had it before


def _mode(shop: Path) -> int:
    """Whoever may write the shop file may hold its lock."""
    with suppress(OSError):
        return shop.stat().st_mode & 0o666
    return 0o600
