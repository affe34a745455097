"""The line for authorized_keys that ties a key to a badge."""

from __future__ import annotations

import shlex
import shutil
import sys
from pathlib import Path

from store.trouble import Refused
from tui.cli.where import BADGE_VARIABLE


def program() -> list[str]:
    """How this program is started from anywhere: by its absolute path."""
    beside = Path(sys.executable).with_name("hoistbook")
    if beside.is_file():
        return [str(beside)]
    found = shutil.which("hoistbook")
    return [str(Path(found).absolute())] if found else [sys.executable, "-m", "tui"]


def line(badge: str, shop: Path) -> str:
    """The options that stand before the key.

    `exec env` puts no shell between the line and the screens; the badge in the environment holds
    for whatever is started there.

    Raises:
        Refused: the path cannot stand in that file.
    """
    words = [
        "env", f"{BADGE_VARIABLE}={badge}", *program(), "--shop", str(shop), "open", "--as", badge,
    ]  # fmt: skip
    command = f"exec {shlex.join(words)}"
    if not command.isprintable():
        raise Refused("The shop file's path holds signs that cannot stand in authorized_keys.")
    quoted = command.replace("\\", "\\\\").replace('"', '\\"')
    return f'restrict,pty,command="{quoted}"'
