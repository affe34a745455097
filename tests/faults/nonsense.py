"""Nonsense: books, command lines and texts that nobody means, and some that somebody does."""

from __future__ import annotations

import re
import shlex
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from pathlib import Path
from random import Random

import pytest

from store.actions import acting
from store.edges.showable import showable
from store.edges.workbook import read as workbook_read
from store.edges.workbook.model import check
from tests.faults.row import Outcome, Row, Tries
from tests.store.made import busy_shop
from tests.tui.cli.made import new_line, run
from tests.tui.cli.reading_lines import reading_lines
from tests.tui.cli.steering import steering
from tests.tui.cli.test_refusals import lines_of
from tui import now
from tui.cli import answer, batch, commands, parse, refusals, typed
from tui.cli import run as running

STARTER = Path(__file__).parents[2] / "demo" / "starter.toml"
BITS = (
    "1e309", "nan", "-1", "9" * 30, '"', "'''", "[[", "]", "{", "}", "=", ".", ",", "\n", "\r", "#",
    "\0", "\u202e", "true", "2026-10-10", "name", "hours", "-0", "1_0",
)  # fmt: skip
MEANT = (
    ('name = "', 'name = "\\u001b[2J'), ('name = "', 'name = "\x9b31m'),
    ("hours = ", "hours = 1" + "0" * 400 + " #"), ('text = "', 'text = "\\u0000'),
)  # fmt: skip
"""What somebody puts there on purpose."""
WORDS = (
    "", " ", "--", "-", "--as", "--at", "--json", "=", "a=", "1e309", "-0", "nan", "1" + "0" * 400,
    "0000-01-01", "9999-12-31", "2026-13", "2026-02-30", "0001-01-01T00:00", "1001", "1001.1",
    "T1", "OWN", "\udcff", "\u202eabc", "e\u0301" * 200, "\U000e0041", "\ufffe", "\x9b31m",
    "\x1b[2J", "a\nb", "%s", "'; drop table job; --", "x" * 5000,
)  # fmt: skip
CODED = re.compile(r"\\x9b|\\u009b")


def _counted(tries: Tries, one: Callable[[], tuple[bool, str | None]]) -> Outcome:
    """Try until it was often enough: whether it counts, and what was not as it must be."""
    tried = beside = 0
    wrong: list[str] = []
    while tried < tries.times:
        counts, says = one()
        tried, beside = tried + counts, beside + (not counts)
        if says is not None:
            wrong.append(says)
    return Outcome(tried, beside, len(wrong), tried - len(wrong), tuple(wrong[:3]))


def _no_faults(_: object) -> tuple[()]:
    return ()


def books(tries: Tries) -> Outcome:
    """Spoil the starter book and look it through."""
    text, dice = STARTER.read_text("utf-8"), tries.dice

    def one() -> tuple[bool, str | None]:
        spoilt = _spoilt(text, dice)
        try:
            faults = check(spoilt)
        except Exception as error:  # whatever it is, it is no fault in a line
            return True, f"{type(error).__name__}: {error}"[:200]
        steers = not all(map(showable, faults))
        through = not faults and ("\\u001b" in spoilt or "\x9b" in spoilt or "\\u0000" in spoilt)
        return bool(faults) or through, "a text that steers came through" if (
            steers or through
        ) else None

    with pytest.MonkeyPatch.context() as patch:
        if not tries.protected:
            patch.setattr(workbook_read, "put_right", _no_faults)
        return _counted(tries, one)


def _spoilt(text: str, dice: Random) -> str:
    if dice.random() < 0.3:
        return text.replace(*dice.choice(MEANT), 1)
    for _ in range(dice.randint(1, 4)):
        at = dice.randrange(len(text))
        text = text[:at] + dice.choice(BITS) + text[at + dice.randint(0, 30) :]
    return text


def _nothing(*_: object) -> None: ...


def _a_number(text: str, _: str) -> float:
    return float(text)


def _a_whole_number(text: str, _: str) -> int:
    return int(text)


