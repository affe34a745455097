"""How long work truly takes here, which is not what the book says.

The book's low and high are for grade 2 and one experienced person. The truth differs by
operation, by family, by grade, by who does it and how often they did it before; what a vehicle is
like is shared by all phases of its job. All figures are invented; those of the grades and of first
times are common practice, no source.
"""

from __future__ import annotations

import math
from random import Random

from demo.chance import between
from demo.people import Person

BY_PHASE = {
    "GB": 0.98, "PS": 1.01, "TX": 0.96, "FW": 0.88, "AS": 0.89, "AW": 0.94, "SP": 0.98, "FR": 1.03,
    "TP": 0.97, "CO": 1.06, "ZF": 1.09, "ZR": 0.99, "G0": 0.90, "CL": 0.86, "RS": 0.97, "TC": 1.05,
    "AO": 0.95, "CH": 0.97, "IN": 1.01, "DF": 0.88, "EO": 0.96, "TF": 0.94, "FC": 1.01,
}  # fmt: skip
"""True hours against the book's, by the first two letters of a phase's code."""
BY_ENGINE = {"B4": 0.96, "D4": 1.05, "S6": 1.08, "V8": 1.18, "H4": 1.12}
BY_GEARBOX = {"M": 0.99, "A": 1.04}
BY_AXLES = {"F": 1.04, "R": 0.94, "4": 1.03}
STRIP = {1: 0.85, 2: 1.0, 3: 1.45, 4: 1.15}
"""By condition grade: rust hits the strip, bodging hits everything."""
WORK = {1: 1.0, 2: 1.0, 3: 1.0, 4: 1.15}
REFIT = {1: 0.95, 2: 1.0, 3: 1.10, 4: 1.15}
SURPRISES = {1: 0.6, 2: 1.0, 3: 2.0, 4: 2.0}
"""Odds of a surprise by grade."""
FIRST_TIME = 0.30
"""How much longer somebody experienced takes on an operation for the first time."""
FORGETTING = 0.66
"""At the third time 8 % are left of it."""
SHARED, OWN = 0.55, 0.75
"""How much of the spread a job's phases share, and how much is each phase's own."""
GEARBOX_WORK = ("GB", "FW", "PS", "TX", "AW", "SP", "CL", "AO", "DF", "TF")
ACCESS = ("GB", "PS", "TX", "AW", "SP", "FW")


def class_factor(phase_class: str, grade: int) -> float:
    """Return what the grade makes of a phase's hours."""
    table = {"strip": STRIP, "refit": REFIT}.get(phase_class, WORK)
    return table[grade]


def family_factor(code: str, family: str) -> float:
    """Return what the family makes of it: gearbox and axles in access, the engine elsewhere."""
    engine, gearbox, axles = family.split("-")
    if code[:2] in ACCESS:
        return BY_GEARBOX[gearbox] * BY_AXLES[axles]
    return BY_ENGINE[engine]


def practice_factor(times: int) -> float:
    """Return what inexperience makes of it, after so many times."""
    return 1 + FIRST_TIME * math.exp(-FORGETTING * times)


def pace_factor(person: Person, code: str) -> float:
    """Return a person's own pace on such work."""
    return person.pace[0 if code[:2] in GEARBOX_WORK else 1]


def true_hours(
    dice: Random,
    book: tuple[float, float, float],
    code: str,
    phase_class: str,
    *,
    family: str,
    grade: int,
    condition: float,
    person: Person,
    times: int,
) -> float:
    """Return the labour hours that a phase takes this time.

    Args:
        condition: of the vehicle, in standard deviations, shared by the phases of its job.
        times: how often the person has done the operation before.
    """
    z = SHARED * condition + OWN * dice.normalvariate()
    hours = between(book, z) * BY_PHASE.get(code[:2], 1.0)
    hours *= family_factor(code, family) * class_factor(phase_class, grade)
    return hours * pace_factor(person, code) * practice_factor(times)
