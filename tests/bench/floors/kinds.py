"""Kinds of floor: the ranges from which each shop's parameters are drawn anew.

Ranges are wide around common practice (no source): of a stay on a lift somebody works on it some
38 % of the open hours, it is held 33 %, and nobody is on it for the rest.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.bench.floors.draws import Range
from tests.bench.floors.routes import Likes
from tests.bench.floors.shop import RuleName


@dataclass(frozen=True, slots=True)
class Kind:
    """What shops of one kind have in common.

    Attributes:
        people: technicians; `lifts_each`: lifts to one technician.
        shift: which of `SHIFTS` of `drawing`.
        reasons: weights of parts, approval, person, tool, reading, place.
        load: jobs that come, against what the people could do.
        special: share of special orders; `late`: chance that a said day is missed.
        drifts: chance that a supplier or a firm gets worse on some day.
        firm_days: least and more, of outwork.
    """

    rule: RuleName
    shift: str = "day"
    people: Range = (3, 5)
    lifts_each: Range = (1.2, 1.8)
    routes: Likes = field(default_factory=Likes)
    reasons: tuple[float, ...] = (1.7, 5.0, 4.0, 1.4, 1.0, 0.9)
    load: Range = (0.95, 1.3)
    special: Range = (0.04, 0.18)
    late: Range = (0.05, 0.25)
    drifts: float = 0.5
    firm_days: tuple[Range, Range] = ((1, 2), (1.5, 4))
    sticks: Range = (0.5, 0.95)
    small_first: Range = (0.2, 0.9)


KINDS: dict[str, Kind] = {
    "own": Kind("own", lifts_each=(1.3, 2.0)),
    "urgent": Kind("urgent", sticks=(0.2, 0.7), routes=Likes(crew=(0.05, 0.3))),
    "shifts": Kind("shifts", "two", people=(4, 7), lifts_each=(0.8, 1.3)),
    "parttime": Kind("parttime", "part", people=(2, 3), lifts_each=(1.0, 1.5)),
    "outwork": Kind(
        "outwork", people=(3, 5), lifts_each=(1.5, 2.2),
        routes=Likes(outwork=(0.2, 0.5)), firm_days=((1, 3), (1, 4)),
    ),
    "parts": Kind(
        "parts", people=(3, 5), lifts_each=(1.3, 2.0),
        routes=Likes(orders=(0.03, 0.09)),
        reasons=(5.5, 3.0, 2.5, 1.2, 0.6, 0.6), special=(0.1, 0.3), late=(0.1, 0.4), drifts=0.8,
    ),
    "relay": Kind(
        "relay", people=(4, 6), lifts_each=(1.2, 1.8), sticks=(0.0, 0.5),
        routes=Likes(skilled=(0.4, 0.7), skills=3),
    ),
}  # fmt: skip
