"""What one small change costs beside a bare append to a write-ahead log. Run by hand:

    python -m tests.bench.commit_cost [ROUNDS]

Disks are slow by the minute, so everything is measured in turns in the same run and told as a
ratio to the bare append of that run: one row of a ledger entry's size into a plain table, WAL mode,
`synchronous = full`, connection kept.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from statistics import median
from time import perf_counter

from store.actions import clock
from store.edges.events.shop import RateSet
from store.file.change import By, new_key
from store.file.shop import Shop
from tests.store.actions.made import World
from tests.store.made import busy_shop

SIZE = 500
"""Bytes of a ledger row of a small event, hashes and key included."""


def bare(folder: Path) -> Callable[[], None]:
    """The anchor: append one row and sync."""
    db = sqlite3.connect(folder / "bare", isolation_level=None)
    db.execute("pragma journal_mode = wal")
    db.execute("pragma synchronous = full")
    db.execute("create table row (seq integer primary key, content text)")
    text = "x" * SIZE

    def append() -> None:
        db.execute("begin immediate")
        db.execute("insert into row (content) values (?)", [text])
        db.execute("commit")

    return append


def one_event(world: World) -> Callable[[], None]:
    """A transaction of the shop file with one event: lock, ledger row, tables, commit."""
    moments = (world.now + timedelta(seconds=n) for n in count(1))
    event = RateSet(from_day="2028-01-01", per_hour=91)

    def change() -> None:
        with world.shop.changing(By("OWN", "bench", next(moments), key=new_key())) as one:
            one.record(event)

    return change


def an_act(world: World) -> Callable[[], None]:
    """An action with its rules: a clock on other work, then back again, in turns."""
    moments = (world.now + timedelta(days=1, seconds=n) for n in count(1))
    reasons = (("tidying", "parts")[n % 2] for n in count())

    def act() -> None:
        by = By("T2", "bench", next(moments), key=new_key())
        clock.clock_indirect(world.shop, by, reason=next(reasons))
        clock.clock_off(world.shop, By("T2", "bench", next(moments), key=new_key()))

    return act


def opened_anew(world: World) -> Callable[[], None]:
    """A command of its own: open the file, one event, close it."""
    moments = (datetime(2027, 6, 1, tzinfo=UTC) + timedelta(seconds=n) for n in count(1))
    event = RateSet(from_day="2028-01-01", per_hour=91)

    def change() -> None:
        shop = Shop(world.shop.path)
        with shop.changing(By("OWN", "bench", next(moments), key=new_key())) as one:
            one.record(event)
        shop.close()

    return change


def a_look(world: World) -> Callable[[], None]:
    """Opening a reader, one query, closing it."""

    def look() -> None:
        with world.shop.reading() as db:
            db.execute("select max(seq) from ledger").fetchone()

    return look


def measure(rounds: int) -> dict[str, list[float]]:
    """Seconds of every round, by what was done; all in turns."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        world = busy_shop(folder)
        tasks = {
            "bare append": bare(folder),
            "one event": one_event(world),
            "act and act back": an_act(world),
            "open, one event, close": opened_anew(world),
            "a look": a_look(world),
        }
        spent: dict[str, list[float]] = {task: [] for task in tasks}
        for _ in range(rounds):
            for task, run in tasks.items():
                start = perf_counter()
                run()
                spent[task].append(perf_counter() - start)
        world.shop.close()
    return spent


def main() -> None:
    """Print medians and their ratios to the bare append."""
    spent = measure(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
    anchor = median(spent["bare append"])
    for task, times in spent.items():
        ratio = median(times) / anchor
        print(f"{task:<24}{1000 * median(times):8.3f} ms {ratio:6.2f} x the bare append")


if __name__ == "__main__":
    main()
