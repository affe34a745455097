"""A job is called in onto a lift: which one, and what it lacks is said before."""

from __future__ import annotations

import asyncio
from typing import Any

from store.rules.lift_fit import carries
from store.trouble import Refused
from store.views.desk.at_desk import AtDesk
from store.views.floor import floor
from store.views.ready import waiting_jobs
from store.views.values import Lane
from tui import deeds
from tui.desk.words import title
from tui.keys import filled
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.words import listed


async def call_in(screen: Painted[Any], here: AtDesk) -> None:
    """Have a free lift chosen, and the job brought onto it.

    Raises:
        Back: left with Esc.
        Refused: it is no job that waits, no lift is free that carries it, or it is not ready and
            whoever asks may not bring it in all the same.
    """
    if here.state in ("enquiry", "booked") and not here.here:
        how = filled("{desk.arrived} says that it is here.")
        raise Refused(f"{here.job} has not arrived. {how}")
    await somebody(screen)
    session, number = screen.session, here.job
    now = session.now()
    job = (await asyncio.to_thread(lambda: waiting_jobs(session.shop, now, number)))[0]
    lanes = (await asyncio.to_thread(lambda: floor(session.shop, now))).lanes
    free = [one for one in lanes if one.job is None and one.raises
            and carries(one.rated_kg, job.mass_kg)]  # fmt: skip
    if not free:
        raise Refused(_no_lift(lanes, job.mass_kg))
    missing = [one for one in job.ready.lacks if one.kind != "lift"] if job.ready else []
    for_check = here.check is None and any(one.kind == "checked" for one in missing)
    lacks = [one.words for one in missing]
    facts = (f"It is not ready: it lacks {listed(lacks)}.",) if lacks and not for_check else ()
    if for_check:
        facts = ("It comes in for its qualifying check.",)
    options = [
        Option(key, _lift(lane), hot=n == 0)
        for n, (key, lane) in enumerate(zip(OPTION_KEYS, free, strict=False))
    ]
    chosen = await screen.talk.pick(title(here, "onto which lift?"), options, facts=facts)
    lift = free[OPTION_KEYS.index(chosen)]
    if lacks and not for_check:
        await screen.talk.sure(
            title(here, "it is not ready"), f"bring it onto {lift.lift} all the same", "leave it",
            facts=(*facts, "That takes the foreman's word, and stands in the record."),
        )  # fmt: skip
    await screen.act(deeds.move(number, lift.lift, lift=True))


def _lift(lane: Lane) -> str:
    warning = f"   ! {lane.warnings[0]}" if lane.warnings else ""
    return f"lift {lane.lift}   {lane.kind} {lane.rated_kg / 1000:.1f} t{warning}"


def _no_lift(lanes: tuple[Lane, ...], mass_kg: float | None) -> str:
    free = [one for one in lanes if one.job is None and one.raises]
    if free and mass_kg is not None:
        return f"No lift is free that carries {mass_kg / 1000:.1f} t. Another one first moves away."
    return filled("No lift is free. {floor.move} on the floor moves a job away.")
