"""Where the open hours of the stays went: worked, held by reason, standing, nobody on it.

To be held against common practice (no source): worked 38 % (a bad month 28), held 33 (45), nobody
29 (27); of the held hours parts 35, approval 22, outwork 16, person 12, tool 8, reading 4, place 3;
3.5 to 5 labour hours a shop day while not held.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from tests.bench.floors.log import Stay
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.past import Past

WORKED, STANDING, NOBODY = "worked", "standing", "nobody"
HELD = ("parts", "approval", "outwork", "person", "tool", "reading", "place")


@dataclass(frozen=True, slots=True)
class Shares:
    """Hours by what went on; `labour_h`: of all clocks, two on one job count twice."""

    hours: Mapping[str, float]
    labour_h: float
    jobs: int

    @property
    def stay_h(self) -> float:
        """Open hours of all stays."""
        return sum(self.hours.values())

    @property
    def held_h(self) -> float:
        """Open hours held, outwork among them."""
        return sum(self.hours.get(one, 0.0) for one in HELD)

    @property
    def a_day(self) -> float:
        """Labour hours a shop day of eight open hours, while not held."""
        return 8 * self.labour_h / (self.stay_h - self.held_h)

    def percent(self, what: str) -> float:
        """Of the stays' hours."""
        return 100 * self.hours.get(what, 0.0) / self.stay_h

    def of_held(self, reason: str) -> float:
        """Per cent of the held hours."""
        return 100 * self.hours.get(reason, 0.0) / self.held_h


def shares(past: Past) -> Shares:
    """Count them as the floor saw them, before anybody wrote anything down."""
    hours: dict[str, float] = defaultdict(float)
    labour = 0
    for number in past.numbers():
        stay = past.log.stays[number]
        labour += sum(until - since for _, _, since, until in stay.clocks)
        for what, seconds in _of_stay(stay).items():
            hours[what] += seconds / HOUR
    return Shares(hours, labour / HOUR, len(past.numbers()))


def _of_stay(stay: Stay) -> dict[str, int]:
    """Cut at everything that begins or ends; a hold keeps the job once it has come to its phase."""
    last = stay.finished[len(stay.job.steps) - 1]
    spans = [(since, until, WORKED) for _, _, since, until in stay.clocks]
    for one in stay.kept.values():
        what = one.reason if one.kind == "held" else one.kind
        spans.append((max(one.begun, stay.reached[one.idx]), one.end, what))
    first = min(since for since, _, what in spans if what == WORKED)
    cuts = sorted({first, last} | {c for s in spans for c in s[:2] if first < c < last})
    counted: dict[str, int] = defaultdict(int)
    for since, until in pairwise(cuts):
        here = [what for a, b, what in spans if a <= since and until <= b]
        counted[WORKED if WORKED in here else here[0] if here else NOBODY] += until - since
    return counted


def line(name: str, found: list[Shares]) -> str:
    """One line of the table: means over shops."""
    columns = [[one.percent(WORKED) for one in found]]
    columns.append([100 * one.held_h / one.stay_h for one in found])
    columns += [[one.percent(what) for one in found] for what in (STANDING, NOBODY)]
    columns += [[one.of_held(reason) for one in found] for reason in HELD]
    columns.append([one.a_day for one in found])
    columns.append([one.stay_h / one.jobs for one in found])
    columns.append([one.labour_h / one.jobs for one in found])
    means = [sum(one) / len(one) for one in columns]
    return f"{name:10}" + "".join(f"{one:9.1f}" for one in means)


def heading() -> str:
    """Of the table."""
    names = [WORKED, "held", STANDING, NOBODY, *HELD, "a day", "stay", "labour"]
    return f"{'':10}" + "".join(f"{one:>9}" for one in names)
