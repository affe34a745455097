"""Open hours with somebody on a phase, per hour of its labour.

Less than one where two work at once or after closing time.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from store.learn.dates.away import route_key
from store.learn.dates.route import Step
from store.learn.dates.seen import PhaseDone

SHOP_WORTH_H, PHASE_WORTH_H = 60.0, 20.0
LEAST, MOST = 0.2, 1.25
"""A phase whose clocks and hours differ by more was clocked wrong and teaches nothing."""


@dataclass(slots=True)
class Hands:
    """Sums of open hours and of labour, over all phases and by phase."""

    open_h: float = 0.0
    labour_h: float = 0.0
    phases: dict[str, tuple[float, float]] = field(default_factory=dict[str, tuple[float, float]])

    def learn(self, seen: PhaseDone) -> None:
        """Take in a finished phase."""
        if not LEAST <= seen.hours / seen.labour_h <= MOST:
            return
        self.open_h += seen.hours
        self.labour_h += seen.labour_h
        open_h, labour_h = self.phases.get(route_key(seen.step), (0.0, 0.0))
        self.phases[route_key(seen.step)] = open_h + seen.hours, labour_h + seen.labour_h

    def share(self, step: Step) -> float:
        """Open hours per labour hour of a phase, shrunk to the shop's and that to one."""
        shop = (SHOP_WORTH_H + self.open_h) / (SHOP_WORTH_H + self.labour_h)
        open_h, labour_h = self.phases.get(route_key(step), (0.0, 0.0))
        return (PHASE_WORTH_H * shop + open_h) / (PHASE_WORTH_H + labour_h)
