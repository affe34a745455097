"""What some keys mean wherever one is: help, the bay, the floor, a job, new work, all actions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any, TypeAlias

from tui import keys
from tui.keys import Table
from tui.parts.keyline import NAMES
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.where import BAY, DESK, FLOOR, FOLLOW, INTAKE, MONTH, TOOLS, Elsewhere

Form: TypeAlias = "Callable[[], object]"


async def everywhere(screen: Painted[Any], meant: str, table: Table) -> None:
    """Do what one of `keys.COMMON` means. What it needs is loaded when it is wanted.

    Raises:
        Elsewhere: another screen is wanted.
        Back: a form was left.
        Trouble: refused.
    """
    match meant:
        case "bay":
            await somebody(screen)
            raise Elsewhere(BAY)
        case "floor":
            raise Elsewhere(FLOOR)
        case "desk":
            raise Elsewhere(DESK)
        case "follow-ups":
            raise Elsewhere(FOLLOW)
        case "tools":
            raise Elsewhere(TOOLS)
        case "month":
            raise Elsewhere(MONTH)
        case "find":
            from tui.parts.finding_jobs import find_anything

            raise Elsewhere(await find_anything(screen))
        case "new":
            raise Elsewhere(INTAKE)
        case "small":
            from tui.parts.small_job import small_job

            await small_job(screen)
        case "needs":
            from tui.needs.page import needs_page

            await needs_page(screen)
        case "all":
            from tui.parts.palette import all_actions

            await all_actions(screen, table)
        case _:
            from tui.parts.help import show_help

            await show_help(screen, table, keys.TITLES[table.name])


async def do_key(screen: Painted[Any], key: str, table: Table, forms: Mapping[str, Form]) -> bool:
    """Do what a key means in a place; False where it means to go back.

    Args:
        forms: what the place's own keys do, by id.
    """
    match keys.meant(table, key):
        case "back":
            return False
        case None:
            no_key(screen, key, table)
        case meant if meant in keys.COMMON:
            await screen.doing(partial(everywhere, screen, meant, table))
        case meant:
            await screen.doing(forms[meant])
    return True


def no_key(screen: Painted[Any], key: str, table: Table) -> None:
    """Say of a key that means nothing here what the screen takes; the same one is quiet."""
    if table.name == "bay" and key == keys.key_of(keys.FLOOR, "bay"):
        screen.remark("This is the bay.")
        return
    shown = key if key in NAMES.values() or len(key) < 4 else f"{key[:12]}"
    shown = {" ": "Space", "text": "A paste"}.get(shown, shown)
    helps, every = keys.key_of(table, "help"), keys.key_of(table, "all")
    screen.remark(
        f"{shown} is no key of the {keys.TITLES[table.name]}. {helps} lists its keys, "
        f"{every} all actions."
    )
