"""The process next door is split off one that has read its modules: a start takes a second."""

from __future__ import annotations

import multiprocessing
import os
import sys
from multiprocessing import forkserver
from multiprocessing.connection import Connection

from tests.end_to_end.split import READ_BEFORE
from tui.intake import next_door


def get_ready() -> None:
    """Have the one that is split begun outside a screen: while one stands there is no stderr."""
    multiprocessing.get_context("forkserver").set_forkserver_preload([*READ_BEFORE, __name__])
    forkserver.ensure_running()


class Split:
    """What the screen needs of `subprocess.Popen`."""

    def __init__(self, words: list[str], **_: object) -> None:
        context = multiprocessing.get_context("forkserver")
        asked, ask = os.pipe()
        hear, heard = os.pipe()
        ends = Connection(asked, writable=False), Connection(heard, readable=False)
        self._child = context.Process(target=_answers, args=(words[-1], *ends), daemon=True)
        self._child.start()
        for end in ends:
            end.close()
        self.stdin, self.stdout = open(ask, "wb"), open(hear, "rb")  # noqa: PTH123, SIM115

    def kill(self) -> None:
        """End it."""
        self._child.kill()

    def wait(self) -> None:
        """Until it has ended."""
        self._child.join()


def _answers(shop: str, asked: Connection, heard: Connection) -> None:
    os.dup2(asked.fileno(), 0)
    os.dup2(heard.fileno(), 1)
    asked.close()
    heard.close()
    sys.argv = ["next_door", shop]
    sys.stdout = open(1, "w", closefd=False)  # noqa: SIM115
    next_door.main()
