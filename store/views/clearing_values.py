"""What the view of clearing a lift gives: frozen values, no markup."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from store.rules.clearing import Cost, Standing, Verdict
from store.sums.clearing import Worth


@dataclass(frozen=True, slots=True)
class Clearing:
    """A lift whose job cannot go on: what clearing it takes, and when that pays.

    Attributes:
        waits: why it cannot go on, in words: `held for parts`.
        since: when that began; `until` its end as it was said, None where nobody said.
        rest_h: open hours for which it is likely to go on, on the average.
        why: why it cannot leave; None where it can.
        cost: one way; None where it cannot leave.
        yards: codes of places that take the vehicle.
        unit_at: where its unit stands; None where that is not known, or none is out.
        unit_places: benches and free stands that take a unit.
        comes: ready jobs that this lift carries and no free lift does, the longest waiting first.
        other: a ready job that a free lift takes already, and that lift.
        worth: None where it cannot leave.
    """

    lift: str
    job: str
    vehicle: str
    waits: str
    since: datetime | None
    until: datetime | None
    rest_h: float
    stands: Standing
    why: str | None
    cost: Cost | None
    yards: tuple[str, ...]
    unit_at: str | None
    unit_places: tuple[str, ...]
    comes: tuple[str, ...]
    other: tuple[str, str] | None
    worth: Worth | None
    verdict: Verdict
    at: datetime = field(compare=False)
    zone: str = "UTC"

    @property
    def closes(self) -> bool:
        """It sits fixed, and can be closed far enough to roll."""
        return self.stands == "fixed" and self.why is None
