"""What goes wrong between the work and the record of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from store.learn.scores import Floats
from tests.bench.hours.dice import Indices
from tests.bench.hours.flavours import Flavour

Fault = Literal["", "forgotten", "mis-punched", "lumped with the next", "lumped with the last"]


@dataclass(frozen=True, slots=True)
class Faults:
    """How often each fault happens to a phase of this shop."""

    forgotten: float
    mispunched: float
    lumped: float

    @staticmethod
    def drawn(dice: np.random.Generator, flavour: Flavour) -> Faults:
        rates = dice.uniform([0.003, 0.003, 0.02], [0.015, 0.012, 0.06])
        on = np.array([flavour.faulty, flavour.faulty, flavour.lumped])
        return Faults(*(rates * on).tolist())

    def recorded(
        self, dice: np.random.Generator, hours: Floats, people: Indices
    ) -> tuple[Floats, list[Fault]]:
        """What the clocks say of hours (n,) by people (n,), and why where it is not so."""
        n = len(hours)
        found = hours.copy()
        kinds: list[Fault] = [""] * n
        kind, lumps, odds = dice.random((3, n))
        grows, shrinks = dice.normal(1.75, 0.4, n), dice.normal(-3.3, 1.0, n)
        kept = dice.beta(0.7, 5, n)
        for i in range(n):
            if kinds[i]:
                continue
            if i + 1 < n and lumps[i] < self.lumped and people[i] == people[i + 1]:
                first = kept[i] if odds[i] < 0.5 else 1 - kept[i]
                both = hours[i] + hours[i + 1]
                found[i], found[i + 1] = both * first, both * (1 - first)
                kinds[i], kinds[i + 1] = "lumped with the next", "lumped with the last"
            elif kind[i] < self.forgotten:
                found[i], kinds[i] = hours[i] * np.exp(grows[i]), "forgotten"
            elif kind[i] < self.forgotten + self.mispunched:
                found[i], kinds[i] = hours[i] * np.exp(shrinks[i]), "mis-punched"
        return np.maximum(0.01, np.round(found, 3)), kinds
