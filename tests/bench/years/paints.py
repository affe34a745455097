"""The whole program on a terminal line, from its start to the first useful paint:

    python -m tests.bench.years.paints FILE NAME

prints a JSON object: processor seconds of the program, and its peak memory in MB.
"""

from __future__ import annotations

import json
import resource
import sys
from pathlib import Path

from tests.end_to_end.pty_terminal import program

PAINTS: dict[str, tuple[tuple[str, ...], str]] = {
    "start to the floor painted": (("--view", "floor"), "wants somebody"),
    "start to a signed-in bay painted": (("--view", "bay", "--as", "B12"), "undo last"),
}


def painted(path: Path, name: str) -> dict[str, float]:
    """Start it, wait for its words, end it."""
    arguments, words = PAINTS[name]
    with program(path, "open", *arguments, HOISTBOOK_LEARNER="off") as terminal:
        terminal.wait(words)
        status = Path(f"/proc/{terminal.child.pid}/status").read_text()
        peak = int(status.partition("VmHWM:")[2].split()[0])
        terminal.child.terminate(force=True)
        terminal.child.wait()
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return {"s": used.ru_utime + used.ru_stime, "mb": peak / 1024}


if __name__ == "__main__":
    print(json.dumps(painted(Path(sys.argv[1]), sys.argv[2])))