def _take_out(patch: pytest.MonkeyPatch) -> None:
    """What stands before a traceback where somebody types nonsense."""
    patch.setattr(parse, "_refuse_value", _nothing)
    patch.setattr(typed, "number", _a_number)
    patch.setattr(typed, "whole", _a_whole_number)
    patch.setattr(refusals, "in_words", _nothing)
    patch.setattr(acting, "CANNOT_BE", ())


def lines(tries: Tries) -> Outcome:
    """Type nonsense behind every command, at a shop with a job."""
    line, dice = new_line(tries.folder), tries.dice
    line.take()
    every = [one for one in commands.every() if one.name not in ("demo", "open", "browser")]

    def one() -> tuple[bool, str | None]:
        command = dice.choice(every)
        options = [f"--{each.name}" for each in command.options]
        argv = [*command.words, *dice.choices([*WORDS, *options], k=dice.randint(0, 6))]
        if dice.random() < 0.6 and (nearly := lines_of(command)):
            who = ["--as", "OWN"] if command.option("as") else []
            pin = ["--pin-stdin"] if command.option("pin-stdin") else []
            argv = [*dice.choice(nearly), *who, *pin]
        before = line.events()
        try:
            ran = line.run(*argv)
        except Exception as error:  # a traceback, had it been a process
            return True, f"{argv}: {type(error).__name__}: {error}"[:200]
        if not ran.status:
            return False, None
        clean = ran.err.count("\n") >= 1 and all(map(str.isprintable, ran.err.splitlines()))
        whole = line.events() == before or command.name == "batch"
        return True, None if clean and whole else f"{argv}: {ran}"[:200]

    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tries.folder)
        if not tries.protected:
            _take_out(patch)
        return _counted(tries, one)


def texts(tries: Tries) -> Outcome:
    """Read a shop whose every text steers a terminal."""
    world = busy_shop(tries.folder)
    at, path = world.now, world.shop.path
    world.shop.close()
    steering(path)
    with closing(sqlite3.connect(path)) as db:
        jobs = [str(one[0]) for one in db.execute("select job from job order by job")]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(now, "machine_now", lambda: at)
        if not tries.protected:
            patch.setattr(answer, "STEERING", re.compile(r"(?!)"))
            patch.setattr(running, "shown", str)
            patch.setattr(batch, "shown", str)
        asked = _asked(tries, jobs)
        return _counted(tries, lambda: _read(path, next(asked)))


def _asked(tries: Tries, jobs: Sequence[str]) -> Iterator[str]:
    """Lines that read, in any order, again and again; not the slow ones, nor those to files."""
    slow = ("month", "learned", "hindsight", "history", "estimate", "prices", "helps")
    every = [
        one for one in reading_lines(tries.folder, "", jobs)
        if str(tries.folder) not in one and not one.startswith(slow)
    ]  # fmt: skip
    while True:
        yield from tries.dice.sample(every, len(every))


def _read(path: Path, line: str) -> tuple[bool, str | None]:
    ran = run("--shop", str(path), *shlex.split(line))
    raw = not all(map(showable, f"{ran.out}{ran.err}".split("\n")))
    return raw or CODED.search(ran.out) is not None, f"{line}: it steers" if raw else None


ROWS = (
    Row(
        kind="spoilt work books",
        made="signs of the starter book are changed, or a code for the terminal or a number of 401 "
        "digits is put in",
        known="the book has a fault now: it is named, or a code came through",
        without="the look at every text and number before what they mean: codes reach the shop, "
        "numbers end in a traceback",
        run=books, quick=25, long=4_000, bare=25,
    ),
    Row(
        kind="spoilt command lines",
        made="one value is spoilt in a line that is right, or up to six words of nonsense follow "
        "a command",
        known="the command refused them; the ledger is as long as before",
        without="the looks at values and numbers when a line is read, and the words for what no "
        "entry can hold: some lines end in a traceback",
        run=lines, quick=25, long=3_000, bare=120,
    ),
    Row(
        kind="texts that steer a terminal",
        made="escapes, C1 codes and turned writing are put behind every text in a shop's file, "
        "past the program",
        known="the answer shows such a text, by its code",
        without="the last look at what is printed: the codes reach the terminal raw",
        run=texts, quick=10, long=600, bare=10,
    ),
)  # fmt: skip
