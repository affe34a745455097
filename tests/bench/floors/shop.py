"""One invented shop with everything that can be known of it: what the oracle knows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from store.learn.records import PhaseClass
from tests.bench.floors.open_time import OpenTime

Reason = Literal["parts", "approval", "person", "tool", "reading", "place"]
REASONS: tuple[Reason, ...] = ("parts", "approval", "person", "tool", "reading", "place")
RuleName = Literal["own", "urgent", "shifts", "parttime", "outwork", "parts", "relay"]
NATURES = 3
"""A vehicle is sweet, usual or sour: that governs its labour and its troubles together."""


@dataclass(frozen=True, slots=True)
class Step:
    """One phase of a route.

    Attributes:
        content_s: seconds of one usual person on a usual vehicle, on average.
        shape: of the gamma law of its content; the higher, the more even.
        skill: 0 anybody, else only those who have it.
        crew: how many work on it at once at most.
        before: chance that something lacks when it is to begin.
        inside: mishaps a second of its content.
        reading: chance that a reading at its end is out of limits.
        orders: chance that at its end a part is ordered for a phase further on.
        stands_h: wall hours, where it stands.
    """

    code: str
    kind: Literal["labour", "standing", "outwork"]
    phase_class: PhaseClass
    book_h: float
    content_s: float
    shape: float
    skill: int
    crew: int
    before: float
    inside: float
    reading: float
    orders: float
    stands_h: float = 0.0


@dataclass(frozen=True, slots=True)
class Operation:
    """A route and how often it is asked for."""

    code: str
    steps: tuple[Step, ...]
    weight: float

    @property
    def content_s(self) -> float:
        """Seconds of labour content, on average."""
        return sum(step.content_s for step in self.steps if step.kind == "labour")


@dataclass(frozen=True, slots=True)
class Worker:
    """One technician.

    Attributes:
        rate: seconds of content done in a second, by class of phase.
        skills: which phases beside the common ones.
        hours: from and until in open seconds of the day, by weekday; none: not there.
        since, until: shop days of employment, the last one not included.
        leave: shop days off, known ahead.
    """

    badge: str
    rate: Mapping[PhaseClass, float]
    skills: frozenset[int]
    hours: Mapping[int, tuple[int, int]]
    since: int
    until: int
    leave: frozenset[int]

    def span(self, time: OpenTime, day: int) -> tuple[int, int] | None:
        """Readings from and until which the plan has them in on a shop day."""
        hours = self.hours.get(time.weekdays[day])
        if hours is None or not self.since <= day < self.until or day in self.leave:
            return None
        start, length = time.days[day], time.length(day)
        if hours[0] >= length:
            return None
        return start + hours[0], start + min(length, hours[1])


@dataclass(frozen=True, slots=True)
class Supplier:
    """Who brings parts or kits.

    Attributes:
        from_shelf, next_day: chances; else it is a special order.
        special_days: shop days of a special order, least and most.
        late: chance that a said day is missed; again for each further day.
        turn: shop day from which `late_after` and `longer` hold instead: the drift.
    """

    from_shelf: float
    next_day: float
    special_days: tuple[int, int]
    late: float
    turn: int
    late_after: float
    longer: int


@dataclass(frozen=True, slots=True)
class Firm:
    """Who does outwork: whole shop days, `least` and a gamma law on top."""

    name: str
    least: int
    shape: float
    more_days: float
    turn: int
    factor_after: float


@dataclass(frozen=True, slots=True)
class Appointments:
    """How the foreman, and who else has to say a word, keep to a time.

    Attributes:
        hours, weights: open hours ahead for which it is fixed, and how often.
        keeps: chance that it is over by then, some time between .3 and 1 of it.
        overrun: else later, by this multiple of it on average.
    """

    hours: tuple[float, ...]
    weights: tuple[float, ...]
    keeps: float
    overrun: float


@dataclass(frozen=True, slots=True)
class Small:
    """Small jobs and everything else that takes people away.

    Attributes:
        per_h: small jobs that come in an open hour.
        mean_h: their mean length over the least one.
        at_once: chance that somebody is called from a lift for it.
        calls_per_h: other calls away, per person's hour on a job.
        call_h: mean length of those.
    """

    per_h: float
    mean_h: float
    at_once: float
    calls_per_h: float
    call_h: float


@dataclass(frozen=True, slots=True)
class Faults:
    """How the book of holds goes wrong: chances."""

    released_late: float
    late_h: float
    not_entered: float


@dataclass(frozen=True, slots=True)
class Shop:
    """Everything about one shop that does not change by chance.

    Attributes:
        families: labour factor by key.
        grades: chance of grades 1 to 4.
        grade_factor: labour factor by grade, by class of phase.
        natures: by grade, chances of sweet, usual, sour.
        nature_labour: by class of phase, labour factor of the three.
        nature_trouble: factor on all that goes wrong, of the three.
        reasons: by class of phase, weights of `REASONS`.
        says: chance that an end is said, by reason.
        per_day: jobs that come in a usual shop day.
        busy_sd, busy_keeps: of the log of a week's factor on that, and its memory.
        patience: jobs in the waiting line above which a customer goes elsewhere.
        stay_factor: what the shop promises by: stay as a multiple of book hours.
        ill, ill_ends: chances a day.
        notice_h: mean open hours until somebody sees that a job can go on.
        sticks: chance that somebody goes on with what they were on.
        small_first: chance that a free person takes a waiting small job first.
    """

    name: str
    rule: RuleName
    time: OpenTime
    lifts: int
    workers: tuple[Worker, ...]
    operations: tuple[Operation, ...]
    families: Mapping[str, float]
    grades: tuple[float, float, float, float]
    grade_factor: Mapping[PhaseClass, tuple[float, float, float, float]]
    natures: tuple[tuple[float, float, float], ...]
    nature_labour: Mapping[PhaseClass, tuple[float, float, float]]
    nature_trouble: tuple[float, float, float]
    reasons: Mapping[PhaseClass, Sequence[float]]
    says: Mapping[Reason, float]
    suppliers: tuple[Supplier, ...]
    kit_supplier: Supplier
    firms: tuple[Firm, ...]
    appointments: Mapping[Reason, Appointments]
    small: Small
    faults: Faults
    per_day: float
    busy_sd: float
    busy_keeps: float
    patience: int
    stay_factor: float
    ill: float
    ill_ends: float
    notice_h: float
    sticks: float
    small_first: float
