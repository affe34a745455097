"""What a shop has acknowledged stays, whoever else opens and closes the file meanwhile."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from store.actions import jobs
from store.file.noticing import Noticing
from store.file.shop import Shop
from tests.tui.shops import Pen, founded

LOOK = (
    "import sqlite3, sys; db = sqlite3.connect(sys.argv[1]); "
    "print(db.execute('select count(*) from ledger').fetchone()[0]); db.close()"
)


def seen_from_outside(path: Path) -> int:
    """Length of the ledger, as another process finds it that comes and goes."""
    ran = subprocess.run(
        [sys.executable, "-c", LOOK, str(path)], capture_output=True, text=True, check=True
    )
    return int(ran.stdout)


def test_another_process_that_leaves_takes_no_acknowledged_entry_with_it(tmp_path: Path) -> None:
    """POSIX drops a process's locks on a file when any of its descriptors is closed: a look at
    the file by opening it would let the last one who leaves delete the log that we write to.

    Source: SQLite, "How To Corrupt An SQLite Database File", section 2.2 (from memory).
    """
    pen = Pen()
    founded(tmp_path / "made.shop", pen).close()
    shop = Shop(tmp_path / "made.shop")
    noticing = Noticing(shop.path)
    before = seen_from_outside(shop.path)
    for nth in range(3):
        noticing.look()
        jobs.take_small(shop, pen.by(), text="lamp", vehicle=f"van {nth}")
        Shop(shop.path).close()
        noticing.look()
        now = seen_from_outside(shop.path)
        assert now > before
        before = now
    noticing.close()
    shop.close()
