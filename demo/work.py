"""What kind of jobs come, with which options, and the small ones between them."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from demo.chance import one_in
from demo.vehicles import Vehicle, grade, vehicle

DIESELS = ("D4-M-R", "D4-M-R", "D4-A-4", "D4-M-F")
MIX: tuple[tuple[float, tuple[str, ...], tuple[str, ...]], ...] = (
    (22, ("CL",), ("B4-M-F", "B4-M-F", "B4-M-F", "D4-M-R", "D4-M-R", "S6-M-R", "D4-M-F")),
    (7, ("RS",), ("B4-M-F", "B4-A-F", "D4-M-R", "S6-A-R")),
    (8, ("CL", "RS"), ("B4-M-F", "D4-M-R", "S6-M-R")),
    (10, ("TC",), ("S6-M-R", "S6-A-R", "D4-M-R", "D4-A-4", "B4-M-F")),
    (4, ("TC", "CL"), ("S6-M-R", "D4-M-R", "B4-M-F")),
    (15, ("AO",), ("B4-A-F", "B4-A-F", "D4-A-4", "D4-A-4", "S6-A-R", "V8-A-4", "H4-A-F")),
    (8, ("CH",), ("B4-M-F", "B4-A-F", "D4-M-F", "D4-M-R", "H4-A-F")),
    (1, ("CH", "IN"), ("D4-M-F", "D4-M-R")),
    (8, ("IN",), DIESELS),
    (7, ("DF",), ("S6-M-R", "S6-A-R", "D4-M-R", "V8-A-4")),
    (3, ("EO",), ("B4-M-F", "D4-M-R", "S6-A-R", "V8-A-4")),
    (4, ("TF",), ("D4-A-4", "V8-A-4", "D4-M-4")),
    (1, ("CL", "TF"), ("D4-M-4",)),
    (7, ("FC",), ("S6-M-R", "S6-A-R", "B4-A-F", "V8-A-4")),
)
"""Weight, operations, families they come with."""

COMPLAINTS = {
    "CL": ("slips uphill in fifth", "judders when pulling away", "pedal drops, no reverse"),
    "RS": ("oil on the drive under the gearbox", "oil spots, clutch smells"),
    "TC": ("rattles for three seconds when cold", "rattle at idle, lamp on"),
    "AO": ("shudders at 60", "no reverse when hot", "flares between second and third"),
    "CH": ("loses coolant, white smoke", "coolant in the oil", "boiled over on the motorway"),
    "IN": ("chuffs at the injectors", "starts badly, smokes", "diesel smell in the cab"),
    "DF": ("howls at 80", "clonks on and off the pedal"),
    "EO": ("knocks, oil lamp on", "no compression on two"),
    "TF": ("jerks on full lock", "leaks from the transfer case"),
    "FC": ("oil at the pulley", "oil in the alternator"),
}
SMALL = (
    ("oil service", 1.6), ("brake discs and pads", 3.2), ("brakes all round", 5.4),
    ("exhaust from the flange back", 4.2), ("track rod ends, aligned", 3.9),
    ("wheel bearings, both", 5.0), ("drop links, bushes", 4.4), ("coolant hoses", 3.1),
    ("big service", 5.2), ("tow bar and socket", 6.0), ("handbrake cables", 4.9),
    ("starter", 3.4), ("springs at the rear", 4.9), ("alternator", 4.0),
    ("faults read, loom mended", 4.6), ("wiper linkage", 3.8), ("axle shaft boots", 5.6),
    ("pre-test check and what it finds", 5.8), ("brake lines", 6.2), ("window regulators", 4.7),
    ("door locks", 4.2), ("air conditioning looked at", 2.6), ("fuel pump", 4.8),
    ("suspension arms", 6.0), ("heater blower", 4.6), ("radiator", 4.9), ("fuel tank", 5.4),
    ("steering rack boots, aligned", 4.3),
)  # fmt: skip
"""Free text and how long it usually takes, hours."""


@dataclass(frozen=True, slots=True)
class Order:
    """A job as it is taken."""

    operations: tuple[str, ...]
    vehicle: Vehicle
    grade: int
    options: dict[str, str]
    complaint: str
    basis: str


def order(dice: Random) -> Order:
    """Return the next job that a customer brings."""
    kinds = [(operations, families) for _, operations, families in MIX]
    operations, families = dice.choices(kinds, [weight for weight, _, _ in MIX])[0]
    options: dict[str, str] = {}
    for code in operations:
        options.update(_options(dice, code))
    x = dice.random()
    basis = "fixed price" if x < 0.6 else "ceiling" if x < 0.9 else "time"
    return Order(
        operations, vehicle(dice, dice.choice(families)), grade(dice), options,
        dice.choice(COMPLAINTS[operations[0]]), basis,
    )  # fmt: skip


def _options(dice: Random, code: str) -> dict[str, str]:
    """What is known of the vehicle beforehand."""
    if code == "CL":
        kind = "self-adjusting" if one_in(dice, 0.4) else "plain"
        return {"clutch": kind, "slave": "inside" if one_in(dice, 0.5) else "outside"}
    if code == "RS":
        return {"seal": "large" if one_in(dice, 0.4) else "small"}
    if code == "AO":
        return {"unit": "overhaul" if one_in(dice, 0.06) else "exchange"}
    if code == "IN":
        return {"test": "elsewhere" if one_in(dice, 0.35) else "none"}
    if code == "FC":
        return {"pulley": "unkeyed" if one_in(dice, 0.3) else "keyed"}
    if code == "EO":
        return {"engine": "exchange"}
    return {}


def small_work(dice: Random) -> tuple[str, float]:
    """Return a small job's text and its usual hours."""
    return dice.choice(SMALL)
