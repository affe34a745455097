"""Every command by its first word, in the order of the help; modules are imported at need."""

from __future__ import annotations

from difflib import get_close_matches
from functools import lru_cache
from importlib import import_module

from tui.cli.usage import Command, WrongUsage

SECTIONS: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    ("begin", (
        ("demo", "start"), ("init", "start"), ("open", "start"), ("browser", "browser"),
    )),
    ("look", (("floor", "look"), ("job", "look"), ("estimate", "look"), ("ledger", "look"))),
    ("what next", (
        ("needs", "needs"), ("helps", "needs"), ("why", "needs"), ("clear", "clearing"),
        ("line", "line"),
    )),
    ("the desk", (
        ("desk", "desk"), ("enquiry", "desk"), ("work", "desk"), ("customer", "desk"),
        ("book", "desk"), ("arrive", "desk"), ("vehicle", "desk"), ("qualify", "desk_words"),
        ("quote", "desk_words"), ("agree", "desk_words"), ("decline", "desk_words"),
        ("turn-away", "desk_words"), ("comeback", "desk_words"), ("quotes", "desk_words"),
        ("erase", "desk_words"),
    )),
    ("jobs", (
        ("take", "jobs"), ("small", "jobs"), ("promise", "jobs"), ("move", "places"),
        ("ready", "parts"), ("parts", "parts"), ("hire", "hires"), ("tools", "tools"),
        ("supplier", "suppliers"), ("kit", "suppliers"),
        ("supplement", "findings"), ("call", "outside"), ("ceiling", "outside"),
        ("advice", "outside"), ("outwork", "outwork"), ("close", "jobs"), ("handover", "ending"),
        ("followups", "ending"), ("record", "pages"), ("sheet", "pages"), ("dates", "dates"),
        ("note", "jobs"), ("mark", "jobs"),
    )),
    ("work", (
        ("clock", "labour"), ("sign", "steps"), ("limits", "steps"), ("finish", "phases"),
        ("hold", "phases"), ("release", "phases"), ("skip", "phases"), ("reopen", "phases"),
        ("finding", "findings"), ("assign", "assigning"), ("next", "assigning"),
    )),
    ("your day", (
        ("day", "days"), ("undo", "days"), ("correct", "days"), ("card", "card"),
        ("paper", "paper"),
    )),
    ("the shop", (
        ("lift", "places"), ("place", "places"), ("people", "people"), ("sshline", "people"),
        ("codes", "codes"),
        ("workbook", "book"), ("calendar", "settings"), ("holiday", "settings"),
        ("rate", "settings"), ("setting", "settings"), ("costs", "costs"), ("prices", "costs"),
    )),
    ("the past", (
        ("month", "month"), ("learned", "learned"), ("history", "history"),
        ("hindsight", "hindsight"),
    )),
    ("the file", (
        ("verify", "files"), ("backup", "files"), ("restore", "files"), ("batch", "batch"),
    )),
)  # fmt: skip
"""Sections of the help: first words and the module that has their commands."""

MODULES = {word: module for _, words in SECTIONS for word, module in words}


@lru_cache(maxsize=64)
def beginning(word: str) -> tuple[Command, ...]:
    """The commands that begin with a word.

    Raises:
        WrongUsage: none does.
    """
    if word not in MODULES:
        close = get_close_matches(word, MODULES, n=1, cutoff=0.6)
        hint = f"did you mean {close[0]}?" if close else "see hoistbook --help."
        raise WrongUsage(f"There is no command {word!r}: {hint}")
    every: tuple[Command, ...] = import_module(f"tui.cli.{MODULES[word]}").COMMANDS
    return tuple(one for one in every if one.words[0] == word)


def every() -> tuple[Command, ...]:
    """All commands in the order of the help."""
    return tuple(one for word in MODULES for one in beginning(word))
