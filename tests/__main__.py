"""All checks of this project, in the order in which they fail fastest: `python -m tests`."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent
CODE = ("store", "tui", "demo", "tests")
CHECKS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("format", ("ruff", "format", "--check", *CODE)),
    ("lint", ("ruff", "check", *CODE)),
    ("import contracts", ("importlinter",)),
    ("types (mypy)", ("mypy",)),
    ("types (pyright)", ("pyright", "--pythonpath", sys.executable)),
    # three on two cores: some wait for terminals while others reckon
    ("tests", ("pytest", "-n", "3", "--dist", "worksteal")),
)


def command(words: tuple[str, ...]) -> list[str]:
    """Return how a check is started with this very interpreter's environment."""
    if words[0] == "importlinter":
        return [
            sys.executable,
            "-c",
            "from importlinter.cli import lint_imports_command as run; run()",
        ]
    return [sys.executable, "-m", *words]


def main() -> int:
    """Run every check; stop at the first that fails.

    Returns:
        0 when all pass, else the exit status of the one that failed.
    """
    environ = {**os.environ, "OPENBLAS_NUM_THREADS": "1"}
    for name, words in CHECKS:
        print(f"== {name}", flush=True)
        status = subprocess.run(command(words), cwd=TOP, env=environ, check=False).returncode
        if status:
            print(f"== {name} failed", flush=True)
            return status
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
