"""From a command line to an exit status: parse, run, print; every refusal becomes one line."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import suppress

from store.trouble import Trouble
from tui.cli.answer import DONE, REFUSED, WRONG, Answer, shown
from tui.cli.call import Call, here
from tui.cli.parse import Wanted, parse
from tui.cli.typed import Typed
from tui.cli.usage import WrongUsage

INTERRUPTED = 130
LONGEST_LINE = 2000


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit status."""
    _find_streams()
    try:
        status = _main(sys.argv[1:] if argv is None else argv)
        sys.stdout.flush()
        return status
    except BrokenPipeError:
        _give_up_output()
        return DONE
    except OSError as error:
        _give_up_output()
        complain(f"The answer could not be printed: {error.strerror or error}.")
        return REFUSED
    except KeyboardInterrupt:
        return INTERRUPTED


def _find_streams() -> None:
    """Streams that were closed by whoever started us are there all the same, empty.

    A terminal that cannot write a sign gets its code instead: an answer is never lost over it.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: PTH123, SIM115
    reconfigure = getattr(sys.stdout, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="backslashreplace")


def _main(argv: Sequence[str]) -> int:
    try:
        wanted = parse(argv)
        if wanted.help or wanted.version:
            return _print(_told(wanted))
        assert wanted.typed is not None
        return run(wanted.typed)
    except WrongUsage as wrong:
        complain(f"hoistbook: {wrong}")
        return WRONG
    except Trouble as trouble:
        complain(str(trouble))
        return REFUSED


def _told(wanted: Wanted) -> Answer:
    if wanted.version:
        return Answer((f"hoistbook {own_version()}",))
    from tui.cli import help as helping

    if wanted.command is not None:
        return Answer(helping.of_command(wanted.command))
    if wanted.group is not None:
        return Answer(helping.of_group(wanted.group))
    return Answer(helping.overall())


def own_version() -> str:
    """The version that is installed."""
    from importlib.metadata import PackageNotFoundError, version  # slow, and seldom asked for

    try:
        return version("hoistbook")
    except PackageNotFoundError:
        return "0 (not installed)"


def run(typed: Typed) -> int:
    """Run one command at this terminal.

    Raises:
        WrongUsage, Trouble: nothing was printed and nothing changed.
    """
    terminal = here(typed.maybe("shop"))
    try:
        return _print(answer(Call(terminal, typed)))
    finally:
        terminal.close()
        if terminal.to_learn:
            from tui.learner import begin

            begin(terminal.path)


def answer(call: Call) -> Answer:
    """Do what a command says.

    Raises:
        WrongUsage, Trouble: nothing was changed.
    """
    from tui.cli.refusals import in_words

    try:
        return call.typed.command.run(call)
    except (ValueError, OverflowError) as error:
        refused = in_words(error)
        if refused is None:
            raise
        raise refused from error


def _print(answer: Answer) -> int:
    out = sys.stdout
    for line in answer.lines:
        out.write(f"{shown(line)}\n")
    out.flush()
    for fault in answer.faults:
        complain(fault)
    return answer.status


def complain(text: str) -> None:
    """One line on standard error, whatever the text holds."""
    shown = "".join(one if one.isprintable() else " " for one in text[:LONGEST_LINE])
    with suppress(OSError, ValueError):
        sys.stderr.write(f"{' '.join(shown.split())}\n")
        sys.stderr.flush()


def _give_up_output() -> None:
    """Nobody reads any more: what is still kept back must not fail once more at the end."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
