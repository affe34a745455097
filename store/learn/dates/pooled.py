"""Rates of holds as they are known at one moment: each worked out once for a forecast."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from store.learn.dates.rates import (
    JOB_WORTH,
    OPERATION_WORTH,
    PHASE_WORTH,
    Counts,
    Factor,
    HoldRates,
    Rates,
)
from store.learn.dates.route import Step


class Pooled:
    """Class, operation, phase and job, each over what stands above it. For one forecast."""

    def __init__(self, holds: HoldRates) -> None:
        """Look at sums that are not raised while this is used."""
        self._holds = holds
        self._rates: dict[str | None, Rates] = {}
        self._operations: dict[str, Factor] = {}
        self._phases: dict[tuple[str, str], Factor] = {}
        self._mixes: dict[str | None, Mapping[str, float]] = {}

    def rates(self, phase_class: str | None) -> Rates:
        """Of a class of phase, before any factor."""
        found = self._rates.get(phase_class)
        if found is None:
            found = self._rates[phase_class] = self._holds.rates(phase_class)
        return found

    def operation(self, operation: str) -> Factor:
        """The operation's factor: seen against expected by the class of its phases."""
        found = self._operations.get(operation)
        if found is None:
            found = self._operations[operation] = self._of_operation(operation)
        return found

    def phase(self, step: Step) -> Factor:
        """The phase's factor, over its class and the operation's factor."""
        key = step.operation, step.phase
        found = self._phases.get(key)
        if found is None:
            found = self._phases[key] = self._of_phase(step)
        return found

    def mix(self, phase_class: str | None) -> Mapping[str, float]:
        """Chance of each reason of a hold on a phase of a class."""
        found = self._mixes.get(phase_class)
        if found is None:
            found = self._mixes[phase_class] = self._holds.mix(phase_class)
        return found

    def job(self, own: Iterable[tuple[Step, Counts]]) -> Factor:
        """A job's own factor, over everything above it."""
        seen = expected = 0.0
        for step, counts in own:
            above = self.operation(step.operation).mean * self.phase(step).mean
            seen += counts.holds
            expected += self.rates(step.phase_class).expected(counts) * above
        return Factor(JOB_WORTH + seen, JOB_WORTH + expected)

    def _of_operation(self, operation: str) -> Factor:
        cells = self._holds.of_operation(operation)
        expected = sum(self.rates(cls).expected(counts) for cls, counts in cells)
        seen = sum(counts.holds for _, counts in cells)
        return Factor(OPERATION_WORTH + seen, OPERATION_WORTH + expected)

    def _of_phase(self, step: Step) -> Factor:
        cls, counts = self._holds.of_phase(step)
        expected = self.rates(cls).expected(counts) * self.operation(step.operation).mean
        return Factor(PHASE_WORTH + counts.holds, PHASE_WORTH + expected)
