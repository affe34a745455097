"""How long it takes to open a shop after a crash, by the size of the log it left. Run by hand:

    python -m tests.bench.recovery [MB ...]

A process acts until its log (`-wal`) has so many megabytes, which needs somebody who looks at the
same moment all the time, and is killed. Then the shop is opened, looked at, written to and closed,
beside the same after an orderly end. Files lie in /var/tmp: a disk, not memory.
"""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import sys
import tempfile
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from statistics import median
from time import perf_counter

from store.actions import settings
from store.file.change import By, new_key
from store.file.shop import Shop
from store.file.whole import companion
from tests.faults.acts import PIN, START, small_shop

SIZES = (4, 16, 48)
TURNS = 5


def crash(path: Path, size: int) -> None:
    """Act until the log has so many bytes, and die; nothing is let go of."""
    shop, looking = Shop(path), sqlite3.connect(path, isolation_level=None)
    looking.execute("begin")
    looking.execute("select count(*) from ledger").fetchone()
    n = 0
    while n == 0 or companion(path, "-wal").stat().st_size < size:
        n += 1
        by = By("OWN", "bench", START + timedelta(seconds=n), pin=PIN, key=new_key())
        settings.set_rate(shop, by, per_hour=50 + n % 50)
    os.kill(os.getpid(), signal.SIGKILL)


def crashed(folder: Path, megabytes: int) -> Path:
    """A folder with a shop as it is after a crash."""
    path = folder / f"{megabytes}" / "small.shop"
    path.parent.mkdir()
    small_shop(path.parent).close()
    child = os.fork()
    if child == 0:
        crash(path, megabytes * 1_000_000)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
    return path


def timed(act: Callable[[], object]) -> float:
    """Milliseconds that something takes."""
    start = perf_counter()
    act()
    return (perf_counter() - start) * 1000


def opened(path: Path) -> tuple[float, float, float]:
    """Milliseconds to the first look, of the first act, and of the close."""
    found: list[Shop] = []

    def look() -> None:
        found.append(Shop(path))
        with found[0].reading() as db:
            db.execute("select count(*) from ledger").fetchone()

    def act() -> None:
        by = By("OWN", "bench", START + timedelta(days=1), pin=PIN, key=new_key())
        settings.set_rate(found[0], by, per_hour=70)

    return timed(look), timed(act), timed(found[0].close)


def told(path: Path, what: str, beside: float | None) -> float:
    """Say how long it takes on fresh copies of a folder; return the time to the first look."""
    times: list[tuple[float, float, float]] = []
    for turn in range(TURNS):
        copy = path.parent.with_name(f"{path.parent.name} {what} {turn}")
        shutil.copytree(path.parent, copy)
        times.append(opened(copy / path.name))
        shutil.rmtree(copy)
    look, act, close = (median(one[n] for one in times) for n in range(3))
    ratio = "" if beside is None else f", {look / beside:.1f} x"
    print(f"{what}: first look {look:.1f} ms{ratio}, first act {act:.1f}, close {close:.1f}")
    return look


def main() -> None:
    """Tell it for each size."""
    sizes = [int(one) for one in sys.argv[1:]] or SIZES
    with tempfile.TemporaryDirectory(prefix="hoistbook-bench-", dir="/var/tmp") as room:
        for size in sizes:
            path = crashed(Path(room), size)
            orderly = path.parent.with_name(f"{size} orderly") / path.name
            shutil.copytree(path.parent, orderly.parent)
            with closing(Shop(orderly)) as shop, shop.reading() as db:
                count = db.execute("select count(*) from ledger").fetchone()[0]
            print(f"{count:,} entries, {size} MB in the log")
            beside = told(orderly, "after an orderly end", None)
            told(path, "after the crash", beside)


if __name__ == "__main__":
    main()
