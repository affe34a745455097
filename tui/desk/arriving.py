"""A vehicle is here: its odometer, its condition by one key, lamps, and what stands on it."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from typing import Any

from store.views.desk.at_desk import AtDesk
from store.views.door import places
from tui.desk import deeds
from tui.desk.identity import FIELDS, ask_one, known_now
from tui.desk.reading import odometer
from tui.desk.words import distance, title
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import maybe

GRADES = {"1": "clean", "2": "usual", "3": "rusty or neglected", "4": "been apart before"}


async def arrive(screen: Painted[Any], here: AtDesk) -> None:
    """Have it written down that the vehicle is here.

    Raises:
        Back: left with Esc; what was filled in is kept.
        Trouble: refused; what was filled in is kept.
    """
    await somebody(screen)
    about = ("arrived", here.job)
    first = screen.session.filled.get(about) or deeds.Arrival(await _odometer(screen, here, None))
    verb = f"it is here: {GRADES[str(first.grade)]}"
    what = Filling(about, title(here, "it is here. In which condition?"), verb)
    found = await fill_in(
        screen, what, first, lambda arrival: _entries(arrival, here),
        lambda key, arrival: _change(screen, here, key, arrival), done_by="".join(GRADES),
    )  # fmt: skip
    await screen.act(deeds.arrive(here.job, found))
    forget(screen, what)


def _entries(arrival: deeds.Arrival, here: AtDesk) -> list[Entry]:
    now = known_now(here.vehicle, arrival.identity)
    return [
        *(Entry(key, words, "") for key, words in GRADES.items()),
        Entry("o", "odometer", "not read" if arrival.read is None else distance(*arrival.read)),
        Entry("l", "warning lamps", arrival.lamps or "none said"),
        *(Entry(key, FIELDS[key], now[key] or "not read") for key in FIELDS),
        Entry("s", "stands at", arrival.place or "not said"),
        Entry("f", "photographs", arrival.photographs or "none said"),
    ]


async def _change(
    screen: Painted[Any], here: AtDesk, key: str, arrival: deeds.Arrival
) -> deeds.Arrival:
    if key in GRADES:
        return replace(arrival, grade=int(key))
    return await _asked(screen, here, key, arrival)


async def _asked(
    screen: Painted[Any], here: AtDesk, key: str, arrival: deeds.Arrival
) -> deeds.Arrival:
    match key:
        case "o":
            return replace(arrival, read=await _odometer(screen, here, arrival.read))
        case "l":
            facts = ("As they stand on the dash; faults that are stored, by their codes.",)
            lamps = await _text(screen, here, "warning lamps", arrival.lamps, facts)
            return replace(arrival, lamps=lamps)
        case "s":
            return replace(arrival, place=await _place(screen, here))
        case "f":
            facts = ("Where the photographs round the vehicle are kept: a folder, a name.",)
            where = await _text(screen, here, "photographs", arrival.photographs, facts)
            return replace(arrival, photographs=where)
        case _:
            return replace(arrival, identity=await ask_one(screen, here, key, arrival.identity))


async def _place(screen: Painted[Any], here: AtDesk) -> str | None:
    """Where it stands now: outside, or on a free lift."""
    found = [
        one
        for one in await asyncio.to_thread(places, screen.session.shop)
        if one.kind != "lift" or (one.job is None and one.in_service)
    ]
    options = [
        Option(key, f"lift {one.code}" if one.kind == "lift" else one.code)
        for key, one in zip(OPTION_KEYS, found, strict=False)
    ]
    key = await screen.talk.pick(
        title(here, "where does it stand?"), [*options, Option("0", "not said")]
    )
    return None if key == "0" else found[OPTION_KEYS.index(key)].code


async def _text(
    screen: Painted[Any], here: AtDesk, label: str, before: str | None, facts: tuple[str, ...] = ()
) -> str | None:
    return await screen.talk.type(
        title(here, "it is here"), f"{label} (Enter: none)", maybe, text=before or "", facts=facts
    )


async def _odometer(
    screen: Painted[Any], here: AtDesk, before: tuple[float, str] | None
) -> tuple[float, str] | None:
    last = here.vehicle.odometer
    unit = last[1] if last else "km"
    facts = (f"The last that was read: {distance(last[0], last[1])}.",) if last else ()
    return await screen.talk.type(
        title(here, "it is here"), "odometer (Enter: not read)",
        lambda text: odometer(text, unit), text=f"{before[0]:g} {before[1]}" if before else "",
        facts=facts,
    )  # fmt: skip
