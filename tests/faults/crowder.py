"""A crowd at one shop file: `python -m tests.faults.crowder SHOP FOLDER …`, see `arguments`.

Loads everything once, then divides into as many processes as there are terminals. Each waits until
all are there, does random acts and looks, and writes down what it did and saw. What is taken out of
the product (`--without`) is taken out here, in this process and its children.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import re
import sqlite3
import sys
import time
import traceback
from collections.abc import Generator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from store.file.layout import derived_tables
from store.file.shop import Shop
from store.views.bay import bay
from store.views.floor import floor
from tests.faults.acts import PEOPLE, START, Intent, a_key, carry_out, intend
from tests.faults.crowd_said import Did, Fell, Line, Saw, written
from tests.faults.crowd_watched import Watched, watch

FASTER = 60
"""The shop's clock runs so many times as fast as the machine's: a minute is an hour."""


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("shop", type=Path)
    parser.add_argument("folder", type=Path, help="where the terminals write down what they did")
    parser.add_argument("--terminals", type=int, required=True)
    parser.add_argument("--turns", type=int, help="of each terminal")
    parser.add_argument("--seconds", type=float, help="instead of turns")
    parser.add_argument("--looks", type=float, default=0.4, help="share of the turns")
    parser.add_argument("--again", type=float, default=0.05, help="share of acts done twice")
    parser.add_argument("--seed", type=int, required=True)
    parser.add_argument("--without", default="")
    return parser.parse_args()


class Terminal:
    """One terminal of the crowd: a shop file open, dice, and a file to write down what it did."""

    def __init__(self, options: argparse.Namespace, number: int, begun: float) -> None:
        self.name, self.options, self.begun = f"bay-{number:02}", options, begun
        self.dice = Random(options.seed * 1000 + number)
        self.shop: Shop = Noting(options.shop)
        path: Path = options.folder / f"{self.name}.said"
        self.file = path.open("w", encoding="utf-8")

    def now(self) -> datetime:
        """The instant of the shop: the same for all terminals."""
        return START + timedelta(seconds=FASTER * (time.monotonic() - self.begun))

    def say(self, line: Line) -> None:
        self.file.write(written(line))

    def run(self) -> None:
        """Act and look until it is over."""
        turns, seconds = self.options.turns, self.options.seconds
        turn = 0
        while turn < turns if turns else time.monotonic() < self.begun + seconds:
            turn += 1
            try:
                self.turn()
            except Exception:
                self.say(Fell(self.name, traceback.format_exc()[-1500:]))
        self.shop.close()
        self.file.close()

    def turn(self) -> None:
        """Do one thing."""
        throw = self.dice.random()
        if throw < 0.01:  # as a command of its own does
            self.shop.close()
            self.shop = Noting(self.options.shop)
        elif throw < 0.01 + self.options.looks:
            self.look()
        else:
            self.act()

    def act(self) -> None:
        """Do something; now and then forget the answer and do it again."""
        intent = intend(self.shop, self.dice, self.now(), PEOPLE, self.name)
        first = self.did(intent, again=False)
        if first.recorded and self.dice.random() < self.options.again:
            if self.options.without == "one key":
                intent = replace(intent, by=replace(intent.by, key=a_key(self.dice)))
            self.did(intent, again=True)

    def did(self, intent: Intent, *, again: bool) -> Did:
        """Carry an act out and write down what came of it."""
        Watched.lock.clear()
        told = carry_out(self.shop, intent)
        wanted, had, over = [*Watched.lock[:3], 0.0, 0.0, 0.0][:3]
        refused = type(told.refused).__name__ if told.refused else ""
        line = Did(self.name, told.key, told.name, told.recorded, refused, told.says, again,
                   wanted, had, over)  # fmt: skip
        self.say(line)
        return line

    def look(self) -> None:
        """Look at the tables, the floor or somebody's bay."""
        what, now, badge = self.dice.choice(("tables", "floor", "bay")), self.now(), "T1"
        SEEN.clear()
        digest = seen_at(self.shop, what, now, badge)
        seqs = tuple(SEEN)
        with self.shop.reading():
            pass
        self.say(Saw(self.name, what, seqs, SEEN[-1], now.isoformat(), badge, digest))


SEEN: list[int] = []
"""Newest entry of the ledger in each look since it was cleared."""


class Noting(Shop):
    """A shop that notes what was the newest entry in each look."""

    @contextmanager
    def reading(self) -> Generator[sqlite3.Connection]:
        """As a shop's."""
        with super().reading() as db:
            SEEN.append(db.execute("select max(seq) from ledger").fetchone()[0])
            yield db


def seen_at(shop: Shop, what: str, now: datetime, badge: str) -> str:
    """Return the digest of everything that one look shows."""
    if what == "tables":
        with shop.reading() as db:
            return tables_digest(db)
    text = repr(floor(shop, now) if what == "floor" else bay(shop, badge, now))
    return hashlib.sha256(re.sub(" at 0x[0-9a-f]+", "", text).encode()).hexdigest()


def tables_digest(db: sqlite3.Connection) -> str:
    """Return the digest of all derived tables, whatever the order of their rows."""
    whole = hashlib.sha256()
    for name in derived_tables():
        rows = sorted(repr(tuple(row)) for row in db.execute(f"select * from {name}"))
        whole.update("\n".join((name, *rows)).encode())
    return whole.hexdigest()


def main() -> None:
    """Divide into terminals and wait for all of them."""
    options = arguments()
    watch(options.without)
    begun = time.monotonic() + 0.05 * options.terminals
    children = [_child(options, number, begun) for number in range(options.terminals)]
    sys.exit(max(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children))


def _child(options: argparse.Namespace, number: int, begun: float) -> int:
    child = os.fork()
    if child:
        return child
    status = 1
    try:
        terminal = Terminal(options, number, begun)
        time.sleep(max(0.0, begun - time.monotonic()))
        terminal.run()
        status = 0
    finally:
        os._exit(status)


if __name__ == "__main__":
    main()
