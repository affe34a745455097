"""An invented counter and an estimate to paint, of the same week as the floor of `made`."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from math import exp, log
from statistics import NormalDist

from store.rules.book import Option
from store.rules.estimating import Figures
from store.views.counter import (
    Counter,
    FamilyLine,
    KitName,
    LiftLine,
    SoldLine,
    VehicleLine,
)
from store.views.estimate import Estimate, EstimateLine, Extra, ForkLine, KitLine, Way
from store.views.likely import hand_over
from store.views.values import Finish
from tests.tui.made import CALENDAR, NOW, ZONE, on
from tui.intake.state import Form, IntakeState
from tui.keys import INTAKE, last_row

FLYWHEEL = Option("flywheel", "flywheel, known when it is out", ("one-piece", "two-piece"),
                  "one-piece")  # fmt: skip
SEAL = Option("seal", "diameter of the seal", ("small", "large"), "small")
LEVELS = tuple(n / 20 for n in range(1, 20))


def figures(middle: float, cautious: float) -> Figures:
    """A log-normal length whose median and .8 quantile are these."""
    spread = log(cautious / middle) / NormalDist().inv_cdf(0.8)
    quantiles = tuple(middle * exp(spread * NormalDist().inv_cdf(one)) for one in LEVELS)
    return Figures(middle, cautious, middle * exp(spread**2 / 2), quantiles)


def phase(text: str, hours: str, jobs: int, own: int, serves: str = "CL") -> EstimateLine:
    """`2 gearbox out`, its book, middle and cautious hours, and from how many jobs."""
    number, name = text.split(" ", 1)
    book, middle, cautious = map(float, hours.split())
    return EstimateLine(
        number, name.upper()[:4], name, "labour", True, tuple(serves.split("+")), book,
        figures(middle, cautious), f"from {jobs} jobs", jobs, own,
    )  # fmt: skip


CURES = replace(phase("5 sealant cures", "4 4 8", 0, 0, "RS"), kind="standing")
ROUTE = (
    phase("1 check", "0.5 0.5 0.6", 41, 12, "CL+RS"),
    phase("2 gearbox out", "3.0 3.5 4.3", 38, 0, "CL+RS"),
    phase("3 clutch, flywheel", "1.5 1.6 2.0", 38, 12),
    phase("4 seal, while open", "0.4 0.5 0.8", 6, 2, "RS"),
    CURES,
    phase("6 gearbox in", "3.5 3.8 4.6", 38, 12, "CL+RS"),
    phase("7 road test", "0.8 0.8 0.9", 0, 0, "CL+RS"),
)


def ends(hours: float) -> tuple[tuple[float, datetime], ...]:
    """Dates by chance, the middle one so many open hours from now."""
    return tuple(
        (chance, hand_over(CALENDAR.after(NOW, hours * factor)))
        for chance, factor in ((0.5, 1.0), (0.6, 1.1), (0.7, 1.2), (0.8, 1.35), (0.9, 1.6),
                               (0.95, 1.9))
    )  # fmt: skip


def way(code: str, text: str, odds: float | None, hours: float, **more: object) -> Way:
    """An answer."""
    made = Way(code, text, odds, figures(hours, hours * 1.2), (), (), finish=ends(hours))
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself


CHECK = ForkLine(
    "1", "Fit for this work?",
    (way("pass", "pass: as planned", 0.9, 10.7, planned=True),
     way("fail", "fail: not the clutch", 0.1, 0.6, ends=True)),
)  # fmt: skip
BUILD = ForkLine(
    "3", "Flywheel: one-piece or two?",
    (way("one", "one-piece", 0.8, 10.7, planned=True, sets=(("flywheel", "one-piece"),)),
     way("two", "two-piece", 0.2, 11.3, sets=(("flywheel", "two-piece"),), kits=("puller",),
         more=("two-piece flywheel renewed",))),
)  # fmt: skip
UNKNOWN = ForkLine(
    None, "diameter of the seal",
    (way("small", "small", None, 10.7, planned=True, sets=(("seal", "small"),)),
     way("large", "large", None, 10.7, sets=(("seal", "large"),), kits=("driver",))),
    "seal",
)  # fmt: skip


def found() -> Estimate:
    """Clutch and seal on a four-cylinder saloon."""
    quantiles = tuple(10.7 * CALENDAR_FACTOR * exp(0.35 * NormalDist().inv_cdf(one))
                      for one in LEVELS)  # fmt: skip
    return Estimate(
        ROUTE, figures(10.7, 12.4), 6.8, (KitLine("centring", ("3",), True),
                                          KitLine("puller", ("2",), False, 2, 38.0)),
        963.0, "EUR", (("flywheel", "one-piece"),), 1, ends(10.7 * CALENDAR_FACTOR), (CHECK, BUILD),
        "learned from 38 jobs of this kind", quantiles, (UNKNOWN,),
        (Extra("TC", "timing chain", 0.3, 4.6, 14.5),
         Extra(None, "crankcase breather", 0.33, 0.7, 7.9)),
    )  # fmt: skip


CALENDAR_FACTOR = 1.3
"""Open hours for an hour of labour, with its waits."""


def here() -> Counter:
    """The counter on Wednesday at 10:40."""
    return Counter(
        "Marsh Lane Works", ZONE, NOW, CALENDAR, True,
        (SoldLine("CL", "clutch and flywheel", (FLYWHEEL,)),
         SoldLine("RS", "rear main seal", (SEAL,)), SoldLine("TC", "timing chain", ())),
        (FamilyLine("B4-M-F", "petrol four, manual, front driven", 71),
         FamilyLine("B4-M-R", "petrol four, manual, rear driven", 20),
         FamilyLine("D4-A-F", "diesel four, automatic, front driven", 9)),
        (VehicleLine("grey estate", "AB-12-C", "D4-A-F", 1900.0),
         VehicleLine("old saloon", "", "B4-M-F", None), VehicleLine("bulb car", "", "", None)),
        (LiftLine("1", "two-post", 4000.0, True, None, "2417", Finish(on("Wed 13:25"),
                                                                     on("Wed 14:00"))),
         LiftLine("2", "two-post", 4000.0, True, None, "2409", Finish(on("Fri 14:25"),
                                                                     on("Fri 16:40"))),
         LiftLine("3", "scissor", 1400.0, True, None, None, None),
         LiftLine("4", "four-post", 5000.0, False, "lock does not engage", None, None),
         LiftLine("6", "scissor", 3000.0, True, None, None, None)),
        (KitName("centring", "centring kit", True), KitName("puller", "pilot puller", False),
         KitName("driver", "large driver", False)),
        3, 1.0, 90,
    )  # fmt: skip


FORM = Form("old saloon, 1.5 t", None, "B4-M-F", ("CL", "RS"))


def state(**more: object) -> IntakeState:
    """All is worked out; 8 in 10 is chosen."""
    made = IntakeState(FORM, found(), "whole", keys=last_row(INTAKE))
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself
