"""Forms that stand on no other screen: a lift looked over or inspected, a kit here or back."""

from __future__ import annotations

import asyncio
from datetime import date, datetime
from typing import Any

from store.rules.acts import Act
from store.trouble import Refused
from store.views.job import job_card
from store.views.parts_values import KitOnCard
from store.views.values import JobCard
from tui.needs import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
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
    from tui.ready import kit_acts

    found = await _kit(screen, act)
    if found is not None:
        await kit_acts.receive(screen, *found)
        return
    chosen = await screen.talk.pick(
        f"{act.says}: is it complete?",
        [Option("1", "complete"), Option("2", "something lacks, or is the wrong one ...")],
    )
    lacks = await screen.talk.type(act.says, "what lacks", some) if chosen == "2" else None
    due = await _goes_back(screen, act) if "--due" in act.command else None
    await screen.act(deeds.receive(act.line or "", lacks, due))


async def kit_back(screen: Painted[Any], act: Act) -> None:
    """A kit's pieces are counted before the carrier has it; one in use is kept longer."""
    from tui.ready import kit_acts

    found, kept = await _kit(screen, act), "extend" in act.command
    if found is not None:
        await (kit_acts.keep_longer if kept else kit_acts.send_back)(screen, *found)
    elif kept:
        due = await _goes_back(screen, act)
        await screen.act(deeds.extend(act.line or "", due))
    else:
        pieces = await screen.talk.type(act.says, "pieces counted", _pieces)
        await screen.act(deeds.send_back(act.line or "", pieces, None))


def _pieces(text: str) -> int:
    found = number(text)
    if found < 0 or found != int(found):
        raise Refused(f"{text[:20]} is no number of pieces. Type one like 7.")
    return int(found)


async def _goes_back(screen: Painted[Any], act: Act) -> datetime:
    from tui.ready.days import LIKE, by_day

    session, zone = screen.session, screen.zone
    return await screen.talk.type(
        act.says, "goes back", lambda text: by_day(session.shop, text, session.now(), zone),
        facts=(LIKE,),
    )  # fmt: skip


async def _kit(screen: Painted[Any], act: Act) -> tuple[JobCard, KitOnCard] | None:
    """The kit on the card of the job that asked for it; None where no job did."""
    session, job = screen.session, act.job
    if job is None:
        return None
    card = await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))
    kit = next((one for one in card.tools if one.code == act.line), None)
    return None if kit is None else (card, kit)
