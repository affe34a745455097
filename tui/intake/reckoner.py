"""Asks what work would take, and hears it part by part from a process of its own.

Learned hours need arrays, and loading those stops whoever does it for longer than a key may wait:
the screen asks through a pipe, shows the work book's hours meanwhile, and never loads them.
"""

from __future__ import annotations

import asyncio
import os
import pickle
import sys
from asyncio.subprocess import DEVNULL, PIPE, Process
from collections.abc import AsyncGenerator
from contextlib import suppress
from pathlib import Path

from tui.intake.reckoned import LENGTH, Question, Reckoned, packed

HOME = Path(__file__).resolve().parents[2]
"""Where this program's packages lie: the process runs the same ones."""


class Reckoner:
    """The other end of the pipe."""

    def __init__(self, shop: Path) -> None:
        self._shop = shop
        self._process: Process | None = None
        self._turn = asyncio.Lock()

    async def begin(self) -> None:
        """Have the process ready before anything is asked; it is begun once."""
        async with self._turn:
            await self._begun()

    async def _begun(self) -> Process:
        if self._process is None or self._process.returncode is not None:
            self._process = await asyncio.create_subprocess_exec(
                sys.executable, "-m", "tui.intake.next_door", str(self._shop.absolute()), cwd=HOME,
                stdin=PIPE, stdout=PIPE, stderr=DEVNULL,
                env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
            )  # fmt: skip
        return self._process

    async def ask(self, question: Question) -> AsyncGenerator[Reckoned]:
        """Ask; parts of the answer come as they are worked out, the whole last.

        Raises:
            OSError: there can be no process, or it has ended.
        """
        async with self._turn:
            process = await self._begun()
            assert process.stdin is not None
            assert process.stdout is not None
            try:
                process.stdin.write(packed(question))
                await process.stdin.drain()
                while True:
                    head = await process.stdout.readexactly(LENGTH.size)
                    body = await process.stdout.readexactly(LENGTH.unpack(head)[0])
                    part: Reckoned = pickle.loads(body)
                    yield part
                    if part.depth == "whole" or part.found is None:
                        return
            except (asyncio.IncompleteReadError, ConnectionError) as gone:
                self.end()
                raise OSError(f"the reckoner has ended: {gone}") from gone
            except BaseException:  # half an answer is still in the pipe: begin anew
                self.end()
                raise

    def end(self) -> None:
        """Let the process go; what it was working out is not wanted any more."""
        process, self._process = self._process, None
        if process is not None and process.returncode is None:
            with suppress(ProcessLookupError):
                process.kill()
