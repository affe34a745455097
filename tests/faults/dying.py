"""Processes that are killed: `python -m tests.faults.dying` loads everything once and divides.

Reads requests, one JSON document a line, and answers each with one. A child does the work that is
asked for and says on a pipe what it begins and what it has done; it is killed by SIGKILL, at some
moment or when it comes to a certain call of the disk (`traced`). What is taken out of the product
is taken out in the child.
"""

from __future__ import annotations

import ctypes
import json
import os
import pickle
import signal
import sys
import time
import traceback
from collections import Counter
from pathlib import Path
from random import Random
from typing import NamedTuple

from tests.faults.dying_said import Pipe
from tests.faults.dying_without import take_out
from tests.faults.dying_works import WARM, WORKS, load
from tests.faults.recorded import Recorder
from tests.faults.traced import CHANGING, let_me_be_traced, stops

DIE_WITH_PARENT = 1


class Asked(NamedTuple):
    """What to do, and when to die.

    Attributes:
        at: die `before` or `after` a call that touches a disk, like `before fdatasync`; empty: at
            none; `nowhere`: only count them.
        nth: at which of these, counted while something is under way.
        after_s: die so many seconds after the first work began; below zero: never.
        log: where to write down all that went to the disk; empty: nowhere.
        beside: work that another child does meanwhile, killed when it is over.
    """

    work: str
    folder: str
    seed: int
    without: str = ""
    at: str = ""
    nth: int = 1
    after_s: float = -1.0
    log: str = ""
    beside: str = ""


class Child:
    """One child at work."""

    def __init__(self, asked: Asked, work: str, *, traced: bool) -> None:
        self.said = Pipe()
        self.pid = os.fork()
        if self.pid == 0:
            self._live(asked, work, traced=traced)
        os.close(self.said.write)

    def _live(self, asked: Asked, work: str, *, traced: bool) -> None:
        status = 0
        try:
            ctypes.CDLL(None).prctl(DIE_WITH_PARENT, signal.SIGKILL)
            os.dup2(2, 1)
            take_out(asked.without)
            if traced:
                let_me_be_traced()
            WORKS[work](Path(asked.folder), Random(asked.seed), self.say)
        except BaseException:
            traceback.print_exc()
            status = 7
        finally:
            os._exit(status)

    def say(self, *words: object) -> None:
        """Say a line; it is in the pipe when this returns."""
        os.write(self.said.write, (" ".join(map(str, words)) + "\n").encode())

    def kill(self) -> None:
        os.kill(self.pid, signal.SIGKILL)

    def end(self) -> int:
        """Wait until it has ended; return its wait status."""
        _, status = os.waitpid(self.pid, 0)
        return status


def followed(child: Child, asked: Asked) -> tuple[int, dict[str, int], float]:
    """Let a child go from call to call, and kill it at the one that was asked for.

    Returns:
        Its wait status, how often it came where while something was under way, and how long it was.
    """
    recorder = Recorder(child.pid, child.said.write) if asked.log else None
    counts, status, begun = Counter[str](), 0, 0.0
    for stop in stops(child.pid):
        if stop.name == "ended":
            status = stop.result
            break
        if recorder is not None:
            recorder.take(stop)
        if stop.name in CHANGING and child.said.under_way:
            at = f"{'before' if stop.entering else 'after'} {stop.name}"
            counts[at] += 1
            begun = begun or time.monotonic()
            if at == asked.at and counts[at] == asked.nth:
                child.kill()
    if recorder is not None:
        Path(asked.log).write_bytes(pickle.dumps(recorder.done))
    return status, counts, time.monotonic() - (begun or time.monotonic())


def timed(child: Child, asked: Asked) -> tuple[int, float]:
    """Let a child run, and kill it after a while; return its wait status and how long it was."""
    child.said.wait("begin")
    begun = time.monotonic()
    if asked.after_s >= 0:
        time.sleep(asked.after_s)
        child.kill()
    else:
        while not child.said.ended:
            child.said.wait("\0")
    return child.end(), time.monotonic() - begun


def answer(asked: Asked) -> dict[str, object]:
    """Do what was asked for."""
    WARM.get(asked.work, load)()
    beside = Child(asked, asked.beside, traced=False) if asked.beside else None
    if beside is not None:
        beside.said.wait("done")
    traced = bool(asked.at or asked.log)
    child = Child(asked, asked.work, traced=traced)
    calls, spent_s = dict[str, int](), 0.0
    if traced:
        status, calls, spent_s = followed(child, asked)
    else:
        status, spent_s = timed(child, asked)
    child.said.take()
    other: list[str] = []
    if beside is not None:
        beside.kill()
        beside.end()
        beside.said.take()
        other = beside.said.lines
        beside.said.close()
    child.said.close()
    return {"status": status, "calls": calls, "spent_s": spent_s,
            "said": child.said.lines, "beside": other}  # fmt: skip


def main() -> None:
    """Answer until nobody asks any more."""
    load()
    print("ready", flush=True)
    for line in sys.stdin:
        print(json.dumps(answer(Asked(**json.loads(line)))), flush=True)


if __name__ == "__main__":
    main()
