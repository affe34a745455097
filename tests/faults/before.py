"""Somebody before a running terminal while a fault comes and goes: what is said, what is kept."""

from __future__ import annotations

import asyncio
import io
import sqlite3
from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import (
    AbstractContextManager,
    asynccontextmanager,
    closing,
    nullcontext,
    redirect_stderr,
    redirect_stdout,
    suppress,
)
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from store.file.shop import Shop
from store.file.verify import verify
from store.trouble import Trouble
from tests.faults.row import Outcome, Tries
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import Pen, worked_on
from tui.cli.run import main
from tui.parts.where import BAY, FLOOR

SMALL = ("small", "--text", "lamp", "--vehicle", "van", "--as", "F01")
BROKEN = "ended with a traceback"
"""What stands for a sentence where the program ended."""


@dataclass(slots=True)
class Before:
    """A shop, a terminal on it, and what went wrong there.

    Attributes:
        at: the terminal.
        path: the shop file.
        kept: what was acknowledged: the vehicle of each small job.
        wrong: what was not as it must be.
        said: sentences of the fault, as the terminal and the command line said them.
    """

    at: Terminal
    shop: Shop
    path: Path
    pen: Pen
    dice: Random
    kept: list[str] = field(default_factory=list[str])
    wrong: list[str] = field(default_factory=list[str])
    said: list[str] = field(default_factory=list[str])

    async def take(self, text: str) -> bool:
        """Take a small job by keys; whether it was acknowledged."""
        await self.at.keys("F12", text, "Enter", "van", "Enter")
        await self._enter()
        return self._acknowledged(text)

    async def _enter(self) -> None:
        """Answer what is asked; where the form was left there is nothing to answer."""
        if self.at.screen.prompt is not None:
            await self.at.keys("Enter")

    def _acknowledged(self, text: str) -> bool:
        done = " taken" in self.at.said and not self.at.said.startswith("!")
        if done:
            self.kept.append(text)
        return done

    async def refused(self, text: str, *words: str) -> None:
        """Do the same; it must be refused with a sentence that holds the words."""
        if await self.take(text):
            self.wrong.append("it was acknowledged while the fault lasted")
        self.judge(self.at.said.removeprefix("!").strip(), *words)

    def commanded(self, *words: str, argv: tuple[str, ...] = ()) -> None:
        """Run a command beside; it must be refused in one line that holds the words."""
        found = command(self.path, *(argv or SMALL))
        if found.startswith("0 "):
            self.wrong.append(f"the command went through: {found}")
        self.judge(found[2:], *words)

    def judge(self, sentence: str, *words: str) -> None:
        """Take a sentence down; it must be one line, and hold the words."""
        self.said.append(sentence.replace(str(self.path.parent), "…"))
        if not sentence or not sentence.isprintable():
            self.wrong.append(f"no sentence: {sentence!r}")
        self.wrong += [f"{word!r} is not in {sentence!r}" for word in words if word not in sentence]

    async def again(self, text: str) -> None:
        """After the fault: what was typed is there still, and goes through on the same terminal."""
        await self.at.look_again()
        asked = await self.at.keys("F12") + await self.at.keys("Enter")
        if "van" not in asked or text not in asked:
            self.wrong.append(f"what was typed is gone: {asked}")
        await self.at.keys("Enter")
        await self._enter()
        if not self._acknowledged(text):
            self.wrong.append(f"the terminal did not go on: {self.at.said}")

    def whole(self, path: Path | None = None) -> bool:
        """Whether the file agrees with itself and holds what was acknowledged, each once."""
        path = path or self.path
        try:
            found = verify(path)
            if not found.ok:
                self.wrong.append(found.says)
            held = texts(path)
        except (Trouble, sqlite3.Error) as error:
            self.wrong.append(f"{path.name} cannot be read: {error}")
            return False
        self.wrong += [f"{one} is there {held.count(one)} times" for one in self.kept
                       if held.count(one) != 1]  # fmt: skip
        return not self.wrong


def texts(path: Path) -> list[str]:
    """What is to be done in the small jobs of a file."""
    asked = "select payload ->> '$.work' from ledger where kind = 'job-opened'"
    with closing(sqlite3.connect(path)) as db:
        return [str(row[0]) for row in db.execute(asked)]


def command(path: Path, *argv: str) -> str:
    """Run a command line in this process; its status and what it printed."""
    out = io.StringIO()
    try:
        with redirect_stdout(out), redirect_stderr(out):
            status = main(["--shop", str(path), *argv])
    except Exception as error:
        return f"9 {BROKEN}: {error!r}"
    return f"{status} {out.getvalue().strip()}"


@asynccontextmanager
async def before(tries: Tries, folder: Path) -> AsyncGenerator[Before]:
    """Open the bay or the floor on a fresh shop in a folder."""
    pen, path = Pen(), folder / "made.shop"
    shop = worked_on(path, pen)
    floor = tries.dice.random() < 0.5
    first, badge = (FLOOR, "F01") if floor else (BAY, "B12")
    try:
        async with terminal(shop, pen.now, first=first, badge=badge) as at:
            await at.look_again()
            yield Before(at, shop, path, pen, tries.dice)
    finally:
        with suppress(Trouble, sqlite3.Error):
            shop.close()


Scene = Callable[[Before], Awaitable[bool]]
"""Makes a fault and ends it; answers whether its witness saw it happen."""


Place = Callable[[Path], AbstractContextManager[Path]]
"""Gives the folder for the shop file, made in an empty one."""


def run(tries: Tries, scene: Scene, place: Place = nullcontext) -> Outcome:
    """Play a scene as often as asked, each time in a fresh folder."""
    outcomes: list[Outcome] = []
    for n in range(tries.times):
        made = tries.folder / str(n)
        made.mkdir()
        with place(made) as folder:
            outcomes.append(asyncio.run(played(tries, scene, folder)))
    return total(outcomes)


async def played(tries: Tries, scene: Scene, folder: Path) -> Outcome:
    """Play a scene once; a program that ends with a traceback is no recovery."""
    happened, wrong, said = True, [BROKEN], list[str]()
    try:
        with redirect_stderr(io.StringIO()):  # a traceback is counted, not printed
            async with before(tries, folder) as here:
                wrong, said = here.wrong, here.said
                happened = await scene(here)
                here.whole()
    except Exception as error:  # a terminal that breaks off is what is counted here
        wrong = [*wrong, f"{BROKEN}: {type(error).__name__}: {str(error)[:200]}"]
    notes = tuple(dict.fromkeys([*wrong, *(f"says: {one}" for one in said)]))
    if not happened:
        return Outcome(0, 1, notes=notes)
    return Outcome(1, 0, int(bool(wrong)), int(not wrong), notes)


def total(outcomes: list[Outcome]) -> Outcome:
    """Add up."""
    return Outcome(
        sum(one.tried for one in outcomes), sum(one.beside for one in outcomes),
        sum(one.lost for one in outcomes), sum(one.recovered for one in outcomes),
        tuple(dict.fromkeys(note for one in outcomes for note in one.notes)),
    )  # fmt: skip
