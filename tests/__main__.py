"""All checks of this project, in the order in which they fail fastest: `python -m tests`."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
CODE = ("store", "tui", "demo", "tests")
Check = tuple[str, tuple[str, ...]]
CHECKS: tuple[tuple[Check, ...], ...] = (
    (
        ("format", ("ruff", "format", "--check", *CODE)),
        ("lint", ("ruff", "check", *CODE)),
    ),
    (
        ("import contracts", ("importlinter",)),
        ("types (mypy)", ("mypy",)),
        # what this has compiled no worker compiles again: in a fresh clone that is half a minute
        ("all tests can be read", ("pytest", "--collect-only", "-p", "no:cacheprovider")),
        ("types (pyright)", ("pyright", "--pythonpath", sys.executable)),
    ),
    # three on two cores: some wait for terminals while others reckon
    (("tests", ("pytest", "-n", "3", "--dist", "worksteal")),),
)
"""One row after another; what stands in one row runs at the same time, each on a core."""
MEMORY = Path("/dev/shm")
ROOM = 2 * 2**30
"""Bytes that the shops of the tests may take at once, with much to spare."""


def command(words: tuple[str, ...]) -> list[str]:
    """Return how a check is started with this very interpreter's environment."""
    if words[0] == "importlinter":
        return [
            sys.executable,
            "-c",
            "from importlinter.cli import lint_imports_command as run; run()",
        ]
    return [sys.executable, "-m", *words]


def together(row: tuple[Check, ...], environ: Mapping[str, str]) -> int:
    """Run the checks of a row at the same time; print what each has said, one after another.

    Of one that passes the last line is enough.

    Returns:
        0 when all pass, else the exit status of the first that failed.
    """
    output = subprocess.PIPE if len(row) > 1 else None
    running = [
        (name, subprocess.Popen(command(words), cwd=TOP, env=environ, stdout=output,
                                stderr=subprocess.STDOUT if output else None))
        for name, words in row
    ]  # fmt: skip
    worst = 0
    for name, process in running:
        print(f"== {name}", flush=True)
        said, _ = process.communicate()
        lines = (said or b"").splitlines(keepends=True)
        sys.stdout.buffer.writelines(lines if process.returncode else lines[-1:])
        if process.returncode:
            print(f"== {name} failed", flush=True)
        worst = worst or process.returncode
    sys.stdout.flush()
    return worst


def memory() -> Path | None:
    """Where files are kept without a disk, if there is room: every act waits for its disk."""
    there = MEMORY.is_dir() and os.access(MEMORY, os.W_OK)
    return MEMORY if there and shutil.disk_usage(MEMORY).free > ROOM else None


def main() -> int:
    """Run every check; stop at the first row in which one fails.

    Returns:
        0 when all pass, else the exit status of the one that failed.
    """
    with tempfile.TemporaryDirectory(prefix="hoistbook-", dir=memory()) as folder:
        Path(folder).chmod(0o711)  # some tests go on as a user who may do less
        environ = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "TMPDIR": folder}
        environ.pop("PYTHONDONTWRITEBYTECODE", None)  # hundreds of processes read the same modules
        for row in CHECKS:
            status = together(row, environ)
            if status:
                return status
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
