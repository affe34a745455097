"""What stands on a vehicle: number plate, VIN, engine and gearbox code."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from store.views.desk.at_desk import AtDesk, VehicleFacts
from tui.desk import deeds
from tui.desk.reading import mass
from tui.desk.words import title
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.talk import Back
from tui.parts.when import maybe

FIELDS = {
    "p": "number plate", "v": "VIN", "e": "engine code", "b": "gearbox code", "m": "gross mass",
}  # fmt: skip
SAYS = {"v": "Seventeen letters and digits; no I, O or Q.",
        "m": "Like 1.5 t or 1500 kg: a lift's capacity is checked against it."}  # fmt: skip


def known_now(known: VehicleFacts, read: deeds.Identity) -> dict[str, str | None]:
    """What is known of it now, by the keys of `FIELDS`."""
    weighs = read.mass_kg or known.mass_kg
    return {
        "p": read.plate or known.plate, "v": read.vin or known.vin,
        "e": read.engine or known.engine, "b": read.gearbox or known.gearbox,
        "m": f"{weighs / 1000:g} t" if weighs else None,
    }  # fmt: skip


async def ask_one(
    screen: Painted[Any], here: AtDesk, key: str, read: deeds.Identity
) -> deeds.Identity:
    """Ask for one of the things that stand on the vehicle.

    Raises:
        Back: Esc.
    """
    before = known_now(here.vehicle, read)[key] or ""
    asks, label = title(here, "what stands on it"), f"{FIELDS[key]} (Enter: not read)"
    facts = (SAYS[key],) if key in SAYS else ()
    if key == "m":
        return replace(
            read, mass_kg=await screen.talk.type(asks, label, mass, text=before, facts=facts)
        )
    text = await screen.talk.type(
        asks, label, lambda typed: maybe(typed.upper()), text=before, facts=facts
    )
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
