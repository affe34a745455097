"""What the work book renews every time, for the phases that a job has."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from store.rules.book import WorkBook
from store.rules.route_when import Vehicle
from store.rules.routes import sold


class Renewed(NamedTuple):
    """A part to renew, and the number of the phase for which it must be here."""

    text: str
    phase: str

    def same(self) -> tuple[str, str]:
        """What tells it from others, however it is written."""
        return self.text.casefold(), self.phase


def renewed(
    book: WorkBook, operations: Sequence[str], vehicle: Vehicle, phases: Mapping[str, str]
) -> tuple[Renewed, ...]:
    """Return the parts that are renewed every time, each once, in the order of the book.

    Args:
        phases: numbers of the job's phases by their code; a part for a phase that is part of
            another one is for that one, and a part for a phase that this job has not is not asked.
    """
    inside = {
        inner: number
        for code, number in phases.items()
        if code in book.phases
        for inner in book.phases[code].contains
    }
    found: dict[tuple[str, str], Renewed] = {}
    for operation in sold(book, operations):
        for part in operation.parts:
            number = phases.get(part.phase) or inside.get(part.phase)
            if number is not None and vehicle.meets(part.when):
                one = Renewed(part.text, number)
                found.setdefault(one.same(), one)
    return tuple(found.values())
