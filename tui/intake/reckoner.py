"""Asks what work would take, and hears it part by part from a process of its own.

Learned hours need arrays, and loading those stops whoever does it for longer than a key may wait:
the screen asks through a pipe, shows the work book's hours meanwhile, and never loads them.
"""

from __future__ import annotations

import asyncio
import os
import pickle
import subprocess
import sys
from collections.abc import AsyncGenerator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Thread

from tui.intake.reckoned import LENGTH, Question, Reckoned, packed

HOME = Path(__file__).resolve().parents[2]
"""Where this program's packages lie: the process runs the same ones."""
Parts = asyncio.Queue[Reckoned | None]
"""What was heard; None is the end of the process."""


@dataclass(frozen=True, slots=True)
class _Line:
    """The process, and what it has said."""

    process: subprocess.Popen[bytes]
    heard: Parts


class Reckoner:
    """The other end of the pipe.

    Answers are heard by a thread, as they come: whoever asks anew passes over what is left of the
    answer before, and the process leaves that undone when it sees that something else is asked.
    """

    def __init__(self, shop: Path) -> None:
        self._shop = shop
        self._line: _Line | None = None

    def begin(self) -> None:
        """Have the process ready before anything is asked; it is begun once.

        Raises:
            OSError: there can be none.
        """
        self._begun(asyncio.get_running_loop())

    def _begun(self, loop: asyncio.AbstractEventLoop) -> _Line:
        if self._line is None:
            process = subprocess.Popen(
                [sys.executable, "-m", "tui.intake.next_door", str(self._shop.absolute())],
                cwd=HOME, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL, env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
            )  # fmt: skip
            self._line = _Line(process, asyncio.Queue())
            Thread(target=_hear, args=(self._line, loop), daemon=True).start()
        return self._line

    async def ask(self, question: Question) -> AsyncGenerator[Reckoned]:
        """Ask; parts of the answer come as they are worked out, the whole last.

        Raises:
            OSError: there can be no process, or it has ended.
        """
        line = self._begun(asyncio.get_running_loop())
        await asyncio.to_thread(_send, line, question)
        while True:
            part = await line.heard.get()
            if part is None:
                self.end()
                raise OSError("the reckoner has ended")
            if part.question == question:
                yield part
                if part.depth == "whole" or part.found is None:
                    return

    def end(self) -> None:
        """Let the process go; what it was working out is not wanted any more."""
        line, self._line = self._line, None
        if line is not None:
            line.process.kill()
            line.process.wait()
            for pipe in (line.process.stdin, line.process.stdout):
                if pipe is not None:
                    with suppress(OSError):  # something was on its way in
                        pipe.close()


def _send(line: _Line, question: Question) -> None:
    assert line.process.stdin is not None
    line.process.stdin.write(packed(question))
    line.process.stdin.flush()


def _hear(line: _Line, loop: asyncio.AbstractEventLoop) -> None:
    """Hear part after part, in a thread: what is heard is unpacked here, not between two keys."""
    assert line.process.stdout is not None
    with suppress(RuntimeError, ValueError):  # the program has ended, or nobody listens any more
        while head := line.process.stdout.read(LENGTH.size):
            body = line.process.stdout.read(LENGTH.unpack(head)[0])
            loop.call_soon_threadsafe(line.heard.put_nowait, pickle.loads(body))
        loop.call_soon_threadsafe(line.heard.put_nowait, None)
