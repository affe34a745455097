"""How often jobs are held: Poisson rates by class of phase, and factors pooled below them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from store.learn.dates.priors import BEFORE_PHASE, INSIDE_H, LATER_H, MIX
from store.learn.dates.route import Step
from store.learn.dates.seen import Begun, HoldBegan, Seen, Worked

BEFORE_WORTH = 15.0
"""Phases begun that the prior rate of holds before one is worth."""
HOURS_WORTH = 30.0
"""Labour hours that the prior rates per hour are worth."""
OPERATION_WORTH, PHASE_WORTH, JOB_WORTH = 6.0, 5.0, 4.0
"""Holds expected at which a factor stands half-way between 1 and what was seen."""
MIX_WORTH = 6.0
OTHER_CLASSES = 0.5
"""What a hold of another class of phase says of the reasons in this one."""
AHEAD = (0.5, 0.25, 0.25)
"""Share of the holds on a later phase that lie on the next, the second and the third."""
AHEAD_WORTH = 4.0


@dataclass(slots=True)
class Counts:
    """Exposure and holds: phases begun, labour hours, holds before, inside and on a later one."""

    begun: float = 0.0
    labour_h: float = 0.0
    before: float = 0.0
    inside: float = 0.0
    later: float = 0.0

    @property
    def holds(self) -> float:
        """All of them."""
        return self.before + self.inside + self.later


@dataclass(frozen=True, slots=True)
class Rates:
    """Holds before a phase (each), inside one and on a later one (per labour hour)."""

    before: float
    inside: float
    later: float

    def expected(self, counts: Counts) -> float:
        """Holds that so much exposure brings."""
        return self.before * counts.begun + (self.inside + self.later) * counts.labour_h


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor on rates: Gamma(worth + seen, worth + expected)."""

    seen: float
    expected: float

    @property
    def mean(self) -> float:
        """Half-way to what was seen where as much is expected as the prior is worth."""
        return self.seen / self.expected


@dataclass(slots=True)
class HoldRates:
    """Counts by class of phase and, below it, by operation and its phase.

    Attributes:
        classes: by class; '' where nobody said.
        cells: by operation, by phase: its class and its counts.
        reasons: holds by class, by reason.
        ahead: holds on a later phase, by how many phases ahead: next, second, third.
    """

    classes: dict[str, Counts] = field(default_factory=dict[str, Counts])
    cells: dict[str, dict[str, tuple[str, Counts]]] = field(
        default_factory=dict[str, dict[str, tuple[str, Counts]]]
    )
    reasons: dict[str, dict[str, float]] = field(default_factory=dict[str, dict[str, float]])
    ahead: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])

    def learn(self, seen: Begun | Worked | HoldBegan) -> None:
        """Count it in its class and in its phase."""
        step = seen.step
        cls = step.phase_class or ""
        of_class = self.classes.setdefault(cls, Counts())
        cells = self.cells.setdefault(step.operation, {})
        _, of_phase = cells.setdefault(step.phase, (cls, Counts()))
        count(of_class, seen)
        count(of_phase, seen)
        if isinstance(seen, HoldBegan):
            held = self.reasons.setdefault(seen.held.phase_class or "", {})
            held[seen.reason] = held.get(seen.reason, 0.0) + 1
            if seen.rank:
                self.ahead[min(seen.rank, 3) - 1] += 1

    def rates(self, phase_class: str | None) -> Rates:
        """Of a class of phase, before any factor."""
        seen = self.classes.get(phase_class or "", Counts())
        phases, hours = BEFORE_WORTH + seen.begun, HOURS_WORTH + seen.labour_h
        return Rates(
            (BEFORE_PHASE * BEFORE_WORTH + seen.before) / phases,
            (INSIDE_H * HOURS_WORTH + seen.inside) / hours,
            (LATER_H * HOURS_WORTH + seen.later) / hours,
        )

    def of_operation(self, operation: str) -> Iterable[tuple[str, Counts]]:
        """Class and counts of each phase seen in an operation."""
        return self.cells.get(operation, {}).values()

    def of_phase(self, step: Step) -> tuple[str, Counts]:
        """Class and counts of one phase."""
        return self.cells.get(step.operation, {}).get(step.phase, ("", Counts()))

    def mix(self, phase_class: str | None) -> Mapping[str, float]:
        """Chance of each reason of a hold on a phase of a class; they sum to 1."""
        weights = {reason: MIX_WORTH * share for reason, share in MIX.items()}
        for cls, reasons in self.reasons.items():
            share = 1.0 if cls == (phase_class or "") else OTHER_CLASSES
            for reason, holds in reasons.items():
                weights[reason] = weights.get(reason, 0.0) + share * holds
        total = sum(weights.values())
        return {reason: weight / total for reason, weight in sorted(weights.items())}

    def ahead_shares(self) -> tuple[float, float, float]:
        """Where a hold on a later phase lies."""
        total = AHEAD_WORTH + sum(self.ahead)
        next_one, second, third = (
            (AHEAD_WORTH * share + seen) / total
            for share, seen in zip(AHEAD, self.ahead, strict=True)
        )
        return next_one, second, third


def count(counts: Counts, seen: Seen) -> None:
    """Raise the counts by what was seen, if it is exposure to holds or a hold."""
    match seen:
        case Begun():
            counts.begun += 1
        case Worked():
            counts.labour_h += seen.until - seen.since
        case HoldBegan(where="before"):
            counts.before += 1
        case HoldBegan(where="inside"):
            counts.inside += 1
        case HoldBegan():
            counts.later += 1
        case _:
            pass
