"""Forms that stand on no other screen: lifts looked over or inspected, kits here, back, asked."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from store.rules.acts import Act
from store.trouble import Refused
from store.views.parts_values import HireOut
from store.views.tools.values import KitNow
from tui.needs import deeds
from tui.parts.painted import Painted
from tui.parts.when import number, some
from tui.words import local, zone_of


async def look_over(screen: Painted[Any], act: Act) -> None:
    """The daily look-over of a lift before use."""
    assert act.lift is not None
    await screen.act(deeds.look_over(act.lift))


async def inspect(screen: Painted[Any], act: Act) -> None:
    """A lift's inspection: the day, for how long by which rule, and by whom."""
    assert act.lift is not None
    title = f"lift {act.lift} was inspected by a competent person"
    today = local(screen.session.now(), zone_of(screen.zone)).date()
    day = await screen.talk.type(
        title, "on which day", lambda text: _day(text, today), facts=("Like 2026-10-01.",)
    )
    months = await screen.talk.type(title, "for how many months", _months)
    source = await screen.talk.type(title, "by which rule", some)
    inspector = await screen.talk.type(title, "by whom", some)
    await screen.act(deeds.inspect(act.lift, day, months, source, inspector))


def _day(text: str, today: date) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError as error:
        raise Refused(f"{text[:20] or 'Nothing'} is no day. Type one like {today}.") from error
    if day > today:
        raise Refused("That day has not come yet. Type the day on which it was.")
    return day


def _months(text: str) -> int:
    found = number(text, above=0.0)
    if found != int(found):
        raise Refused(f"{text[:20]} is no whole number of months. Type one like 12.")
    return int(found)


async def kit_here(screen: Painted[Any], act: Act) -> None:
    """A hired kit is looked through against its list."""
    from tui.tools.at_hand import coming, one_of
    from tui.tools.looking_through import look_through

    kit = await _kit(screen, act)
    hires = _of_job(act, coming(kit))
    hire = await one_of(screen, kit, hires, "which came?", f"{kit.name} is not on its way here.")
    await look_through(screen, kit, hire)


async def kit_back(screen: Painted[Any], act: Act) -> None:
    """A kit's pieces are counted before the carrier has it; one in use is kept longer."""
    from tui.tools.at_hand import here_now, one_of
    from tui.tools.going_back import hand_over, keep_until

    kit = await _kit(screen, act)
    hires = _of_job(act, here_now(kit))
    hire = await one_of(screen, kit, hires, "which?", f"{kit.name} is not here.")
    await (keep_until if "extend" in act.command else hand_over)(screen, kit, hire)


async def kit_ask(screen: Painted[Any], act: Act) -> None:
    """A kit is asked for, for the job that needs it."""
    from tui.tools.asking import ask_for

    await ask_for(screen, await _kit(screen, act), act.job)


async def _kit(screen: Painted[Any], act: Act) -> KitNow:
    from tui.tools.at_hand import kit_of

    return await kit_of(screen, act.line or "")


def _of_job(act: Act, hires: Sequence[HireOut]) -> list[HireOut]:
    """Those for the job of the act, where there are such."""
    own = [one for one in hires if one.job == act.job]
    return own or list(hires)
