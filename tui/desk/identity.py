"""What stands on a vehicle: number plate, VIN, engine and gearbox code."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from store.views.at_desk import AtDesk, VehicleFacts
from tui.desk import deeds
from tui.desk.words import title
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.talk import Back
from tui.parts.when import maybe

FIELDS = {"p": "number plate", "v": "VIN", "e": "engine code", "b": "gearbox code"}


def known_now(known: VehicleFacts, read: deeds.Identity) -> dict[str, str | None]:
    """What is known of it now, by the keys of `FIELDS`."""
    return {
        "p": read.plate or known.plate, "v": read.vin or known.vin,
        "e": read.engine or known.engine, "b": read.gearbox or known.gearbox,
    }  # fmt: skip


async def ask_one(
    screen: Painted[Any], here: AtDesk, key: str, read: deeds.Identity
) -> deeds.Identity:
    """Ask for one of the things that stand on the vehicle.

    Raises:
        Back: Esc.
    """
    known = here.vehicle
    before = known_now(known, read)[key]
    facts = ("Seventeen letters and digits; no I, O or Q.",) if key == "v" else ()
    text = await screen.talk.type(
        title(here, "what stands on it"), f"{FIELDS[key]} (Enter: not read)",
        lambda typed: maybe(typed.upper()), text=before or "", facts=facts,
    )  # fmt: skip
    match key:
        case "p":
            return replace(read, plate=text)
        case "v":
            return replace(read, vin=text)
        case "e":
            return replace(read, engine=text)
        case _:
            return replace(read, gearbox=text)


async def identify(screen: Painted[Any], here: AtDesk) -> None:
    """Have what stands on the vehicle written down, without its arrival.

    Raises:
        Back: left with Esc; what was filled in is kept.
        Trouble: refused; what was filled in is kept.
    """
    await somebody(screen)
    what = Filling(("identity", here.job), title(here, "what stands on it"), "write it down")
    known = here.vehicle

    def entries(read: deeds.Identity) -> list[Entry]:
        now = known_now(known, read)
        return [Entry(key, FIELDS[key], now[key] or "not read") for key in FIELDS]

    async def change(key: str, read: deeds.Identity) -> deeds.Identity:
        return await ask_one(screen, here, key, read)

    found = await fill_in(screen, what, deeds.Identity(), entries, change)
    if found == deeds.Identity():
        raise Back
    await screen.act(deeds.identify(here.job, found))
    forget(screen, what)
