"""What a commit takes when many terminals work at one file, beside as many bare appends. By hand:

    python -m tests.bench.crowd [--terminals 30] [--pace 3] [--seconds 60]

Every process does random acts for a window of time, then appends bare rows to a plain WAL file of
`synchronous = full` for another, and so on in turns, all of them at the same time: with pauses of
the same mean (exponential; 0: none), rows as large as the ledger rows of its acts, the same
patience. Told are acknowledged acts: `lock` from wanting the write lock to the answer, which is
what a bare append does; `act` from the call of the action on, with what it reads before that.
Left out is what a shop does a few times a year.
"""

from __future__ import annotations

import argparse
import json
import os
import sqlite3
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from random import Random
from statistics import median

from store.file.opening import BUSY_S
from store.file.shop import Shop
from store.views.bay import bay
from tests.faults.acts import CATALOGUE, PEOPLE, START, carry_out, intend, small_shop
from tests.faults.crowd_watched import Watched, watch

WINDOW_S = 1.0
"""Of one kind of work; several of each kind, so that the disk's moods meet both."""
DAILY = tuple(name for name in CATALOGUE if name not in ("PIN", "work book", "history"))
SIZES = "select sum(length(payload)) + 350 * count(*) from ledger where seq between ? and ?"
"""Bytes of some rows of the ledger: hashes, key and stamps take about 350."""


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--terminals", type=int, default=30)
    parser.add_argument("--pace", type=float, default=3.0, help="mean pause, seconds")
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=1)
    return parser.parse_args()


@dataclass
class Terminal:
    """One process of the crowd."""

    options: argparse.Namespace
    number: int
    folder: Path
    begun: float
    spent: dict[str, list[float]] = field(
        default_factory=lambda: {"bare": [], "lock": [], "act": []}
    )
    sizes: list[int] = field(default_factory=lambda: [900])

    def run(self) -> None:
        """Work through the windows, then write down what it took."""
        self.dice = Random(self.options.seed * 1000 + self.number)
        self.shop, self.bare = Shop(self.folder / "small.shop"), bare(self.folder)
        bay(self.shop, "T1", START)
        while (at := time.monotonic() - self.begun) < self.options.seconds:
            if self.options.pace:
                time.sleep(self.dice.expovariate(1 / self.options.pace))
            window, into = divmod(time.monotonic() - self.begun, WINDOW_S)
            if into > 0.9 * WINDOW_S:  # as little as can be reaches into the next window
                time.sleep(WINDOW_S - into)
                window += 1
            self.act(at) if window % 2 else self.append()
        (self.folder / f"{self.number}.json").write_text(json.dumps(self.spent), "utf-8")

    def append(self) -> None:
        """Append a bare row."""
        text = "x" * self.dice.choice(self.sizes)
        wanted = time.monotonic()
        self.bare.execute("begin immediate")
        self.bare.execute("insert into row (content) values (?)", [text])
        self.bare.execute("commit")
        self.spent["bare"].append(time.monotonic() - wanted)

    def act(self, at: float) -> None:
        """Do something that somebody means to do."""
        now = START + timedelta(seconds=60 * at)
        intent = intend(self.shop, self.dice, now, PEOPLE, f"bay-{self.number}", DAILY)
        Watched.lock.clear()
        called = time.monotonic()
        told = carry_out(self.shop, intent)
        over = time.monotonic()
        if told.recorded:
            self.spent["lock"].append(over - Watched.lock[0])
            self.spent["act"].append(over - called)
            with self.shop.reading() as db:
                size = db.execute(SIZES, [told.recorded[0], told.recorded[-1]]).fetchone()[0]
            self.sizes = [*self.sizes[-20:], size]


def bare(folder: Path) -> sqlite3.Connection:
    """Open the plain file of bare rows."""
    db = sqlite3.connect(folder / "bare", timeout=BUSY_S, isolation_level=None)
    db.execute("pragma journal_mode = wal")
    db.execute("pragma synchronous = full")
    db.execute("create table if not exists row (seq integer primary key, content text)")
    return db


def crowd(options: argparse.Namespace, folder: Path) -> dict[str, list[float]]:
    """Let all terminals work at the same time; return seconds by kind."""
    small_shop(folder).close()
    bare(folder).close()
    watch("")
    begun = time.monotonic() + 0.05 * options.terminals
    children = [_child(Terminal(options, n, folder, begun)) for n in range(options.terminals)]
    for child in children:
        if os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]):
            sys.exit("a terminal fell over")
    spent: dict[str, list[float]] = {}
    for n in range(options.terminals):
        said = json.loads((folder / f"{n}.json").read_text("utf-8"))
        for kind, times in said.items():
            spent.setdefault(kind, []).extend(times)
    return spent


def _child(terminal: Terminal) -> int:
    child = os.fork()
    if child:
        return child
    status = 1
    try:
        time.sleep(max(0.0, terminal.begun - time.monotonic()))
        terminal.run()
        status = 0
    finally:
        os._exit(status)


def quantile(times: Sequence[float], share: float) -> float:
    """The time that this share of all stayed within."""
    return sorted(times)[min(len(times) - 1, int(share * len(times)))]


def main() -> None:
    """Print medians, 99th percentiles and longest, and the ratios to the bare appends."""
    options = arguments()
    with tempfile.TemporaryDirectory(dir="/var/tmp") as name:
        spent = crowd(options, Path(name))
    middle, late = median(spent["bare"]), quantile(spent["bare"], 0.99)
    for kind, times in spent.items():
        one, other = median(times), quantile(times, 0.99)
        print(
            f"{kind:<5}{len(times):7,} x  median {1000 * one:8.2f} ms {one / middle:6.2f} x   "
            f"p99 {1000 * other:8.1f} ms {other / late:6.2f} x   longest {1000 * max(times):8.1f}"
        )


if __name__ == "__main__":
    main()
