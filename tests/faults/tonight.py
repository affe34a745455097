"""`hoistbook` in a bad night: on a machine whose clock is wrong, or as a newer program.

Read from the environment: NIGHT_AHEAD names a file with the seconds by which the clock is ahead,
NIGHT_NEWER says by how many layouts the program is newer, NIGHT_STOPS lets it bring a file up to
date as far as its ledger is replayed, say so, and wait there for the power to go.
"""

from __future__ import annotations

import os
import sqlite3
import sys
import time
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from store.file import layout
from store.file import shop as shop_module
from tui import now as now_module
from tui.__main__ import main

REPLAYED = "all of it is replayed, nothing is committed"


def _wrong_clock(seconds: Path) -> None:
    right = now_module.machine_now

    def ahead() -> datetime:
        with suppress(OSError, ValueError):
            return right() + timedelta(seconds=float(seconds.read_text("ascii")))
        return right()

    now_module.machine_now = ahead


def _newer(by: int) -> None:
    layout.LAYOUT += by
    setattr(shop_module, "LAYOUT", layout.LAYOUT)  # noqa: B010 - it is not exported there


def _stopping() -> None:
    replay = layout.replay

    def replayed(db: sqlite3.Connection, path: Path) -> None:
        replay(db, path)
        print(REPLAYED, flush=True)
        while True:
            time.sleep(60)

    layout.replay = replayed


if __name__ == "__main__":
    if wrong := os.environ.get("NIGHT_AHEAD"):
        _wrong_clock(Path(wrong))
    _newer(int(os.environ.get("NIGHT_NEWER", "0")))
    if os.environ.get("NIGHT_STOPS"):
        _stopping()
    sys.exit(main())
