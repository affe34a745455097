"""All actions by name: type to find one, Enter does it here or goes to where it is done."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from typing import Any, NamedTuple

from store.rules.roles import TABLE, Act
from tui import keys
from tui.keys import COMMON, TABLES, TITLES, Meaning, PlaceName, Table
from tui.parts import looking, setting_up
from tui.parts.anywhere import ANYWHERE
from tui.parts.choosing import Page, Row, choose
from tui.parts.everywhere import everywhere
from tui.parts.help import shown_keys
from tui.parts.keyline import Pressed
from tui.parts.lines import Key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.typed_search import among, index
from tui.parts.where import (
    BAY,
    FLOOR,
    INTAKE,
    SIGN_IN,
    Elsewhere,
    Where,
)

Do = Callable[[Painted[Any]], Awaitable[None]]
NO_NEED_OF_A_NAME = {
    "up", "down", "page-up", "page-down", "before", "after", "back", "leave", "sign-in", "all",
    "load",
}  # fmt: skip
"""Moves, and what one would not look for by its name."""
ACTS: Mapping[str, Act] = {
    "answer": "answer supplement", "move": "move job", "call": "move job", "hold": "hold",
    "release": "release", "new": "take small job", "service": "withdraw lift",
    "promise": "promise", "close": "close small job", "clock": "clock", "over": "clock",
    "sign": "sign step", "finding": "report finding", "finish": "finish phase",
    "confirm": "confirm own day", "day": "confirm own day", "undo": "undo",
    "note": "note job", "small": "take small job", "paper": "enter clock",
    "enquiry": "take enquiry", "keep": "take enquiry",
    "book": "book arrival", "arrived": "receive vehicle", "identify": "receive vehicle",
    "judge": "judge check", "quote": "give quote", "decline": "turn job down",
    "customer": "know customer", "comeback": "link comeback", "tried": "note call",
    "outwork": "send outwork", "advice": "answer advice", "is-done": "follow up",
    "shift": "follow up", "not-done": "follow up", "follow-job": "follow up",
    "line": "order line", "ask": "hire kit", "extend": "hire kit", "give-kit": "hire kit",
    "cancel": "hire kit", "deposit": "hire kit", "invoice": "hire kit",
    "received": "receive kit", "mended": "receive kit", "send-back": "receive kit",
    "arrived-back": "receive kit", "terms": "know supplier", "rates": "know supplier",
    "valid": "date kit", "let": "let begin without kit",
    "adopt": "load work book", "several": "load work book", "costs": "set costs",
    "prices": "set costs",
}  # fmt: skip
"""What the person must be allowed for an id to be offered; others are open to all."""
PAGE = Page(
    "all actions by name", "words", "No action is called so. Type less, or Esc goes back.",
    (Key("up down", "choose"), Key("Enter", "do it, or go there", "do it"), Key("Esc", "back")),
)  # fmt: skip


class Action(NamedTuple):
    """One thing that can be done.

    Attributes:
        place: where; None is everywhere.
        id: of its key; "" where it has none.
        does: for what no key does.
        act: what the person must be allowed.
    """

    words: str
    key: str
    place: PlaceName | None
    id: str = ""
    does: Do | None = None
    act: Act | None = None


def actions(role: str | None, here: PlaceName) -> list[Action]:
    """Every action that a role may do; those of the place at hand first.

    Args:
        role: None is nobody: a badge is asked for before anything is done.
    """
    places: list[PlaceName] = [here, *(place for place in TABLES if place != here)]
    named = [action for place in places for action in _of(TABLES[place], here)]
    once: dict[tuple[PlaceName | None, str], Action] = {}
    for one in named:
        once.setdefault((one.place, one.id), one)
    return [one for one in [*once.values(), *_without_keys()] if _may(one, role)]


def _of(table: Table, here: PlaceName) -> list[Action]:
    return [
        Action(
            line.words, _shown(line, table.name == here),
            None if line.id in COMMON or line.id in ANYWHERE else table.name, line.id,
            does=ANYWHERE.get(line.id), act=ACTS.get(line.id),
        )
        for line in table if line.id not in NO_NEED_OF_A_NAME
    ]  # fmt: skip


def _shown(line: Meaning, at_hand: bool) -> str:
    """The keys of a line; a letter of another place is none of what is done everywhere."""
    anywhere = line.id in COMMON or line.id in ANYWHERE
    is_letter = anywhere and all(len(key) == 1 for key in line.keys)
    return "" if is_letter and not at_hand else shown_keys(line)


def _without_keys() -> list[Action]:
    return [
        *(Action(words, "", None, does=does) for words, does in looking.ACTIONS),
        *(Action(words, "", None, does=does, act=act) for words, does, act in setting_up.ACTIONS),
        Action("leaves the program; clocks go on", "", None, does=_leave),
    ]


def _may(action: Action, role: str | None) -> bool:
    return role is None or action.act is None or role in TABLE[action.act].roles


async def all_actions(screen: Painted[Any], table: Table) -> None:
    """Have an action chosen, and do it.

    Raises:
        Back: none was.
        Elsewhere: it is done on another screen.
        Trouble: refused.
    """
    who = screen.session.who
    listed = index(actions(who.role if who else None, table.name), _text)
    chosen = await choose(
        screen, PAGE, lambda text: among(text, listed), lambda one: _row(one, table.name)
    )
    await _do(screen, chosen, table)


def _text(action: Action) -> str:
    place = TITLES[action.place] if action.place else ""
    return f"{action.words} {action.id.replace('-', ' ')} {place} {action.key}"


def _row(action: Action, here: PlaceName) -> Row:
    place = TITLES[action.place] if action.place and action.place != here else ""
    return Row(action.key, action.words, place)


async def _do(screen: Painted[Any], action: Action, table: Table) -> None:
    if action.does is not None:
        await action.does(screen)
    elif action.id in COMMON:
        await everywhere(screen, action.id, table)
    elif action.place == table.name:
        screen.press(Pressed(keys.key_of(table, action.id)))
    else:
        await _go(screen, action)


async def _go(screen: Painted[Any], action: Action) -> None:
    """To the screen where it is done; there it is said which key does it."""
    session = screen.session
    place = action.place or "floor"
    key = keys.key_of(TABLES[place], action.id)
    says = f"{key} does it: {action.words}."
    match place:
        case "sign in":
            raise Elsewhere(SIGN_IN)
        case "floor":
            where = FLOOR
        case "book":
            where = FLOOR
            opens = keys.key_of(keys.FLOOR, "work-book")
            says = f"{opens} opens the work book; there {key} does it: {action.words}."
        case "lists" | "needs" | "why":
            where = FLOOR
            opens = keys.key_of(keys.FLOOR, place)
            says = f"{opens} opens the {TITLES[place]}; there {key} does it: {action.words}."
        case "desk" | "follow-ups" | "tools" | "month":
            where = Where(place)
        case "parts":
            from tui.parts.finding_jobs import find_job

            where = Where("job", screen.job_at_hand() or await find_job(screen, "of which job?"))
            opens = keys.key_of(keys.JOB, "parts")
            says = f"{opens} opens parts and kits; there {key} does it: {action.words}."
        case "intake":
            where = INTAKE
        case "job":
            from tui.parts.finding_jobs import find_job

            where = Where("job", screen.job_at_hand() or await find_job(screen, "on which job?"))
        case _:
            await somebody(screen)
            where = BAY
            if place != "bay":
                opens = keys.key_of(keys.BAY, place)
                says = f"{opens} opens the {TITLES[place]}; there {key} does it: {action.words}."
    session.said = says
    raise Elsewhere(where)


async def _leave(screen: Painted[Any]) -> None:
    # Textual says App here without saying of what
    screen.app.exit(0)  # pyright: ignore[reportUnknownMemberType]
