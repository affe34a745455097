"""A job's route made of what its history says, or of what its work book says."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass

from store.learn.dates.route import Step
from store.learn.dates.spans import Span
from store.learn.records import Record


@dataclass(frozen=True, slots=True)
class Plan:
    """A finished job: its phases of labour, where it stood and was away, and when it ended.

    Attributes:
        away: `seq` and kind of each phase without labour.
        ends: POSIX seconds at which the last phase was finished; not to be known before.
    """

    phases: tuple[Record, ...]
    away: tuple[tuple[int, str], ...]
    ends: float

    @staticmethod
    def of(phases: Iterable[Record], away: Sequence[Span]) -> Plan:
        """Put the rows of one job together, in any order."""
        in_order = tuple(sorted(phases, key=lambda one: one.seq))
        own = {one.seq for one in in_order}
        ends = [one.closed for one in in_order]
        ends += [one.ended for one in away if one.ended is not None]
        kinds = sorted({(one.seq, one.kind) for one in away if one.seq not in own})
        return Plan(in_order, tuple(kinds), max(ends))

    def route(self, known: Mapping[str, Container[str]]) -> tuple[Step, ...]:
        """The phases in order.

        Args:
            known: codes of phases seen in each operation so far.
        """
        steps = [
            Step(
                one.seq, "labour", home(one.template, one.phase, one.serves, known), one.phase,
                one.phase_class, one.book_h,
            )
            for one in self.phases
        ]  # fmt: skip
        for seq, kind in self.away:
            before = max(
                (step for step in steps if step.seq < seq and step.kind == "labour"),
                key=lambda step: step.seq,
                default=steps[0],
            )
            steps.append(
                Step(
                    seq,
                    "standing" if kind == "standing" else "outwork",
                    before.operation,
                    f"{kind} after {before.phase}",
                )
            )
        return tuple(sorted(steps, key=lambda step: step.seq))


def home(
    template: str, phase: str, serves: Sequence[str], known: Mapping[str, Container[str]]
) -> str:
    """The operation under which a phase teaches: the one of its operations that knows it already.

    So a job of two operations joined by '+' is made of phases known from each.
    """
    operations = sorted(serves) or template.split("+")
    for operation in operations:
        if phase in known.get(operation, ()):
            return operation
    return operations[0] if len(operations) == 1 else "+".join(operations)
