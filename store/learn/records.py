"""What the learner is given: finished phases, and phases still to do. Plain values, no file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

PhaseClass = Literal["strip", "work", "refit"]
CLASSES: tuple[PhaseClass, ...] = get_args(PhaseClass)


@dataclass(frozen=True, slots=True)
class Record:
    """One finished phase of a job.

    Attributes:
        template: the operation, or operations joined with '+'.
        variant: the vehicle's family, `engine-gearbox-axles` where it is built of parts.
        phase: the phase's code, the same in every job.
        seq: order of the phase in its job, from 1, gaps allowed.
        technician: whoever gave most hours.
        started, closed: POSIX seconds.
        book_h: the work book's hours for it on that day, above 0.
        actual_h: labour hours of lead and helpers, above 0.
        grade: the vehicle's condition at arrival, 1 to 4; None where nobody said.
        people: how many clocked on it.
        lumped_with: `seq` of the neighbour from which its hours cannot be told apart.
        cut_off: ended unfinished; it would have taken at least these hours.
        serves: the operations it belongs to; empty: as the template says.
        surprise_h: hours of what was found in it and recorded; None where nobody records findings.
    """

    job: str
    template: str
    variant: str
    phase: str
    seq: int
    technician: str
    started: float
    closed: float
    book_h: float
    actual_h: float
    grade: int | None = None
    phase_class: PhaseClass | None = None
    people: int | None = None
    lumped_with: int | None = None
    cut_off: bool = False
    serves: tuple[str, ...] = ()
    surprise_h: float | None = None


@dataclass(frozen=True, slots=True)
class Planned:
    """One phase still to do, or under way.

    Attributes:
        technician: who is on it or assigned; None where it is open.
        elapsed_h: labour so far; the phase is known to take longer.
        extra_h: agreed or asked extra work in it, hours on top of the usual.
    """

    phase: str
    seq: int
    book_h: float
    phase_class: PhaseClass | None = None
    serves: tuple[str, ...] = ()
    technician: str | None = None
    elapsed_h: float = 0.0
    extra_h: float = 0.0


@dataclass(frozen=True, slots=True)
class AtHand:
    """The job that is asked about, as far as it is known at `as_of` (POSIX seconds).

    Attributes:
        own: its own finished phases; those that the fit has seen already do no harm.
        employed: who may do the work; None where nobody says.
    """

    job: str
    template: str
    variant: str
    as_of: float
    grade: int | None = None
    own: tuple[Record, ...] = ()
    employed: frozenset[str] | None = None


@dataclass(frozen=True, slots=True)
class People:
    """What is known of the people beside their clocks.

    Attributes:
        employed: spans (from, until) in POSIX seconds by badge; `until` None: still here.
        experience: 'apprentice 1' to 'apprentice 4', 'skilled' or 'expert', by badge.
    """

    employed: Mapping[str, tuple[tuple[float, float | None], ...]] = field(
        default_factory=dict[str, tuple[tuple[float, float | None], ...]]
    )
    experience: Mapping[str, str] = field(default_factory=dict[str, str])
