"""From a phase to the levels it is made of, each with its weight."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from store.learn.labour.terms import EXPERIENCE, GRADES, LEARNING_JOBS, Term
from store.learn.records import PhaseClass

USUAL_GRADE = 2
"""What others are measured against."""
Key = tuple[int, *tuple[object, ...]]
"""A level: its term, then what it belongs to."""
Entry = tuple[Key, float]


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of a phase before it is done."""

    template: str
    variant: str
    phase: str
    book_h: float
    grade: int | None
    phase_class: PhaseClass | None
    serves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A phase as levels. `log_revision` is ln(b / b0), whose slope is learned for itself.

    Attributes:
        entries: levels that do not depend on who does it.
        chains: the phases of operations it belongs to, for their drift and their own noise.
        offset: what is known beforehand to come on top, from the grade.
    """

    entries: tuple[Entry, ...]
    chains: tuple[tuple[Key, float], ...]
    log_revision: float
    offset: float


@dataclass(slots=True)
class Seen:
    """What earlier phases say of how the work is cut up. Fed in the order of closing."""

    alone: dict[str, set[str]] = field(default_factory=lambda: defaultdict(set))
    """Operations that had this phase in a job with no other operation."""
    codes: dict[str, set[str]] = field(default_factory=lambda: defaultdict(set))
    """Phases of an operation."""
    users: dict[str, set[str]] = field(default_factory=lambda: defaultdict(set))
    """Operations that had this phase."""
    first_book: dict[tuple[str, str, str], tuple[float, float]] = field(
        default_factory=dict[tuple[str, str, str], tuple[float, float]]
    )
    """First book hours of operation, phase and family, and ln(b / b0) then."""
    revision: dict[tuple[str, str], float] = field(default_factory=dict[tuple[str, str], float])
    done: dict[tuple[str, str], list[float]] = field(default_factory=lambda: defaultdict(list))
    """When a technician's phases of an operation were closed, rising."""
    earlier: dict[tuple[str, str], int] = field(default_factory=dict[tuple[str, str], int])
    """How many came before those, where their instants were not kept."""

    def owners(self, facts: Facts) -> tuple[str, ...]:
        """Return the operations that a phase of a job belongs to."""
        if facts.serves:
            return facts.serves
        parts = tuple(facts.template.split("+"))
        if len(parts) == 1:
            return parts
        known = self.alone.get(facts.phase, set())
        return tuple(part for part in parts if part in known) or parts

    def log_revision(self, operation: str, facts: Facts) -> float:
        """Return ln(b / b0): how far the book has moved since the shop first used it.

        A family is compared with itself, since books may differ by family; one that is new starts
        where the phase stands.
        """
        first = self.first_book.get((operation, facts.phase, facts.variant))
        if first is None:
            return self.revision.get((operation, facts.phase), 0.0)
        return first[1] + math.log(facts.book_h / first[0])

    def experience(self, technician: str, operation: str, at: float) -> float:
        """Return e: jobs of the operation that somebody has finished before, in parts by phases."""
        closed = self.done.get((technician, operation))
        if not closed:
            return 0.0
        before = self.earlier.get((technician, operation), 0) + bisect_left(closed, at)
        return before / max(1, len(self.codes[operation]))

    def learn(self, facts: Facts, technician: str, closed: float) -> None:
        """Take in a finished phase. In the order of closing."""
        owners = self.owners(facts)
        if "+" not in facts.template:
            self.alone[facts.phase].update(owners)
        for operation in owners:
            self.codes[operation].add(facts.phase)
            self.users[facts.phase].add(operation)
            moved = self.log_revision(operation, facts)
            self.first_book.setdefault(
                (operation, facts.phase, facts.variant), (facts.book_h, moved)
            )
            self.revision[(operation, facts.phase)] = moved
            self.done[(technician, operation)].append(closed)


def row_of(facts: Facts, seen: Seen) -> Row:
    """Return the levels of a phase that do not depend on who does it."""
    owners = seen.owners(facts)
    share = 1 / len(owners)
    entries: list[Entry] = [((Term.MU,), 1.0), ((Term.ACC, facts.phase), 1.0)]
    for operation in owners:
        entries += [
            ((Term.TPL, operation), share),
            ((Term.TP, operation, facts.phase), share),
            ((Term.TV, operation, facts.variant), share),
            ((Term.TPV, operation, facts.phase, facts.variant), share),
        ]
    entries += [(key, 1.0) for key in _family(facts.variant)]
    if facts.grade not in (None, USUAL_GRADE):
        entries.append(((Term.GRADE, facts.grade, facts.phase_class), 1.0))
    chains = tuple(((Term.TP, operation, facts.phase), share) for operation in owners)
    offset = GRADES.get((facts.grade, facts.phase_class), 0.0) if facts.grade is not None else 0.0
    moved = sum(seen.log_revision(operation, facts) for operation in owners) * share
    return Row(tuple(entries), chains, moved, offset)


def _family(variant: str) -> list[Key]:
    parts = variant.split("-")
    keys: list[Key] = [(Term.VAR, variant)]
    if len(parts) > 1:
        keys += [(Term.TOK, place, part) for place, part in enumerate(parts)]
    return keys


def revision_of(row: Row) -> list[Entry]:
    """Return the levels that take the book's revision."""
    if row.log_revision == 0.0:
        return []
    entries: list[Entry] = [((Term.REV0,), row.log_revision)]
    entries += [((Term.REV, *key[1:]), share * row.log_revision) for key, share in row.chains]
    return entries


def hands_of(technician: str, owners: Sequence[str], seen: Seen, at: float) -> list[Entry]:
    """Return the levels of who does it, with what they have done before."""
    share = 1 / len(owners)
    entries: list[Entry] = [((Term.TECH, technician), 1.0)]
    fresh = 0.0
    for operation in owners:
        entries.append(((Term.TT, technician, operation), share))
        fresh += share * math.exp(-seen.experience(technician, operation, at) / LEARNING_JOBS)
    return [*entries, ((Term.LEARN,), fresh), ((Term.TSL, technician), fresh)]


def experience_offset(experience: str | None) -> float:
    """Return ln of how much longer somebody of that experience takes."""
    return EXPERIENCE.get(experience or "skilled", 0.0)
