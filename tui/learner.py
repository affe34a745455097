"""Begins the learner: a process of its own, for which nobody waits and which needs no terminal.

It is this module run by itself, `python -m tui.learner FILE`, which loads nothing of the command
line; `hoistbook learned --keep-up` does the same for whoever begins it by other means.
"""

from __future__ import annotations

import os
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from store.file.learned.alone import is_somebody_there
from store.trouble import Trouble

if TYPE_CHECKING:
    from store.file.learned.turns import Turns
    from store.file.shop import Shop
    from tui.session import Clock

VARIABLE = "HOISTBOOK_LEARNER"
"""Set to `off`, no process is begun: for whoever runs `hoistbook learned` by other means."""
HOME = Path(__file__).resolve().parents[1]
"""Where this program's packages lie: the learner runs the same ones."""

BEGUN: list[subprocess.Popen[bytes]] = []
"""Those begun here that were still at work when it was last looked."""


def turns(shop: Shop, clock: Clock) -> Turns:
    """Return the learner of a shop, to be set to work in this process."""
    from store.file.learned.own import ShopLearner
    from store.file.learned.turns import Turns

    return Turns(shop, ShopLearner(), clock.look)


def take_in(shop: Shop, clock: Clock) -> None:
    """Learn from whatever has not taught yet, before a question is answered.

    A file that cannot be written, or is kept by others, is asked what it learned last.
    """
    with suppress(Trouble):
        turns(shop, clock).take_in()


def is_off() -> bool:
    """Whether somebody said that no learner is to be begun."""
    return os.environ.get(VARIABLE, "").strip().lower() == "off"


def begin(shop: Path) -> bool:
    """Begin the learner of a shop file, unless one is at work: that one looks again by itself.

    Returns:
        Whether a process was begun. It lives on when this one ends, and its terminal hangs up.
    """
    BEGUN[:] = [one for one in BEGUN if one.poll() is None]
    if is_off() or is_somebody_there(shop):
        return False
    with suppress(OSError):  # no room for a process: what comes next begins one
        BEGUN.append(
            subprocess.Popen(
                [sys.executable, "-m", "tui.learner", str(shop.absolute())],
                cwd=HOME, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL, start_new_session=True,
            )
        )  # fmt: skip
        return True
    return False


def main() -> int:
    """Do what is due in one shop file; a file that is gone or kept by others is left alone."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # more would spin on a busy machine
    from store.file.shop import Shop
    from tui.now import ShopClock

    try:
        shop = Shop(Path(sys.argv[1]))
        turns(shop, ShopClock(shop)).keep_up()
        shop.close()
    except Trouble:
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
