"""What a command of `hoistbook` is: its words, what it takes, what it does."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.cli.answer import Answer
    from tui.cli.call import Call


class WrongUsage(Exception):
    """The command was not written as it takes it; the message says what is right."""


@dataclass(frozen=True, slots=True)
class Option:
    """One option.

    Attributes:
        name: without its two hyphens.
        value: how its value is called in the help; empty for one that takes none.
        many: it may be repeated, once a value.
        needed: the command does not go without it.
        choices: the only values it takes.
        path: it names a file, which may hold bytes that are no text.
    """

    name: str
    value: str
    says: str
    many: bool = False
    needed: bool = False
    choices: tuple[str, ...] = ()
    path: bool = False

    def shown(self) -> str:
        """How it is written: `--lift CODE`."""
        return f"--{self.name} {self.value}".rstrip()


@dataclass(frozen=True, slots=True)
class Argument:
    """One word after the command; the last one may be `many`, one after another."""

    name: str
    says: str
    needed: bool = True
    choices: tuple[str, ...] = ()
    path: bool = False
    many: bool = False


@dataclass(frozen=True, slots=True)
class Command:
    """One command.

    Attributes:
        words: `("clock", "on")`.
        says: what it does, one sentence.
        run: does it.
        example: of its use, without `hoistbook`.
        writes: it takes `--as`, `--at`, `--json` and `--pin-stdin`.
        reads: it takes `--as` and `--json`; `at` too where it can look ahead.
        in_batch: it may stand in a batch.
        more: further sentences of its help.
    """

    words: tuple[str, ...]
    says: str
    run: Callable[[Call], Answer]
    example: str
    arguments: tuple[Argument, ...] = ()
    options: tuple[Option, ...] = ()
    in_batch: bool = True
    more: str = ""

    @property
    def name(self) -> str:
        """`clock on`"""
        return " ".join(self.words)

    def option(self, name: str) -> Option | None:
        """The option of that name, those of every command included."""
        for one in (*self.options, *EVERYWHERE):
            if one.name == name:
                return one
        return None


SHOP = Option("shop", "FILE", "the shop file; else $HOISTBOOK_SHOP, else your own", path=True)
HELP = Option("help", "", "says what the command does, with an example")
VERSION = Option("version", "", "prints the version")
EVERYWHERE = (SHOP, HELP, VERSION)

AS = Option("as", "BADGE", "who does it; else the badge your SSH key carries")
AT = Option("at", "INSTANT", "when it was so, for a late entry, like 2026-10-14T10:40; else now")
JSON = Option("json", "", "answers in JSON")
PIN_STDIN = Option("pin-stdin", "", "reads the PIN from standard input, one line")
WRITING = (AS, AT, JSON, PIN_STDIN)
"""What every writing command takes."""
READER = Option("as", "BADGE", "reads as that person")
READING = (READER, JSON)
"""What every reading command takes."""
NOW = Option("at", "INSTANT", "stands for now: the file as it is, read at that moment")
