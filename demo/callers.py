"""Who rings the workshop, and why most calls lead nowhere. Names and numbers are invented."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from demo.chance import one_in

FIRST = (
    "Anneke", "Bram", "Cato", "Dirk", "Elke", "Fedde", "Gerrit", "Hilde", "Imke", "Jelle", "Klaas",
    "Lotte", "Maaike", "Niek", "Otto", "Petra", "Roelof", "Saskia", "Teun", "Ursula", "Vera",
    "Wout", "Ymke", "Zeger",
)  # fmt: skip
LAST = (
    "Aardenbroek", "Bolderman", "Cuypstra", "Dijkwerf", "Eikenaar", "Fonteyne", "Grienduin",
    "Hagelbos", "IJsseldonk", "Jorissen", "Kwelder", "Landweer", "Molenkamp", "Nachtegael",
    "Oostwal", "Plashuis", "Rietgors", "Slikker", "Turfmeer", "Uiterwaard", "Veenhoven",
    "Wadloper", "Zandhaas",
)  # fmt: skip
FIRMS = ("parcel service", "housing trust", "tree nursery", "removal firm", "taxi office")
LOST = (
    "too dear", "too dear", "cannot wait so long", "cannot wait so long", "sells it instead",
    "never rang back", "goes where it was bought", "drives on for now",
)  # fmt: skip
"""Why a caller does not come."""
FAILED = {
    "CL": "not the clutch: slave cylinder weeps", "RS": "leaks at the cam cover, not at the seal",
    "TC": "deviation too large, valves may have touched", "AO": "valve body, not the gearbox",
    "CH": "bottom end gone, the head alone is no use", "IN": "injectors sound, a pipe leaks",
    "DF": "wheel bearing, not the axle", "EO": "worth less than the engine",
    "TF": "odd tyres wind the case up", "FC": "leaks at the filter housing",
}  # fmt: skip
"""Why a qualifying check fails, by operation: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Caller:
    """Somebody outside the shop."""

    name: str
    telephone: str


def caller(dice: Random) -> Caller:
    """Return the next one who rings: a person, or one who speaks for a firm."""
    name = f"{dice.choice(FIRST)} {dice.choice(LAST)}"
    if one_in(dice, 0.12):
        name = f"{name}, {dice.choice(FIRMS)}"
    return Caller(name, f"00 {dice.randrange(100, 1000)} {dice.randrange(1000, 10_000)}")
