"""How the screens look, changed while they stand: the colours, and the set of signs."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import partial
from typing import Any

from tui.colours import ANSI, DARK, HIGH, LIGHT, Look, Paint, short_name, textual_theme
from tui.parts.painted import Painted
from tui.signs import ASCII, UNICODE, Signs

KEEP = "in the settings file keeps it."


async def wear(look: Look, screen: Painted[Any]) -> None:
    """Put another look on; it holds until the program is left."""
    session = screen.session
    if session.paint.monochrome:
        screen.say_no("NO_COLOR is set: no colours are shown. Unset it and open hoistbook again.")
        return
    session.paint = Paint(look)
    theme = textual_theme(look)
    # Textual says App here without saying of what
    screen.app.register_theme(theme)  # pyright: ignore[reportUnknownMemberType]
    screen.app.theme = theme.name  # pyright: ignore[reportUnknownMemberType]
    screen.say(f'The {short_name(look)} look.  look = "{short_name(look)}" {KEEP}')


async def write_in(signs: Signs, screen: Painted[Any]) -> None:
    """Take the other set of signs; it holds until the program is left."""
    screen.session.signs = signs
    name, value = ("Plain letters", "true") if signs.ascii else ("Signs", "false")
    screen.say(f"{name}.  ascii = {value} {KEEP}")


ACTIONS: tuple[tuple[str, Callable[[Painted[Any]], Awaitable[None]]], ...] = (
    ("look: dark colours", partial(wear, DARK)),
    ("look: light colours", partial(wear, LIGHT)),
    ("look: high contrast", partial(wear, HIGH)),
    ("look: the 16 colours of the terminal (ANSI)", partial(wear, ANSI)),
    ("signs: plain letters only (ASCII)", partial(write_in, ASCII)),
    ("signs: the usual ones (Unicode)", partial(write_in, UNICODE)),
)
"""For the list of all actions."""
