"""Where PINs come from: a prompt, standard input, or a file that only its owner can read."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

from store.edges.reading import opened_to_read
from store.trouble import Refused
from tui.cli.usage import WrongUsage

Pins = dict[str, str]


def can_ask() -> bool:
    """Whether somebody sits at a terminal and can be asked."""
    try:
        return sys.stdin.isatty() and sys.stderr.isatty()
    except ValueError:
        return False


def ask(whose: str) -> str:
    """Ask for a PIN without showing it.

    Raises:
        Refused: nothing was typed.
    """
    from getpass import getpass

    try:
        typed = getpass(f"PIN of {whose}: ", stream=sys.stderr).strip()
    except EOFError:
        typed = ""
    if not typed:
        raise Refused("No PIN was typed; nothing was changed.")
    return typed


def piped() -> list[str]:
    """The lines of standard input that hold PINs.

    Raises:
        WrongUsage: there is none.
    """
    if sys.stdin.isatty():
        return [ask("whoever acts")]
    lines = [
        line.decode("ascii", "replace").strip() for line in sys.stdin.buffer.read(4096).splitlines()
    ]
    found = [line for line in lines if line]
    if not found:
        raise WrongUsage("--pin-stdin: standard input holds no PIN. Like: echo 2468 | hoistbook …")
    return found


def from_file(path: Path) -> Pins:
    """PINs by badge from a file: `BADGE PIN` a line.

    Raises:
        Refused: it cannot be read, others can read it too, or a line is something else.
    """
    try:
        with opened_to_read(path) as file:
            mode = os.fstat(file.fileno()).st_mode
            if not stat.S_ISREG(mode):
                raise Refused(f"--pins {path} is no file. Give one with a line `BADGE PIN` each.")
            if stat.S_IMODE(mode) & 0o077:
                raise Refused(
                    f"--pins {path} can be read by others. Close it first: chmod 600 {path}"
                )
            text = file.read(1_000_000)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "cannot be read"
        raise Refused(f"--pins {path}: {why}. Give a file with a line `BADGE PIN` each.") from error
    return _pins(path, text.decode("utf-8", "replace"))


def _pins(path: Path, text: str) -> Pins:
    pins: Pins = {}
    for number, line in enumerate(text.splitlines(), 1):
        words = line.split()
        if not words or words[0].startswith("#"):
            continue
        if len(words) != 2:
            raise Refused(f"--pins {path}, line {number}: write a badge and its PIN: B12 2468")
        pins[words[0].upper()] = words[1]
    return pins
