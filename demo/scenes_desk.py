"""The desk in the three days before the demo opens: who rang, what is quoted, ordered, hired.

Lines as in `demo.scenes`; callers are called `k1`, `k2` ... A line's deed is a function in
`demo.telling_desk`.
"""

from __future__ import annotations

from dataclasses import dataclass

from demo.vehicles import Vehicle

Line = tuple[str, str, str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Call:
    """Somebody who rang; operations are () while nobody knows what it is."""

    vehicle: Vehicle
    complaint: str
    who: tuple[str, str]
    operations: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    grade: int = 2


CALLS = {
    "k1": Call(Vehicle("small saloon", "", 0.0), "whines in second, not in third",
               ("Imke Landweer", "00 318 4471")),
    "k2": Call(Vehicle("forestry off-roader", "D4-M-4", 2150.0), "jerks on full lock",
               ("Dirk Veenhoven, tree nursery", "00 764 2093"), ("TF",)),
    "k3": Call(Vehicle("people carrier", "B4-A-F", 1840.0), "flares between second and third",
               ("Saskia Rietgors", "00 552 9017"), ("AO",), (("unit", "exchange"),)),
    "k4": Call(Vehicle("estate", "D4-M-F", 1610.0), "starts badly, smokes",
               ("Wout Molenkamp", "00 409 6638"), ("IN",), (("test", "elsewhere"),)),
    "k5": Call(Vehicle("saloon", "S6-M-R", 1640.0), "clonks on and off the pedal",
               ("Hilde Kwelder", "00 271 5580"), ("DF",)),
    "k6": Call(Vehicle("towing car", "V8-A-4", 2520.0), "no compression on two",
               ("Teun Grienduin, removal firm", "00 633 1204"), ("EO",), (("engine", "exchange"),),
               3),
    "k7": Call(Vehicle("hatchback", "B4-M-F", 1230.0), "judders when pulling away",
               ("Vera Turfmeer", "00 815 7749"), ("CL",),
               (("clutch", "plain"), ("slave", "outside"))),
}  # fmt: skip
PLATES = {"k5": "RNX 52-74"}
"""Of those that are here."""

AHEAD: tuple[Line, ...] = (
    (
        "05 11:20",
        "A02",
        "hire",
        (
            "lift-table",
            "Overdiep lifting gear",
            "-",
            "08 09:00",
            "13 15:00",
            "engine and gearbox of the off-roader come down",
        ),
    ),
    (
        "07 15:10",
        "A02",
        "hire",
        (
            "driver-large",
            "Rietland tool hire",
            "-",
            "08 09:00",
            "14 15:30",
            "the hatchback may have the large seal",
        ),
    ),
    ("08 08:35", "A02", "received", ("lift-table", "-")),
    ("08 08:36", "A02", "received", ("driver-large", "-")),
    ("08 11:25", "A02", "hire", ("locks", "Kade kits", "ch", "12 08:00", "14 16:00")),
    ("08 16:10", "A02", "hire", ("locks", "Rietland tool hire", "tc", "12 09:00", "16 15:30")),
    ("09 09:15", "A02", "hire", ("link", "Kade kits", "tc", "13 09:00", "16 16:00")),
    ("09 09:20", "A02", "hire", ("press", "Rietland tool hire", "cl", "12 09:00", "14 15:30")),
    ("09 09:25", "A02", "hire", ("puller", "Kade kits", "-", "12 09:00", "15 16:00")),
    ("09 10:00", "A02", "parts", ("df", "ordered", "13 09:00")),
)
"""Told while the past still runs."""
DESK: tuple[Line, ...] = (
    ("12 07:50", "A02", "received", ("press", "cl")),
    ("12 07:51", "A02", "received", ("locks", "tc")),
    ("12 07:52", "A02", "received", ("puller", "-")),
    ("12 07:53", "A02", "received", ("locks", "ch")),
    ("12 08:30", "A02", "ring", ("k6",)),
    ("12 10:50", "A02", "ring", ("k7",)),
    ("12 10:53", "A02", "rough", ("k7",)),
    ("12 11:05", "A02", "ring", ("k4",)),
    ("12 11:08", "A02", "until", ("k4", "16")),
    ("12 11:40", "A02", "parts", ("rs", "ordered", "13 11:00")),
    ("12 15:40", "A02", "hire", ("gauges", "Rietland tool hire", "df", "15 10:00", "20 15:30")),
    ("13 08:31", "A02", "received", ("link", "tc")),
    ("13 08:40", "A02", "parts", ("df", "here")),
    ("13 09:05", "A02", "decline", ("k7", "too dear")),
    ("13 09:20", "A02", "ring", ("k3",)),
    ("13 09:24", "A02", "until", ("k3", "14")),
    ("13 11:20", "A02", "parts", ("rs", "here")),
    ("13 14:45", "A02", "quote", ("k6", "telephone", "30")),
    ("13 15:50", "A02", "ring", ("k2",)),
    ("13 15:53", "A02", "rough", ("k2",)),
    ("13 16:15", "A02", "parts", ("fc", "ordered", "16 10:00")),
    (
        "13 16:18",
        "A02",
        "hire",
        ("counter-hold", "Rietland tool hire", "fc", "14 09:00", "21 15:30"),
    ),
    ("14 08:02", "A02", "ring", ("k5",)),
    ("14 08:05", "A02", "come", ("k5", "148250", "none")),
    ("14 08:12", "A02", "wrong", ("counter-hold", "fc")),
    ("14 08:20", "A02", "call", ("cl", "telephone", "nobody")),
    ("14 09:02", "A02", "ring", ("k1",)),
    ("14 09:40", "A02", "call", ("cl", "telephone", "left word")),
    ("14 10:12", "A02", "call", ("k6", "telephone", "thinks it over till tomorrow")),
)
