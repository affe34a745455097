"""A shop in a bad night: terminals on lines of their own, and what was confirmed at them."""

from __future__ import annotations

import re
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Generator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from tests.end_to_end.pty_terminal import ROOT, PtyTerminal, program
from tests.end_to_end.shell import Shell

TONIGHT = "tests.faults.tonight"


@dataclass(slots=True)
class Night:
    """A shop, what was confirmed in it, and the machine's clock.

    Attributes:
        newer: layouts by which the programs that are started now are newer.
        number: of the job that was confirmed last.
    """

    shell: Shell
    ahead: Path
    newer: int = 0
    number: int = 0
    kept: list[str] = field(default_factory=list[str])

    def environ(self, **more: str) -> dict[str, str]:
        """For a process of this night."""
        return {"NIGHT_AHEAD": str(self.ahead), "NIGHT_NEWER": str(self.newer),
                "HOISTBOOK_LEARNER": "off", **more}  # fmt: skip

    def command(self, *argv: str, **more: str) -> subprocess.CompletedProcess[str]:
        """Run a command line as it is installed tonight."""
        return subprocess.run(
            [sys.executable, "-m", TONIGHT, "--shop", str(self.shell.shop), *argv],
            env={**self.shell.environ, **self.environ(**more)}, cwd=ROOT, capture_output=True,
            text=True, check=False, timeout=120,
        )  # fmt: skip

    def does(self, *argv: str) -> str:
        """Run one that must go through."""
        ran = self.command(*argv)
        assert ran.returncode == 0, ran
        return ran.stdout

    @contextmanager
    def terminals(self) -> Generator[tuple[PtyTerminal, PtyTerminal]]:
        """The floor and a bay, each on a line of its own."""
        with ExitStack() as stack:
            at = [
                stack.enter_context(program(
                    self.shell.shop, "open", "--as", badge, module=TONIGHT,
                    NIGHT_AHEAD=str(self.ahead), NIGHT_NEWER=str(self.newer),
                    HOISTBOOK_LEARNER="off",
                ))
                for badge in ("F1", "B12")
            ]  # fmt: skip
            at[0].wait("Ruth", "F1 help")
            at[1].wait("NO CLOCK")
            yield at[0], at[1]
            for one in at:
                one.signal(signal.SIGTERM)
                assert one.ended() == 0

    def begins(self, at: PtyTerminal, text: str) -> None:
        """Somebody types a small job and sends it off."""
        at.keys("F12")
        at.wait("what is to be done")
        at.keys(text, "Enter")
        at.wait("vehicle")
        at.keys("van", "Enter")

    def confirmed(self, at: PtyTerminal, text: str) -> bool:
        """Whether the glass says that a job was taken that nobody had before."""
        found = re.search(r"([0-9]+) taken: ", at.flat)
        if found is None or int(found[1]) <= self.number:
            return False
        self.number = int(found[1])
        self.kept.append(text)
        return True

    def takes(self, at: PtyTerminal, text: str) -> None:
        """The same, and it is confirmed."""
        self.begins(at, text)
        at.wait("it waits")
        at.keys("Enter")
        at.until(lambda: self.confirmed(at, text), f"that {text} is taken")

    def sends_again(self, at: PtyTerminal, text: str) -> None:
        """What was typed before it was refused stands there still; now it is confirmed."""
        at.keys("F12")
        at.wait("what is to be done", text)
        at.keys("Enter")
        at.wait("vehicle", "van")
        at.keys("Enter")
        at.wait("it waits")
        at.keys("Enter")
        at.until(lambda: self.confirmed(at, text), f"that {text} is taken")

    def holds_all(self) -> None:
        """Each thing that was confirmed is in the ledger, once."""
        asked = "select payload ->> '$.work' from ledger where kind = 'job-opened'"
        with closing(sqlite3.connect(self.shell.shop)) as db:
            held = [row[0] for row in db.execute(asked)]
        assert [one for one in held if one in self.kept] == self.kept
