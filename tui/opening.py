"""Opening the screens on a shop file, or saying why there can be none here."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from store.views.door import door
from tui.app import Hoistbook
from tui.cli.where import key_badge, terminal_name
from tui.parts.where import BAY, DESK, FLOOR, MONTH, SIGN_IN, TOOLS, Where, home
from tui.session import Session, open_shop
from tui.settings import appearance, settings, use_keys

SHOWN = {"desk": DESK, "tools": TOOLS, "month": MONTH}
"""Screens that anybody may look at, by the name of their view."""


def refusal(environ: dict[str, str]) -> str | None:
    """Why there can be no screen here; None where there can."""
    if environ.get("TEXTUAL_DRIVER"):
        return None
    if not (os.isatty(0) and os.isatty(1)):
        return "hoistbook needs a terminal here. For text use: hoistbook floor"
    if environ.get("TERM", "") in ("dumb", ""):
        return "This terminal cannot place text (TERM=dumb). For text use: hoistbook floor"
    return None


def run(
    shop_path: Path,
    *,
    view: str | None = None,
    lift: str | None = None,
    badge: str | None = None,
    wall: bool = False,
    ascii_only: bool = False,
    said: str = "",
) -> int:
    """Open the screens on a shop file; return the exit status.

    Args:
        view: `floor`, `bay`, `desk`, `tools` or `month`; None is the home of who signs in.
        lift: code of the lift at which this terminal stands.
        badge: of who is signed in from the start.
        wall: nobody sits here: the floor alone, and no keys.
        said: what the first screen says.

    Raises:
        Trouble: the file cannot be opened, nobody has that badge, or the settings have a fault.
    """
    environ = dict(os.environ)
    says = refusal(environ)
    if says is not None:
        print(says, file=sys.stderr)
        return 1
    kept = settings(environ)
    use_keys(kept.keys)
    paint, signs, asks = appearance(environ, kept, ascii_only)
    shop, clock = open_shop(shop_path)
    try:
        session = Session(
            shop, clock, terminal_name(environ), paint, signs, lift=lift, wall=wall,
            asks_width=asks, said=said, key_badge=of_key(environ, badge),
        )  # fmt: skip
        app = Hoistbook(session, _first(session, view, badge))
        app.run()
    finally:
        shop.close()
    return app.return_code or 0


def of_key(environ: dict[str, str], badge: str | None) -> str | None:
    """The badge that the line came in by, where it is the one that is signed in from the start."""
    key = key_badge(environ)
    return badge if key is not None and key.upper() == badge else None


def _first(session: Session, view: str | None, badge: str | None) -> Where:
    """The first screen, and who is there."""
    known = door(session.shop, session.now())
    session.sign_off_s = known.sign_off_s
    if badge is not None:
        session.sign_in(known.who(badge))
    if session.wall or view == "floor":
        return FLOOR
    if view in SHOWN:
        return SHOWN[view]
    if session.who is None:
        return SIGN_IN
    return BAY if view == "bay" else home(session.who.role)
