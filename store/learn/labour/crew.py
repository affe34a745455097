"""Who will do it, where nobody is assigned: whoever did such work lately."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

from store.learn.records import Record

DAY_S = 86_400.0
SHOP_HALF_LIFE = 60.0
OPERATION_HALF_LIFE = 200.0
"""Days after which work done counts half."""
SHOP_WORTH = 4.0
"""Phases of an operation that the shop's own share of work counts for."""
NEWCOMER = 0.02
"""Chance of somebody who was never seen before. Common practice, no source."""
LEAST = 0.004
"""Smaller shares are left out."""
FOLLOW_WORTH, FOLLOW = 10.0, 0.8
"""Odds that the next phase of a job stays with whoever did the last, before any was seen."""


@dataclass(slots=True)
class Tally:
    """Work done, by technician, fading with a half-life in days."""

    half_life: float
    at: float = 0.0
    by: dict[str, float] = field(default_factory=lambda: defaultdict(float))

    def add(self, technician: str, at: float) -> None:
        """Count one more phase."""
        self._fade(at)
        self.by[technician] += 1.0

    def _fade(self, at: float) -> None:
        if at > self.at:
            factor = 0.5 ** ((at - self.at) / DAY_S / self.half_life) if self.at else 1.0
            for name in self.by:
                self.by[name] *= factor
            self.at = at


@dataclass(slots=True)
class Crew:
    """Who does which work. Fed in the order of closing."""

    shop: Tally = field(default_factory=lambda: Tally(SHOP_HALF_LIFE))
    operations: dict[str, Tally] = field(default_factory=dict[str, Tally])
    last: dict[str, tuple[int, str]] = field(default_factory=dict[str, tuple[int, str]])
    followed: float = 0.0
    chances: float = 0.0

    def learn(self, record: Record, owners: Sequence[str]) -> None:
        """Take in who did a phase."""
        self.shop.add(record.technician, record.closed)
        for operation in owners:
            tally = self.operations.setdefault(operation, self.of_operation())
            tally.add(record.technician, record.closed)
        before = self.last.get(record.job)
        if before is not None and before[0] < record.seq:
            self.chances += 1
            self.followed += before[1] == record.technician
        self.last[record.job] = (record.seq, record.technician)

    @staticmethod
    def of_operation() -> Tally:
        """Return an empty tally of one operation."""
        return Tally(OPERATION_HALF_LIFE)

    @property
    def follow(self) -> float:
        """Odds that a job's next phase stays in the same hands."""
        return (FOLLOW_WORTH * FOLLOW + self.followed) / (FOLLOW_WORTH + self.chances)

    def shares(
        self, operations: Sequence[str], employed: Collection[str] | None
    ) -> list[tuple[str | None, float]]:
        """Return who may do work of these operations, with odds that add up to 1.

        None stands for somebody who was never seen here.
        """
        shop = self._of(self.shop.by, employed)
        whole = sum(shop.values())
        found: dict[str, float] = defaultdict(float)
        if whole > 0:
            for operation in operations:
                tally = self.operations.get(operation)
                own = self._of(tally.by, employed) if tally else {}
                seen = sum(own.values()) + SHOP_WORTH
                for name, part in shop.items():
                    share = (own.get(name, 0.0) + SHOP_WORTH * part / whole) / seen
                    found[name] += share / len(operations)
        unknown = NEWCOMER if employed is None else 0.0
        fresh = [name for name in employed or () if name not in found]
        kept = [(name, part) for name, part in sorted(found.items()) if part >= LEAST]
        kept += [(name, 0.5 / (whole + len(fresh))) for name in sorted(fresh)]
        if not kept:
            return [(None, 1.0)]
        total = sum(part for _, part in kept) / (1 - unknown)
        shares: list[tuple[str | None, float]] = [(name, part / total) for name, part in kept]
        return [*shares, (None, unknown)] if unknown else shares

    @staticmethod
    def _of(by: dict[str, float], employed: Collection[str] | None) -> dict[str, float]:
        if employed is None:
            return by
        return {name: part for name, part in by.items() if name in employed}
