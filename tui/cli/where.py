"""Which shop file is meant, and from which terminal the command comes."""

from __future__ import annotations

import os
import socket
from collections.abc import Mapping
from pathlib import Path

SHOP_VARIABLE, BADGE_VARIABLE = "HOISTBOOK_SHOP", "HOISTBOOK_BADGE"
LONGEST_NAME = 60


def data_folder() -> Path:
    """The user's data folder for this program."""
    from platformdirs import user_data_path  # for nobody who names the file

    return user_data_path("hoistbook", appauthor=False)


def real_shop() -> Path:
    """Where the user's own shop is kept."""
    return data_folder() / "shop.shop"


def demo_shop() -> Path:
    """Where the invented shop is kept, so that it never stands in the way of the real one."""
    return data_folder() / "demo.shop"


def named_shop(given: str | None, environ: Mapping[str, str]) -> Path | None:
    """The file that was named, by option or environment; None where none was."""
    named = given or environ.get(SHOP_VARIABLE)
    return Path(named).expanduser() if named else None


def usual_shop() -> Path:
    """The file where none was named: the user's own, else the demo where only that is there."""
    own, demo = real_shop(), demo_shop()
    return demo if demo.exists() and not own.exists() else own


def key_badge(environ: Mapping[str, str]) -> str | None:
    """The badge that the SSH key carries."""
    return environ.get(BADGE_VARIABLE, "").strip() or None


def terminal_name(environ: Mapping[str, str]) -> str:
    """Host and terminal line, on one line, for the ledger."""
    page = "browser" if environ.get("TEXTUAL_DRIVER") else "no-tty"
    line = environ.get("SSH_TTY") or _tty() or page
    name = f"{socket.gethostname()}:{line.removeprefix('/dev/')}"
    shown = "".join(one if one.isascii() and one.isprintable() else "?" for one in name)
    return shown[:LONGEST_NAME]


def _tty() -> str | None:
    for descriptor in (0, 1, 2):
        try:
            return os.ttyname(descriptor)
        except OSError:
            continue
    return None
