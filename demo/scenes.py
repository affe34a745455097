"""The three days before the demo opens, told line by line: day and time, badge, deed, what on.

A line's deed is a function in `demo.telling`. Jobs are called by what is done: `ao` is the hybrid
taxi's gearbox, `ch` the cylinder head, and so on; phases by their code.
"""

from __future__ import annotations

from dataclasses import dataclass

from demo.vehicles import Vehicle
from demo.work import Order

Line = tuple[str, str, str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Booked:
    """A job of today, and when it was taken.

    Attributes:
        taken: day of October and time.
        promise: the same; None promised nothing.
    """

    name: str
    taken: str
    promise: str
    order: Order


def _order(
    operations: str, vehicle: Vehicle, grade: int, complaint: str, basis: str, **options: str
) -> Order:
    return Order(tuple(operations.split("+")), vehicle, grade, options, complaint, basis)


BOOKED = (
    Booked("ao", "06 09:12", "19 16:00", _order(
        "AO", Vehicle("hybrid taxi BKR 41-07", "H4-A-F", 1610.0), 2,
        "bangs into reverse when warm", "ceiling", unit="exchange")),
    Booked("ch", "06 11:40", "29 16:00", _order(
        "CH", Vehicle("grey estate HDL 58-22", "D4-M-F", 1620.0), 2,
        "loses coolant, heater cold", "fixed price")),
    Booked("eo", "07 10:05", "23 16:00", _order(
        "EO", Vehicle("heavy off-roader TXN 90-13", "V8-A-4", 2640.0), 1,
        "knocks since the motorway, oil lamp on", "time", engine="exchange")),
    Booked("tc", "07 14:30", "19 16:00", _order(
        "TC", Vehicle("blue coupe VPL 17-66", "S6-M-R", 1560.0), 2,
        "rattles for three seconds when cold", "fixed price")),
    Booked("cl", "08 08:20", "14 16:00", _order(
        "CL", Vehicle("flatbed van KFS 73-40", "D4-M-R", 2480.0), 3,
        "slips uphill in fifth", "fixed price", clutch="self-adjusting", slave="inside")),
    Booked("in", "08 15:10", "16 12:00", _order(
        "IN", Vehicle("white panel van NRB 26-81", "D4-M-R", 2310.0), 4,
        "chuffs at the injectors, third workshop", "ceiling", test="none")),
    Booked("in2", "09 11:20", "20 12:00", _order(
        "IN", Vehicle("silver estate WDL 45-18", "D4-M-F", 1580.0), 2,
        "diesel smell in the cab, chuffs when cold", "fixed price", test="none")),
)  # fmt: skip
WAITING = (
    Booked("df", "09 09:30", "22 16:00", _order(
        "DF", Vehicle("farm pick-up LGD 62-19", "D4-M-R", 2120.0), 3, "howls at 80", "ceiling")),
    Booked("rs", "12 11:15", "23 16:00", _order(
        "CL+RS", Vehicle("silver hatchback SPH 34-55", "B4-M-F", 1290.0), 1,
        "oil on the drive, clutch smells", "fixed price", clutch="self-adjusting")),
    Booked("fc", "13 16:05", "27 12:00", _order(
        "FC", Vehicle("long estate ZBT 88-30", "S6-A-R", 1840.0), 2,
        "oil in the alternator", "fixed price", pulley="unkeyed")),
)  # fmt: skip

SMALL = (
    ("s1", "12 07:32", "big service", "green family car DTK 15-48", 2.0),
    ("s2", "12 08:05", "brake pads front", "red hatchback XLN 71-62", 1.0),
    ("s3", "12 11:20", "coolant hose", "small van RGV 44-09", 1.2),
    ("s4", "13 08:10", "wheel bearing", "black saloon JHB 29-93", 2.0),
    ("s5", "13 11:05", "brake discs and pads", "grey people carrier BSN 12-70", 1.8),
    ("s7", "13 08:02", "oil service", "white estate CRD 53-28", 0.9),
    ("s8", "13 09:15", "exhaust rear box", "blue minibus MTW 37-64", 1.1),
    ("s6", "14 07:31", "headlamp bulb, faults read", "yellow small van FPD 80-36", 0.6),
)

MONDAY: tuple[Line, ...] = (
    ("12 07:24", "A02", "look_over", ()),
    ("12 07:26", "A02", "lift", ("ao", "4")),
    ("12 07:27", "A02", "lift", ("ch", "5")),
    ("12 07:38", "B12", "on", ("s1", "small")),
    ("12 07:40", "B21", "on", ("ch", "G0")),
    ("12 07:44", "B17", "on", ("ao", "G0")),
    ("12 08:09", "B23", "on", ("s2", "small")),
    ("12 08:14", "B12", "sign", ("ao", "G0", "HV")),
    ("12 08:17", "B17", "finish", ("ao", "G0")),
    ("12 08:18", "B21", "finish", ("ch", "G0")),
    ("12 08:18", "B17", "on", ("ao", "AO1")),
    ("12 08:19", "B21", "on", ("ch", "CH1")),
    ("12 08:40", "A02", "yard", ("in",)),
    ("12 09:23", "B23", "finish", ("s2", "small")),
    ("12 09:26", "A02", "close", ("s2",)),
    ("12 09:27", "B17", "finish", ("ao", "AO1")),
    ("12 09:27", "B23", "indirect", ("tidying",)),
    ("12 09:28", "B17", "on", ("ao", "AO2")),
    ("12 09:34", "B21", "finish", ("ch", "CH1")),
    ("12 09:46", "B12", "finish", ("s1", "small")),
    ("12 09:47", "B21", "on", ("ch", "CO-off")),
    ("12 09:49", "B12", "on", ("in", "G0")),
    ("12 09:55", "A02", "close", ("s1",)),
    ("12 10:02", "B21", "finish", ("ch", "CO-off")),
    ("12 10:03", "B21", "on", ("ch", "TP-off")),
    ("12 10:14", "B17", "finish", ("ao", "AO2")),
    ("12 10:15", "B17", "on", ("ao", "GB-off")),
    ("12 10:20", "B12", "finish", ("in", "G0")),
    ("12 10:21", "B12", "on", ("in", "IN1")),
    ("12 10:25", "B23", "learn", ("ao", "GB-off")),
    ("12 11:31", "B12", "finish", ("in", "IN1")),
    ("12 11:33", "B12", "indirect", ("parts",)),
    ("12 12:47", "B12", "on", ("s3", "small")),
    ("12 12:49", "B21", "finish", ("ch", "TP-off")),
    ("12 12:50", "B21", "on", ("ch", "CH2")),
    ("12 13:20", "B23", "indirect", ("helping",)),
    ("12 13:22", "B21", "indirect", ("parts",)),
    ("12 14:10", "B12", "finish", ("s3", "small")),
    ("12 14:12", "A02", "lift", ("tc", "1")),
    ("12 14:16", "A02", "close", ("s3",)),
    ("12 14:17", "B12", "on", ("tc", "G0")),
    ("12 14:20", "A02", "lift", ("cl", "2")),
    ("12 14:31", "B21", "on", ("cl", "G0")),
    ("12 14:52", "B12", "finish", ("tc", "G0")),
    ("12 14:53", "B12", "on", ("tc", "TC1")),
    ("12 15:03", "B21", "finish", ("cl", "G0")),
    ("12 15:04", "B21", "on", ("cl", "CL1")),
    ("12 15:31", "B17", "finish", ("ao", "GB-off")),
    ("12 15:33", "A02", "bench", ("ao",)),
    ("12 15:34", "B17", "on", ("ao", "AO3")),
    ("12 15:46", "B21", "finish", ("cl", "CL1")),
    ("12 15:48", "B21", "on", ("cl", "PS-off")),
    ("12 15:58", "B17", "hold", ("ao", "AO3", "parts", "13 15:00", "supplier",
                                 "unit that came has the wrong flange")),
    ("12 16:00", "B12", "finish", ("tc", "TC1")),
    ("12 16:01", "B17", "indirect", ("tidying",)),
    ("12 16:02", "B12", "indirect", ("tidying",)),
    ("12 16:24", "B23", "off", ()),
    ("12 16:25", "B12", "off", ()),
    ("12 16:26", "B17", "off", ()),
    ("12 16:27", "B21", "off", ()),
    ("12 16:27", "B12", "confirm", ()),
    ("12 16:28", "B17", "confirm", ()),
    ("12 16:28", "B21", "confirm", ()),
    ("12 16:29", "B23", "confirm", ()),
)  # fmt: skip
TUESDAY: tuple[Line, ...] = (
    ("13 07:24", "A02", "look_over", ()),
    ("13 07:26", "A02", "lift", ("eo", "3")),
    ("13 07:37", "B12", "on", ("tc", "PS-off")),
    ("13 07:38", "B21", "on", ("cl", "PS-off")),
    ("13 07:41", "B17", "on", ("eo", "G0")),
    ("13 07:45", "B23", "indirect", ("tidying",)),
    ("13 07:50", "A02", "yard", ("in2",)),
    ("13 07:52", "A02", "on", ("in2", "G0")),
    ("13 08:13", "B23", "on", ("s7", "small")),
    ("13 08:14", "A02", "finish", ("in2", "G0")),
    ("13 08:15", "A02", "on", ("in2", "IN1")),
    ("13 08:18", "B17", "finish", ("eo", "G0")),
    ("13 08:19", "B17", "on", ("eo", "EO1")),
    ("13 08:21", "B21", "finish", ("cl", "PS-off")),
    ("13 08:23", "B21", "on", ("s4", "small")),
    ("13 08:27", "B12", "finish", ("tc", "PS-off")),
    ("13 08:28", "B12", "on", ("tc", "GB-off")),
    ("13 09:47", "B23", "finish", ("s7", "small")),
    ("13 09:49", "B23", "learn", ("tc", "GB-off")),
    ("13 09:50", "B17", "finish", ("eo", "EO1")),
    ("13 09:52", "B17", "on", ("eo", "EO2")),
    ("13 09:06", "A02", "finish", ("in2", "IN1")),
    ("13 10:24", "B17", "finish", ("eo", "EO2")),
    ("13 10:26", "B17", "on", ("eo", "AW-off")),
    ("13 10:41", "B21", "finish", ("s4", "small")),
    ("13 10:43", "B21", "on", ("s8", "small")),
    ("13 10:50", "A02", "close", ("s4",)),
    ("13 10:51", "A02", "close", ("s7",)),
    ("13 11:14", "B23", "on", ("s5", "small")),
    ("13 11:38", "B17", "finish", ("eo", "AW-off")),
    ("13 11:40", "B17", "indirect", ("parts",)),
    ("13 11:58", "B21", "finish", ("s8", "small")),
    ("13 12:10", "A02", "close", ("s8",)),
    ("13 12:46", "B17", "on", ("eo", "AS-off")),
    ("13 12:48", "B21", "on", ("cl", "GB-off")),
    ("13 12:55", "B12", "away", ()),
    ("13 13:08", "B12", "back", ()),
    ("13 13:19", "B12", "finish", ("tc", "GB-off")),
    ("13 13:20", "B12", "on", ("tc", "FW-off")),
    ("13 13:55", "B12", "finish", ("tc", "FW-off")),
    ("13 13:56", "B12", "on", ("tc", "TC2")),
    ("13 14:01", "B23", "finish", ("s5", "small")),
    ("13 14:03", "A02", "close", ("s5",)),
    ("13 14:05", "B23", "help", ("eo", "AS-off")),
    ("13 15:12", "A02", "hold", ("ao", "AO3", "parts", "14 15:00", "supplier, by courier")),
    ("13 15:20", "B21", "extra", ("cl", "GB-off", "stud", "exhaust studs broken, two", "0.9")),
    ("13 15:24", "B21", "on", ("ch", "CH2")),
    ("13 16:02", "B21", "sign", ("ch", "CH2", "lock")),
    ("13 16:06", "B21", "over", ("in", "IN2")),
    ("13 16:08", "B12", "indirect", ("tidying",)),
    ("13 16:24", "B23", "off", ()),
    ("13 16:25", "B12", "off", ()),
    ("13 16:26", "B17", "off", ()),
    ("13 16:27", "B12", "confirm", ()),
    ("13 16:28", "B17", "confirm", ()),
    ("13 16:29", "B23", "confirm", ()),
)
WEDNESDAY: tuple[Line, ...] = (
    ("14 07:24", "A02", "look_over", ()),
    ("14 07:35", "B17", "on", ("eo", "AS-off")),
    ("14 07:36", "B23", "on", ("s6", "small")),
    ("14 07:38", "B12", "on", ("tc", "TC2")),
    ("14 08:13", "A02", "hold", ("cl", "GB-off", "approval", "14 11:30", "customer rings back")),
    ("14 08:22", "B23", "finish", ("s6", "small")),
    ("14 08:24", "A02", "close", ("s6",)),
    ("14 08:26", "B23", "help", ("eo", "AS-off")),
    ("14 09:12", "A02", "on", ("in2", "IN2")),
    ("14 09:18", "B12", "finish", ("tc", "TC2", "pins stiff, build looked up twice")),
    ("14 09:20", "B12", "on", ("tc", "TC3")),
    ("14 10:02", "A02", "finish", ("in2", "IN2")),
    ("14 10:05", "A02", "advise", ("tc", "TC3", "engine mounts cracked, gearbox side")),
)  # fmt: skip
ANSWERS = {"fit": "pass", "EO1.fit": "exchange", "route": "A", "build": "A", "disc": "under"}
"""How decisions come out in these three days, by step, or by phase and step."""
