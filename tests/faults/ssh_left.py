"""Who is still there of a line that fell: read from the process table, `/proc`.

Of a session are all processes that carry its `SSH_CONNECTION` in their environment (the screens,
the learner, whatever they begin), and all that sshd forked for it.
"""

from __future__ import annotations

import os
import select
import signal
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from time import monotonic
from typing import NamedTuple

PROC = Path("/proc")
PATIENCE_S = 30.0
"""How long a busy machine may take; nothing waits that long unless something is wrong."""
LOOK_S = 0.05


class Process(NamedTuple):
    """A process; `begun` tells it from a later one that was given the same number."""

    pid: int
    begun: str


def until(done: Callable[[], object], what: str, patience_s: float = PATIENCE_S) -> None:
    """Wait until something is so.

    Raises:
        AssertionError: it never was.
    """
    end = monotonic() + patience_s
    while not done():
        if monotonic() > end:
            raise AssertionError(f"waited in vain for {what}")
        select.select([], [], [], LOOK_S)


def all_pids() -> Iterator[int]:
    """Every process that there is."""
    return (int(one.name) for one in PROC.iterdir() if one.name.isdigit())


def _stat(pid: int) -> list[str]:
    """The fields of `/proc/PID/stat` after the name: state, parent, group …; see proc(5)."""
    return read(pid, "stat").decode("ascii", "replace").rpartition(")")[2].split()


def alive(pid: int) -> Process | None:
    """A process that is there and no zombie."""
    found = _stat(pid)
    return Process(pid, found[19]) if found and found[0] not in "ZX" else None


def read(pid: int, name: str) -> bytes:
    """What `/proc` tells of a process, nothing where it has ended or belongs to somebody else."""
    with suppress(OSError):
        return (PROC / str(pid) / name).read_bytes()
    return b""


def forked_by(pid: int) -> list[Process]:
    """Children of a process, and theirs."""
    parents: dict[int, list[int]] = {}
    for one in all_pids():
        found = _stat(one)
        if found:
            parents.setdefault(int(found[1]), []).append(one)
    below, found_all = [pid], list[int]()
    while below:
        children = parents.get(below.pop(), [])
        below += children
        found_all += children
    return [process for child in found_all if (process := alive(child)) is not None]


def of_session(connection: str) -> list[Process]:
    """Processes that were begun in a session.

    Args:
        connection: its `SSH_CONNECTION`.
    """
    mark = f"SSH_CONNECTION={connection}".encode()
    return [
        one for pid in all_pids()
        if mark in read(pid, "environ").split(b"\0") and (one := alive(pid)) is not None
    ]  # fmt: skip


def still_there(before: list[Process], connection: str) -> list[Process]:
    """Those of a fallen line that have not ended."""
    return [*of_session(connection), *(one for one in before if alive(one.pid) == one)]


def end(left: list[Process]) -> None:
    """End what stayed behind."""
    for one in left:
        if alive(one.pid) == one:
            with suppress(OSError):
                os.kill(one.pid, signal.SIGKILL)
