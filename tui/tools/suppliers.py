"""How a supplier counts: cut-off, days, week-ends, late fee, ways."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import time
from typing import Any

from store.sums.hires.terms import Counts, House, Weekend
from store.views.tools.hires_back import Supply
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import clock_of, some
from tui.tools import deeds
from tui.tools.at_hand import AtHand, known
from tui.tools.typed import or_as_it_is, sum_or, whole
from tui.words import counted, money

COUNTS: Mapping[Counts, str] = {
    "hand-over": "to the day it is handed to the carrier", "arrival": "to the day it arrives",
}  # fmt: skip
WEEKEND: Mapping[Weekend, str] = {
    "counted": "counted like other days", "half": "half a day each",
    "free": "free from Friday noon to Monday",
}  # fmt: skip
NEXT_WEEKEND: Mapping[Weekend, Weekend] = {"counted": "half", "half": "free", "free": "counted"}


async def supplier_of(
    screen: Painted[Any], supply: Supply, title: str, hot: str | None, *, known_only: bool = False
) -> str:
    """One of the suppliers that are known, or another that is typed.

    Raises:
        Back: Esc.
        Refused: none is known, and none may be typed.
    """
    names = [*supply.houses] if known_only else [*supply.names]
    names = names[:12]
    if not names and not known_only:
        return await screen.talk.type(title, "supplier", some)
    options = [
        Option(key, name, hot=name == hot) for key, name in zip(OPTION_KEYS, names, strict=False)
    ]
    options += [] if known_only else [Option("z", "another one ...")]
    chosen = await screen.talk.pick(title, options)
    return (
        await screen.talk.type(title, "supplier", some)
        if chosen == "z" else names[OPTION_KEYS.index(chosen)]
    )  # fmt: skip


async def terms(at: AtHand) -> None:
    """How a supplier counts.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    screen = at.screen
    await somebody(screen)
    supply = await known(screen)
    hot = at.kit.supplier if at.kit is not None else None
    name = await supplier_of(screen, supply, "terms of which supplier?", hot)
    what = Filling(("terms", name), f"{name} hires kits out", "so it counts")
    first = supply.houses.get(name, House())

    def entries(found: House) -> list[Entry]:
        return _house_entries(found)

    async def change(key: str, found: House) -> House:
        return await _house_change(screen, what.title, key, found)

    found = await fill_in(screen, what, first, entries, change)
    await screen.act(deeds.know(name, found))
    forget(screen, what)


def _house_entries(house: House) -> list[Entry]:
    return [
        Entry("1", "cut-off", f"{house.cut_off:%H:%M}, later goes the next working day"),
        Entry("2", "days count", COUNTS[house.counts]),
        Entry("3", "week-ends", WEEKEND[house.weekend]),
        Entry("4", "late", f"{house.late:g} x the day rate besides, each day begun"),
        Entry("5", "delivered", f"{counted(house.lead_days, 'working day')} after asking"),
        Entry("6", "on its way back", counted(house.back_days, "working day")),
        Entry("7", "cleaning", f"{money(house.cleaning)} for a kit that comes back dirty"),
    ]


async def _house_change(screen: Painted[Any], title: str, key: str, house: House) -> House:
    match key:
        case "1":
            cut, says = house.cut_off, f"{house.cut_off:%H:%M}"
            cut_off = await or_as_it_is(screen, (title, "cut-off"), _clock, cut, says)
            return replace(house, cut_off=cut_off)
        case "2":
            counts: Counts = "arrival" if house.counts == "hand-over" else "hand-over"
            return replace(house, counts=counts)
        case "3":
            return replace(house, weekend=NEXT_WEEKEND[house.weekend])
        case "4":
            late = await sum_or(screen, (title, "late, times the day rate"), house.late)
            return replace(house, late=late)
        case "5":
            lead = await _days(screen, (title, "working days to delivery"), house.lead_days)
            return replace(house, lead_days=lead)
        case "6":
            back = await _days(screen, (title, "working days back"), house.back_days)
            return replace(house, back_days=back)
        case _:
            cleaning = await sum_or(screen, (title, "cleaning"), house.cleaning)
            return replace(house, cleaning=cleaning)


async def _days(screen: Painted[Any], asked: tuple[str, str], before: int) -> int:
    return await or_as_it_is(screen, asked, whole, before, f"{before}")


def _clock(text: str) -> time:
    return time(*clock_of(text))
