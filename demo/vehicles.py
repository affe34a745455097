"""Vehicles that come to the workshop, described as people call them; plates are invented."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from demo.chance import one_in

BY_FAMILY: dict[str, tuple[tuple[str, int, int], ...]] = {
    "B4-M-F": (("hatchback", 1150, 1400), ("estate", 1400, 1650), ("small van", 1350, 1700)),
    "B4-A-F": (("family car", 1350, 1600), ("people carrier", 1600, 1950)),
    "D4-M-F": (("estate", 1500, 1750), ("small van", 1500, 1900)),
    "D4-M-R": (("panel van", 2100, 2900), ("flatbed van", 2200, 3000), ("minibus", 2300, 3000)),
    "D4-A-4": (("off-roader", 2100, 2600), ("farm pick-up", 2000, 2500)),
    "D4-M-4": (("farm pick-up", 1950, 2450), ("forestry off-roader", 1900, 2300)),
    "S6-M-R": (("coupe", 1450, 1650), ("saloon", 1550, 1750)),
    "S6-A-R": (("saloon", 1600, 1850), ("long estate", 1700, 1950)),
    "V8-A-4": (("heavy off-roader", 2300, 2800), ("towing car", 2200, 2700)),
    "H4-A-F": (("hybrid taxi", 1450, 1700), ("hybrid estate", 1550, 1800)),
}
"""Kind, and kerb mass from and to in kg."""
COLOURS = ("white", "grey", "black", "blue", "red", "green", "silver", "yellow")
LETTERS = "BDFGHJKLNPRSTVXZ"


@dataclass(frozen=True, slots=True)
class Vehicle:
    """One vehicle: what it is called, its plate within that, and its mass."""

    label: str
    family: str
    mass_kg: float


def plate(dice: Random) -> str:
    """Return a number plate of a pattern that no country uses."""
    letters = "".join(dice.choice(LETTERS) for _ in range(3))
    return f"{letters} {dice.randrange(10, 100)}-{dice.randrange(10, 100)}"


def vehicle(dice: Random, family: str) -> Vehicle:
    """Return a vehicle of a family."""
    kind, low, high = dice.choice(BY_FAMILY[family])
    mass = round(dice.uniform(low, high) / 10) * 10
    colour = dice.choice(COLOURS)
    return Vehicle(f"{colour} {kind} {plate(dice)}", family, float(mass))


def grade(dice: Random) -> int:
    """Return the condition at arrival: 1 clean, 2 usual, 3 rusty, 4 been apart before."""
    x = dice.random()
    return 1 if x < 0.16 else 2 if x < 0.70 else 3 if x < 0.88 else 4


def small_label(dice: Random) -> str:
    """Return how a vehicle is called that comes for a small job."""
    family = dice.choice(tuple(BY_FAMILY))
    return vehicle(dice, family).label if one_in(dice, 0.9) else f"trailer {plate(dice)}"
