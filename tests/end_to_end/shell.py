"""The real program in a process of its own."""

from __future__ import annotations

import atexit
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from tests.end_to_end import split

TOP = Path(__file__).resolve().parents[2]
PIN = "2468"
PROGRAM = (sys.executable, "-m", "tui")
NARROW = (
    "HOISTBOOK_SHOP", "HOISTBOOK_BADGE", "HOISTBOOK_ASCII", "NO_COLOR", "PYTHONIOENCODING",
    "PYTHONDONTWRITEBYTECODE",  # what one process has read, the next need not
)  # fmt: skip


def environment(**more: str) -> dict[str, str]:
    """The environment without what would get in from outside."""
    kept = {name: value for name, value in os.environ.items() if name not in NARROW}
    return {**kept, "PYTHONPATH": str(TOP), **more}


@dataclass(frozen=True, slots=True)
class Shell:
    """A shop file and processes that work on it.

    Attributes:
        before: words before the program's own, that start it otherwise.
        fresh: start it from nothing, as a shell does: slow, for what only that can show.
    """

    shop: Path
    before: tuple[str, ...] = ()
    environ: dict[str, str] = field(default_factory=environment)
    fresh: bool = False

    def run(
        self, *argv: str | bytes, stdin: str = "", stdout: int = subprocess.PIPE
    ) -> subprocess.CompletedProcess[str]:
        """Run a command line in a process of its own."""
        if not self.fresh and not self.before and stdout == subprocess.PIPE:
            return split.run(("--shop", str(self.shop), *argv), self.environ, stdin)
        words: Sequence[str | bytes] = (*self.before, *PROGRAM, "--shop", str(self.shop), *argv)
        return subprocess.run(
            words, input=stdin, stdout=stdout, stderr=subprocess.PIPE, text=True, check=False,
            env=self.environ, cwd="/", timeout=120, encoding="utf-8",
        )  # fmt: skip

    def does(self, *argv: str, pin: bool = False) -> Any:
        """Run one that must go through; return its JSON."""
        more = ("--pin-stdin",) if pin else ()
        ran = self.run(*argv, "--json", *more, stdin=f"{PIN}\n")
        assert (ran.returncode, ran.stderr) == (0, ""), (argv, ran)
        return json.loads(ran.stdout)

    def refused(self, *argv: str | bytes, stdin: str = "") -> str:
        """Run one that must be refused in one line; return status and line."""
        ran = self.run(*argv, stdin=stdin)
        assert ran.returncode in (1, 2), (argv, ran)
        assert ran.stdout == "", (argv, ran)
        assert ran.stderr.count("\n") == 1, (argv, ran)
        return f"{ran.returncode} {ran.stderr.strip()}"

    def batch(self, folder: Path, text: str, *more: str) -> subprocess.CompletedProcess[str]:
        """Run lines as a batch, everybody's PIN known."""
        pins = folder / "pins"
        pins.write_text("".join(f"{badge} {PIN}\n" for badge in ("O1", "F1", "B12", "B13")))
        pins.chmod(0o600)
        return self.run("batch", "-", "--pins", str(pins), *more, stdin=text)


def founded(folder: Path) -> Shell:
    """A new shop with people and the starter work book, open round the clock."""
    shell = Shell(folder / "e.shop")
    for one in _founded_once().parent.glob("e.shop*"):
        shutil.copyfile(one, folder / one.name)
    return shell


@lru_cache(maxsize=1)
def _founded_once() -> Path:
    """The file that `init` and a first batch make, once in a process of tests."""
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-test-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    shell = Shell(folder / "e.shop")
    ran = shell.run(
        "init", "--name", "Marsh Lane", "--zone", "Europe/Amsterdam", "--currency", "EUR",
        "--shift", "mon-sun 00:00-00:00", "--lift", "1:two-post:4000", "--lift",
        "2:scissor:3000", "--owner", "O1:Olga", "--rate", "90", "--pin-stdin", stdin=f"{PIN}\n",
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (0, ""), ran
    filled = shell.batch(
        folder,
        "people add F1 --name Ruth --role foreman\npeople pin F1\n"
        "people add B12 --name Ines --role technician\n"
        "people add B13 --name Tomas --role technician\npeople pin B13\n"
        f"workbook load '{TOP / 'demo' / 'starter.toml'}'\n",
        "--as", "O1",
    )  # fmt: skip
    assert (filled.returncode, filled.stderr) == (0, ""), filled
    return shell.shop
