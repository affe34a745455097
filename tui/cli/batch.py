"""`batch`: many commands in one process, one a line, each its own transaction."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Generator, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from store.edges.reading import opened_to_read
from store.trouble import Refused, Trouble
from tui.cli import pins as pin_ways
from tui.cli import run
from tui.cli.answer import DONE, REFUSED, Answer, encoded, shown
from tui.cli.call import Call, Terminal
from tui.cli.parse import parse
from tui.cli.usage import AS, JSON, PIN_STDIN, Argument, Command, Option, WrongUsage

LONGEST_LINE = 200_000
"""Bytes; a longer line is no command."""


def batch(call: Call) -> Answer:
    path = call.typed.path("FILE")
    _prepare(call, from_stdin=str(path) == "-")
    refused = 0
    with _opened(path) as file:
        for number, line in _lines(file):
            try:
                _do(call.terminal, line)
            except (Trouble, WrongUsage) as trouble:
                refused += 1
                if not call.typed.has("go-on"):
                    return Answer((), (f"line {number}: {trouble}",), REFUSED)
                _list(call, number, str(trouble))
    _learn(call.terminal)
    return Answer((), (), REFUSED if refused else DONE)


def _learn(terminal: Terminal) -> None:
    """What the lines did teaches before the batch ends; one that stops leaves it to a learner."""
    from tui.learner import is_off, take_in

    if terminal.to_learn and not is_off():
        take_in(terminal.shop, terminal.clock)
        terminal.to_learn = False


def _prepare(call: Call, *, from_stdin: bool) -> None:
    terminal = call.terminal
    terminal.in_batch = True
    terminal.as_json = call.as_json
    terminal.badge = call.maybe_badge()
    if call.typed.has("pins"):
        terminal.pins.update(pin_ways.from_file(call.typed.path("pins")))
    if call.typed.has("pin-stdin"):
        if from_stdin:
            raise WrongUsage("batch - reads commands from standard input: give PINs with --pins.")
        terminal.pins[call.badge()] = pin_ways.piped()[0]
    _ = terminal.shop


@contextmanager
def _opened(path: Path) -> Generator[BinaryIO]:
    if str(path) == "-":
        yield sys.stdin.buffer
        return
    try:
        file = opened_to_read(path)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "cannot be read"
        raise Refused(f"{path}: {why}. Give a file with a command a line, or - .") from error
    with file:
        yield file


def _lines(file: BinaryIO) -> Iterator[tuple[int, str]]:
    """Lines that hold a command, with their numbers; each as soon as it is there.

    Raises:
        Refused: the file cannot be read any more, or is no list of commands.
    """
    number = 0
    while raw := _line(file, number := number + 1):
        text = raw.decode("utf-8", "surrogateescape")
        line = (text.removeprefix("\ufeff") if number == 1 else text).strip()
        if line and not line.startswith("#"):
            yield number, line


def _line(file: BinaryIO, number: int) -> bytes:
    try:
        raw = file.readline(LONGEST_LINE + 1)
    except OSError as error:
        raise Refused(
            f"line {number}: {error.strerror or error}. Nothing more was done."
        ) from error
    if len(raw) > LONGEST_LINE:
        raise Refused(f"line {number} is too long for a command. Nothing more was done.")
    return raw


def _do(terminal: Terminal, line: str) -> None:
    try:
        words = shlex.split(line)
    except ValueError as error:
        raise WrongUsage(f"{error}. A line is quoted as for a shell.") from error
    wanted = parse(words)
    if wanted.help or wanted.version:
        raise WrongUsage("--help and --version have no place in a batch.")
    typed = wanted.typed
    assert typed is not None
    if not typed.command.in_batch:
        raise WrongUsage(f"{typed.command.name} has no place in a batch: run it by itself.")
    if typed.has("shop"):
        raise WrongUsage("--shop belongs to the batch: hoistbook --shop FILE batch …")
    if typed.has("pin-stdin"):
        raise WrongUsage("--pin-stdin has no place in a batch: give PINs with --pins FILE.")
    found = run.answer(Call(terminal, typed))
    for each in found.lines:
        sys.stdout.write(f"{shown(each)}\n")
    sys.stdout.flush()
    if found.status != DONE:
        raise Refused("; ".join(found.faults))


def _list(call: Call, number: int, says: str) -> None:
    if call.as_json:
        sys.stdout.write(f"{encoded({'line': number, 'refused': says})}\n")
        sys.stdout.flush()
    else:
        run.complain(f"line {number}: {says}")


COMMANDS = (
    Command(
        ("batch",), "Runs commands from a file, one a line, each its own transaction.", batch,
        "batch past.txt --pins pins.txt --as F1 --go-on",
        (Argument("FILE", "the commands; - is standard input", path=True),),
        (
            Option("go-on", "", "lists what was refused and goes on; else it stops there"),
            Option("pins", "FILE", "PINs, `BADGE PIN` a line, a file that only you can read",
                   path=True),
            AS, JSON, PIN_STDIN,
        ),
        in_batch=False,
        more="A line is a command without `hoistbook`, quoted as for a shell; empty lines and "
        "those that begin with # are passed over. --as holds for lines that have none.",
    ),
)  # fmt: skip
