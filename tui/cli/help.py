"""Help texts: everything, a group of commands, or one command with its options and an example."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tui.cli import commands
from tui.cli.usage import EVERYWHERE, Argument, Command, Option
from tui.words import wrapped

WIDTH = 80


def overall() -> Iterator[str]:
    """Every command with what it does."""
    yield "hoistbook: lifts, jobs and hours of an independent workshop, in a terminal."
    yield ""
    yield "  hoistbook [--shop FILE] COMMAND …     `hoistbook` alone opens the screens."
    for title, words in commands.SECTIONS:
        yield ""
        yield title
        for word, _ in words:
            for one in commands.beginning(word):
                yield from _row(one.name, one.says, 22)
    yield ""
    yield "for every command"
    for option in EVERYWHERE:
        yield from _row(option.shown(), option.says, 22)
    yield ""
    yield "`hoistbook COMMAND --help` shows its options and an example."
    yield "Exit status: 0 done, 1 refused (nothing was changed), 2 wrong usage."


def of_group(word: str) -> Iterator[str]:
    """The commands that share a first word."""
    for one in commands.beginning(word):
        yield from _row(f"hoistbook {one.name}", one.says, 30)
    yield ""
    yield f"`hoistbook {word} … --help` shows options and an example."


def of_command(command: Command) -> Iterator[str]:
    """One command."""
    yield from wrapped(f"hoistbook {command.name} {_takes(command)}".rstrip(), WIDTH)
    yield ""
    yield from wrapped(f"{command.says} {command.more}".rstrip(), WIDTH)
    others = [one for one in commands.beginning(command.words[0]) if one is not command]
    if command.arguments:
        yield ""
        for argument in command.arguments:
            yield from _row(argument.name, argument.says, 24)
    yield ""
    for option in (*command.options, *EVERYWHERE):
        yield from _row(_shown(option), option.says, 24)
    yield ""
    yield f"example: hoistbook {command.example}"
    if len(command.words) == 1 and others:
        yield ""
        yield from wrapped(f"see also: {', '.join(one.name for one in others)}", WIDTH)


def _takes(command: Command) -> str:
    words = [_word(one) for one in command.arguments]
    words += [f"{one.shown()}{'…' if one.many else ''}" for one in command.options if one.needed]
    more = any(not one.needed for one in command.options)
    return " ".join([*words, *(["[options]"] if more else [])])


def _word(argument: Argument) -> str:
    name = f"{argument.name}…" if argument.many else argument.name
    return name if argument.needed else f"[{name}]"


def _shown(option: Option) -> str:
    return f"{option.shown()}{' …' if option.many else ''}"


def _row(left: str, says: str, width: int) -> Iterator[str]:
    lines: Sequence[str] = wrapped(says, WIDTH - width - 2)
    first = f"  {left:<{width - 2}}"
    if len(left) > width - 3:
        yield first.rstrip()
        first = " " * width
    yield f"{first}{lines[0] if lines else ''}".rstrip()
    yield from (" " * width + line for line in lines[1:])
