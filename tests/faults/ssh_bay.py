"""The screens with something taken out of them: `python -m tests.faults.ssh_bay WITHOUT …`.

What follows is the command line of `hoistbook` itself, as the printed line has it.
"""

from __future__ import annotations

import asyncio
import signal
import sqlite3
import sys
from collections.abc import Callable
from threading import Timer
from typing import Any

from store.actions.clock import clock_off
from store.file.shop import Shop
from tui.app import Hoistbook
from tui.cli.run import main

LATE_S = 10.0


def commit_late() -> None:
    """The screen says that an act is done, and only then it is written for good."""
    commit: Callable[..., None] = Shop._commit  # pyright: ignore[reportPrivateUsage]

    def later(shop: Shop, db: sqlite3.Connection, key: Callable[[], str] | None) -> None:
        timer = Timer(LATE_S, commit, (shop, db, key))
        timer.daemon = True
        timer.start()

    def nothing(*_: object) -> None: ...

    shop: Any = Shop
    shop._commit, shop._roll_back = later, nothing


def deaf() -> None:
    """A hang-up is not heard: as under a wrapper that ignores it."""
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    loop: Any = asyncio.SelectorEventLoop
    hears = loop.add_signal_handler

    def but_one(self: Any, number: int, *rest: Any) -> None:
        if number != signal.SIGHUP:
            hears(self, number, *rest)

    loop.add_signal_handler = but_one


def clock_of_terminal() -> None:
    """The clock lives in the terminal: it stops where the screens end."""
    leave: Callable[[Hoistbook], None] = Hoistbook.on_unmount
    screens: Any = Hoistbook

    def stop_and_leave(app: Hoistbook) -> None:
        if app.session.who is not None:
            clock_off(app.session.shop, app.session.by())
        leave(app)

    screens.on_unmount = stop_and_leave


WITHOUT: dict[str, Callable[[], None]] = {
    "late": commit_late, "deaf": deaf, "clock": clock_of_terminal,
}  # fmt: skip

if __name__ == "__main__":
    WITHOUT[sys.argv[1]]()
    sys.exit(main(sys.argv[2:]))
