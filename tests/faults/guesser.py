"""Guesses at a PIN as fast as it can, from a process of its own: `python -m tests.faults.guesser`.

Waits for a line on standard input, then says of each guess whether it was looked at.
"""

from __future__ import annotations

import sqlite3
import sys
from pathlib import Path
from unittest.mock import patch

from store.actions import acting, settings
from store.actions.trouble import PinWaits, WrongPin
from store.file.pins import FREE_TRIES, Uptime
from store.file.shop import By, Shop
from tests.faults.small_shop import START
from tui.now import uptime

WRONG = "135790"
LOOKED_AT, MADE_TO_WAIT = "looked at", "made to wait"


def guess(shop: Shop, by: By) -> str:
    """Try a wrong PIN at an act that takes one; return what came of it."""
    try:
        settings.set_rate(shop, by, per_hour=1)
    except WrongPin:
        return LOOKED_AT
    except PinWaits:
        return MADE_TO_WAIT
    return "let in"


def keep_in_memory() -> None:
    """Take the protection out: tries are counted by each process for itself."""
    wrong: dict[str, int] = {}

    def count(_: sqlite3.Connection, person: str, *__: object) -> None:
        wrong[person] = wrong.get(person, 0) + 1

    def wait(_: sqlite3.Connection, person: str, now: str, up: Uptime | None) -> int:
        del now, up
        return 30 if wrong.get(person, 0) >= FREE_TRIES else 0

    patch.multiple(acting, note_wrong=count, wait_s=wait).start()


def main() -> int:
    """Guess so often at one badge."""
    path, badge, times, protected = sys.argv[1:5]
    if protected != "yes":
        keep_in_memory()
    shop = Shop(Path(path))
    print("ready", flush=True)
    sys.stdin.readline()
    for _ in range(int(times)):
        print(guess(shop, By(badge, "t1", START, pin=WRONG, up=uptime())), flush=True)
    shop.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
