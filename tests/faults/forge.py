"""Asks for processes that are killed, and tells what became of them: see `dying`."""

from __future__ import annotations

import atexit
import json
import os
import signal
import subprocess
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.faults.dying import Asked

TOP = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Died:
    """What became of a child.

    Attributes:
        killed: by SIGKILL.
        under_way: what it had begun and not acknowledged; None where nothing.
        acknowledged: what it had done, with the words it said of it.
        calls: how often it came to which call of the disk while something was under way.
        spent_s: from its first beginning to its end.
        beside: the same of the other child.
        fell: it ended by an error of its own.
    """

    killed: bool
    under_way: str | None
    acknowledged: tuple[tuple[str, ...], ...]
    calls: dict[str, int]
    spent_s: float
    fell: bool
    beside: tuple[tuple[str, ...], ...]
    beside_way: str | None

    @property
    def hit(self) -> bool:
        """Killed by us while something was under way: what counts as tried."""
        return self.killed and self.under_way is not None


def _read(lines: list[str]) -> tuple[str | None, tuple[tuple[str, ...], ...]]:
    words = [one.split() for one in lines]
    begun = words[-1][1] if words and words[-1][0] == "begin" else None
    return begun, tuple(tuple(one[1:]) for one in words if one[0] == "done")


class Forge:
    """One such process; it lives as long as this one."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.dying"], cwd=TOP, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            env={**os.environ, "HOISTBOOK_LEARNER": "off", "OPENBLAS_NUM_THREADS": "1"},
        )  # fmt: skip
        assert self._line() == "ready\n"

    def _line(self) -> str:
        assert self._process.stdout is not None
        return self._process.stdout.readline()

    def ask(self, asked: Asked) -> Died:
        """Have it done."""
        assert self._process.stdin is not None
        self._process.stdin.write(json.dumps(asked._asdict()) + "\n")
        self._process.stdin.flush()
        found = json.loads(self._line())
        status = found["status"]
        killed = os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL
        under_way, done = _read(found["said"])
        beside_way, beside = _read(found["beside"])
        return Died(killed, under_way, done, found["calls"], found["spent_s"],
                    not killed and status != 0, beside, beside_way)  # fmt: skip

    def close(self) -> None:
        """Let it go."""
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.wait()


@cache
def forge() -> Forge:
    """The one of this process, begun when it is first asked for."""
    found = Forge()
    atexit.register(found.close)
    return found
