"""Try it: the floor as if an act were done, looked at before one leaps; nothing is written."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from functools import partial

from store.trouble import Refused
from store.views.needs_values import HelpLine, Helps, Tried
from store.views.values import Floor
from tui.floor.paint import floor_canvas
from tui.floor.plan import page_of
from tui.floor.state import FloorState, Trying
from tui.keys import filled
from tui.needs.doing import do_act
from tui.parts.canvas import Canvas
from tui.parts.lines import Key
from tui.parts.painted import Painted
from tui.signs import Signs

NOT_YET = (
    "What helps most is not reckoned yet: that is done beside the work, a moment after an entry."
)
NOTHING = "Nothing that somebody could do now would help. {floor.needs} lists what there is to do."
MOST = 9
"""So many acts have a digit each."""


async def try_it(screen: Painted[Floor], state: FloorState) -> None:
    """Show the floor as if what helps most were done; Enter does it, Esc forgets it.

    Raises:
        Back: the form of the act was left.
        Refused: there is nothing to try, or it was done elsewhere meanwhile.
    """
    found = await _helps(screen)
    lines = [one for one in found.lines if one.told][:MOST]
    if not lines:
        raise Refused(NOT_YET if found.seq is None else filled(NOTHING))
    before, at = screen.page, 0
    try:
        while True:
            tried = await _tried(screen, lines[at])
            shown = replace(
                state, keys=trying_keys(len(lines)), cursor=_lift(tried) or state.cursor
            )
            screen.cover(partial(_paint, screen, shown, (tried, found)))
            key = (await screen.talk.key()).key
            if key == "Esc":
                return
            if key == "Enter":
                break
            at = _step(screen, key, at, len(lines))
    finally:
        screen.cover(before)
    await do_act(screen, lines[at].need.act)


async def _helps(screen: Painted[Floor]) -> Helps:
    from store.views.helps import helps

    session = screen.session
    return await asyncio.to_thread(lambda: helps(session.shop, session.now(), every=True))


async def _tried(screen: Painted[Floor], line: HelpLine) -> Tried:
    from store.views.as_if import tried

    session = screen.session
    return await asyncio.to_thread(lambda: tried(session.shop, session.now(), line.need.act.name))


def _lift(tried: Tried) -> str | None:
    lift = tried.line.need.act.lift
    return lift if lift in [lane.lift for lane in tried.after.lanes] else None


def _step(screen: Painted[Floor], key: str, at: int, many: int) -> int:
    """Which act a key goes to; one that means nothing here is answered."""
    if key.lower() == "n":
        return (at + 1) % many
    if key.isdecimal() and 1 <= int(key) <= many:
        return int(key) - 1
    screen.remark(f"Here Enter does it, {_digits(many)} or n tries another, Esc forgets it.")
    return at


def _digits(many: int) -> str:
    return "1" if many == 1 else f"1 to {many}"


def trying_keys(many: int) -> tuple[Key, ...]:
    """The last row while one of so many acts is tried."""
    others = (Key("n", "next best", "next"), Key(f"1-{many}", "another")) if many > 1 else ()
    return (Key("Enter", "do it"), *others, Key("Esc", "forget it"))


def _paint(
    screen: Painted[Floor], state: FloorState, what: tuple[Tried, Helps], size: tuple[int, int]
) -> Canvas:
    (tried, found), signs = what, _signs(screen)
    trying = Trying(tried.line, tried.before, found)
    shown = replace(state, trying=trying, settled={}, want=None, said=screen.saying)
    if shown.cursor is not None:
        shown = replace(shown, page=page_of(tried.after, size, shown, shown.cursor))
    return floor_canvas(tried.after, size, signs, shown)


def _signs(screen: Painted[Floor]) -> Signs:
    signs = screen.session.signs
    return signs.without_colour() if screen.session.paint.monochrome else signs
