"""From the words of a command line to one command with its values.

Options may stand anywhere; those of every command and the usual ones also before the command.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches

from tui.cli import commands
from tui.cli.typed import Typed
from tui.cli.usage import EVERYWHERE, NOW, WRITING, Argument, Command, Option, WrongUsage

USUAL = {one.name: one for one in (*EVERYWHERE, *WRITING, NOW)}
"""Options whose shape is known before the command is."""


@dataclass(slots=True)
class Wanted:
    """What a command line asks for. `command` is None where it names none."""

    command: Command | None
    typed: Typed | None
    group: str | None
    help: bool
    version: bool


@dataclass(slots=True)
class _Reading:
    """A command line half read."""

    first: str | None = None
    candidates: tuple[Command, ...] = ()
    command: Command | None = None
    words: list[str] = field(default_factory=list[str])
    values: dict[str, list[str]] = field(default_factory=dict[str, list[str]])

    def option(self, name: str) -> Option | None:
        if self.command is not None:
            return self.command.option(name)
        for one in self.candidates:
            found = one.option(name)
            if found:
                return found
        return USUAL.get(name) or commands.beginning("open")[0].option(name)

    def take_word(self, word: str) -> None:
        if self.command is not None:
            self.words.append(word)
        elif self.first is None:
            self.first = word
            self.candidates = commands.beginning(word)
            if len(self.candidates) == 1 and len(self.candidates[0].words) == 1:
                self.command = self.candidates[0]
        else:
            self._take_second(word)

    def _take_second(self, word: str) -> None:
        for one in self.candidates:
            if one.words[1:] == (word,):
                self.command = one
                return
        self.command = self.alone()
        if self.command is None or not self.command.arguments:
            raise WrongUsage(f"{self.first} goes with one of {self.seconds()}, not {word!r}.")
        self.words.append(word)

    def alone(self) -> Command | None:
        """The candidate that is a command by its first word alone."""
        return next((one for one in self.candidates if len(one.words) == 1), None)

    def seconds(self) -> str:
        return ", ".join(one.words[1] for one in self.candidates if len(one.words) > 1)


def parse(argv: Sequence[str]) -> Wanted:
    """Read a command line.

    Raises:
        WrongUsage: it is none; says what is right.
    """
    reading = _Reading()
    rest = list(argv)
    while rest:
        word = rest.pop(0)
        if word == "--":
            for each in rest:
                reading.take_word(each)
            break
        if word in ("-h", "-?"):
            word = "--help"
        if word.startswith("--"):
            _take_option(reading, word[2:], rest)
        elif word.startswith("-") and len(word) > 1 and not _negative(word):
            raise WrongUsage(f"There is no option {word}: options begin with two hyphens.")
        else:
            reading.take_word(word)
        if "help" in reading.values:
            _find_more(reading, rest)
            break
    return _wanted(reading)


def _negative(word: str) -> bool:
    return word[1].isdecimal() or word[1] == "."


def _find_more(reading: _Reading, rest: list[str]) -> None:
    """After `--help` only the words that name the command still count."""
    for word in rest:
        if reading.command is None and not word.startswith("-"):
            reading.take_word(word)


def _take_option(reading: _Reading, text: str, rest: list[str]) -> None:
    name, sign, value = text.partition("=")
    option = reading.option(name)
    if option is None:
        raise WrongUsage(_no_option(reading, name))
    if option.value and not sign:
        if not rest or (rest[0].startswith("--") and reading.option(rest[0][2:].split("=")[0])):
            raise WrongUsage(f"--{name} lacks its value: {option.shown()}.")
        value = rest.pop(0)
    elif sign and not option.value:
        raise WrongUsage(f"--{name} takes no value: leave {value!r} out.")
    if name in reading.values and not option.many:
        raise WrongUsage(f"--{name} is there twice: give it once.")
    reading.values.setdefault(name, []).append(value)


def _no_option(reading: _Reading, name: str) -> str:
    if reading.command is None and reading.first is None:
        return f"There is no option --{name} before the command. Write the command first."
    known = [one.name for each in reading.candidates for one in each.options]
    known += [one.name for one in EVERYWHERE]
    close = get_close_matches(name, known, n=1, cutoff=0.5)
    where = reading.command.name if reading.command else reading.first
    hint = f"did you mean --{close[0]}?" if close else f"see hoistbook {where} --help."
    return f"{where} has no option --{name}: {hint}"


def _wanted(reading: _Reading) -> Wanted:
    command = reading.command or reading.alone()
    wants_help = "help" in reading.values
    if wants_help or "version" in reading.values:
        group = reading.first if command is None else None
        return Wanted(command, None, group, wants_help, "version" in reading.values)
    if reading.first is None:
        command = commands.beginning("open")[0]
    if command is None:
        raise WrongUsage(f"{reading.first} goes with one of {reading.seconds()}.")
    return Wanted(command, _typed(command, reading), None, False, False)


def _typed(command: Command, reading: _Reading) -> Typed:
    values = dict(reading.values)
    for name, given in values.items():
        option = command.option(name)
        if option is None:
            raise WrongUsage(_no_option(reading, name))
        for value in given:
            _refuse_value(f"--{name}", option, value)
    _place_words(command, reading.words, values)
    for option in command.options:
        if option.needed and option.name not in values:
            raise WrongUsage(
                f"{command.name} lacks {option.shown()}. Like: hoistbook {command.example}"
            )
    return Typed(command, values)


def _place_words(command: Command, words: list[str], values: dict[str, list[str]]) -> None:
    for argument, word in zip(command.arguments, words, strict=False):
        _refuse_value(argument.name, argument, word)
        values[argument.name] = [word]
    last = command.arguments[-1] if command.arguments else None
    if last is not None and last.many:
        for word in words[len(command.arguments) :]:
            _refuse_value(last.name, last, word)
            values[last.name].append(word)
    elif len(words) > len(command.arguments):
        extra = words[len(command.arguments)]
        raise WrongUsage(
            f"{command.name} does not take {extra!r}. Like: hoistbook {command.example}"
        )
    for argument in command.arguments[len(words) :]:
        if argument.needed:
            raise WrongUsage(
                f"{command.name} lacks {argument.name}. Like: hoistbook {command.example}"
            )


def _refuse_value(shown: str, taker: Option | Argument, value: str) -> None:
    if isinstance(taker, Option) and not taker.value:
        return
    if not value.strip():
        raise WrongUsage(f"{shown} is empty: give it a value, or leave it out.")
    if taker.choices and value not in taker.choices:
        raise WrongUsage(f"{shown} is one of {', '.join(taker.choices)}, not {value!r}.")
    if not taker.path:
        _refuse_no_text(shown, value)


def _refuse_no_text(shown: str, value: str) -> None:
    try:
        value.encode()
    except UnicodeEncodeError as error:
        raise WrongUsage(f"{shown} holds bytes that are no text. Type it anew.") from error
