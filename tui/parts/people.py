"""Somebody has to be signed in before anything is written: asked at the first act, in place."""

from __future__ import annotations

from typing import Any

from tui.parts.painted import Painted


async def somebody(screen: Painted[Any]) -> None:
    """Ask for a badge where nobody is signed in.

    Raises:
        Back: nobody came.
    """
    session = screen.session
    if session.who is not None:
        return
    known = await screen.at_door()
    if session.key_badge is not None:
        session.sign_in(known.who(session.key_badge))
        screen.repaint()
        return
    who = await screen.talk.type(
        "Who does this?", "badge", known.who, scanned=True,
        facts=("Scan or type your badge; Esc goes back.",),
    )  # fmt: skip
    session.sign_in(who)
    screen.repaint()
