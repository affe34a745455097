"""A shop for the tests of the command line, and a way to run command lines in this process.

The shop is open round the clock, so that no test depends on the hour at which it runs.
"""

from __future__ import annotations

import io
import json
import shutil
import sqlite3
import sys
import tempfile
from contextlib import closing, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from tui.cli.run import main

BOOK = Path(__file__).parents[2] / "store" / "actions" / "book.toml"
PIN = "2468"
PINS = "".join(f"{badge} {PIN}\n" for badge in ("OWN", "FOR", "T1", "T2", "APP"))
FOUNDING = (
    "init", "--name", "Marsh Lane", "--zone", "Europe/Amsterdam", "--currency", "EUR",
    "--shift", "mon-sun 00:00-00:00", "--lift", "1:two-post:4000", "--lift", "2:scissor:3000",
    "--owner", "OWN:Olga", "--rate", "90", "--pin-stdin",
)  # fmt: skip
FILLING = f"""
# people of every role, and a book with every kind of gate
people add FOR --name Ruth --role foreman
people add T1 --name Ines --role technician
people add T2 --name Tomas --role technician
people add APP --name Lev --role technician --experience "apprentice 1"
people pin FOR
people pin T1
people pin T2
people pin APP
workbook load "{BOOK}"
lift look 1
place add Y --kind yard
"""


@dataclass(frozen=True, slots=True)
class Ran:
    """What a command line came to."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The one document that it printed."""
        return json.loads(self.out)


def run(*argv: str, stdin: str = "") -> Ran:
    """Run a command line in this process."""
    out, err, before = io.StringIO(), io.StringIO(), sys.stdin
    sys.stdin = io.TextIOWrapper(io.BytesIO(stdin.encode("utf-8", "surrogateescape")))
    try:
        with redirect_stdout(out), redirect_stderr(err):
            status = main(argv)
    finally:
        sys.stdin = before
    return Ran(status, out.getvalue(), err.getvalue())


@dataclass(frozen=True, slots=True)
class Line:
    """A command line at a shop."""

    path: Path

    def run(self, *argv: str, stdin: str = f"{PIN}\n") -> Ran:
        """Run a command line at this shop."""
        return run("--shop", str(self.path), *argv, stdin=stdin)

    def does(self, *argv: str, stdin: str = f"{PIN}\n") -> Any:
        """Run a command line that must go through; return its JSON."""
        ran = self.run(*argv, "--json", stdin=stdin)
        assert (ran.status, ran.err) == (0, ""), (argv, ran)
        return ran.json

    def acts(self, badge: str, *argv: str) -> Any:
        """The same by somebody with their PIN."""
        return self.does(*argv, "--as", badge, "--pin-stdin")

    def refused(self, *argv: str, stdin: str = f"{PIN}\n") -> str:
        """Run one that must be refused, with one line and nothing written; return the line."""
        before = self.events()
        ran = self.run(*argv, stdin=stdin)
        assert ran.status in (1, 2), (argv, ran)
        assert ran.out == "", (argv, ran)
        assert ran.err.count("\n") == 1, (argv, ran)
        assert ran.err.endswith("\n"), (argv, ran)
        assert "Traceback" not in ran.err, (argv, ran)
        assert self.events() == before, (argv, ran)
        return f"{ran.status} {ran.err.strip()}"

    def events(self) -> int:
        """How long the ledger is."""
        with closing(sqlite3.connect(self.path)) as db:
            return int(db.execute("select count(*) from ledger").fetchone()[0])

    def take(self, *more: str) -> str:
        """Take a job on lift 1 and return its number."""
        return str(
            self.acts("FOR", "take", "--operation", "TC", "--family", "B4-M-F", "--vehicle",
                      "panel van", "--lift", "1", "--mass", "2000", *more)["job"]
        )  # fmt: skip


def new_line(folder: Path) -> Line:
    """A fresh copy of the shop."""
    path = folder / "line.shop"
    shutil.copy(_template(), path)
    return Line(path)


def pins_file(folder: Path, text: str = PINS, mode: int = 0o600) -> Path:
    """A file of PINs."""
    path = folder / "pins"
    path.write_text(text, "utf-8")
    path.chmod(mode)
    return path


@lru_cache(maxsize=1)
def _template() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-test-"))
    line = Line(folder / "template.shop")
    founded = line.run(*FOUNDING)
    assert (founded.status, founded.err) == (0, ""), founded
    (folder / "fill.txt").write_text(FILLING, "utf-8")
    filled = line.run(
        "batch", str(folder / "fill.txt"), "--pins", str(pins_file(folder)), "--as", "OWN"
    )
    assert (filled.status, filled.err) == (0, ""), filled
    return line.path


@pytest.fixture(name="line")
def line_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Line:
    """A command line at a fresh shop; nothing of the machine's own setting gets in,
    and a file with a name of its own stays in the test's folder."""
    for name in ("HOISTBOOK_SHOP", "HOISTBOOK_BADGE", "HOISTBOOK_ASCII"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    return new_line(tmp_path)
