"""Closed jobs and finished phases as an owner's month judges them: plain values, hours, UTC."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from store.sums.accuracy import in_range

Cause = Literal["agreed", "supplement", "route", "other"]
"""Why a job's agreed hours are what they are: as agreed for the whole job; extra work agreed; a
decision that changed the route; what is neither (a phase left out, an answer taken back)."""


@dataclass(frozen=True, slots=True)
class Change:
    """Hours of a whole job as agreed from an instant on.

    Attributes:
        seq: the entry that says so.
        says: its cause in words.
        added_h: middle hours more than before; below 0: fewer. All of them in the first one.
    """

    seq: int
    at: datetime
    cause: Cause
    says: str
    middle_h: float
    cautious_h: float
    added_h: float


@dataclass(frozen=True, slots=True)
class Clocked:
    """A clock on a phase.

    Attributes:
        seq: the entry that began it.
        until: None while it runs; `hours` are then those up to now, or to its shift's end.
        hours: labour, breaks cut out. A learner's are told and count nowhere.
    """

    seq: int
    badge: str
    part: Literal["lead", "helper", "learner"]
    since: datetime
    until: datetime | None
    hours: float


@dataclass(frozen=True, slots=True)
class PhaseJudged:
    """A labour phase beside its own hours as agreed.

    Attributes:
        phase: its number; `code` is the same in every job.
        operation: what it serves: the operation's code, or the operations joined with `+`.
        badge: whoever gave most hours; None where nobody clocked.
        finished_at: None where it is not finished.
        cut_off: ended unfinished by a change of route.
        labour_h: of lead and helpers.
        estimate_h, cautious_h: as agreed when it came into the route.
    """

    job: str
    phase: str
    code: str
    name: str
    phase_class: str
    operation: str
    family: str
    small: bool
    badge: str | None
    state: str
    finished_at: datetime | None
    cut_off: bool
    not_teaching: str | None
    labour_h: float
    estimate_h: float
    cautious_h: float
    book_h: float
    clocks: tuple[Clocked, ...] = ()


@dataclass(frozen=True, slots=True)
class JobJudged:
    """A closed job beside what was agreed.

    Attributes:
        operations: codes; none in a small job.
        work: what it was, in words.
        lead: badge of whoever led it for most hours; None where nobody did.
        labour_h: of lead and helpers on labour phases.
        first_h: middle hours as agreed for the whole job, frozen.
        estimate_h, cautious_h: as agreed in the end, with extra work and changed routes; None, as
            `first_h` is, where nothing was agreed.
        extra_h: of it by extra work that was agreed; `route_h` by changed routes; `other_h` the
            rest: first_h + extra_h + route_h + other_h = estimate_h.
        quantiles: the 19 quantiles of its hours as first agreed, moved by what was agreed since;
            None where no range was told.
        changes: every figure that held, in order.
        promised, first_promised: what the customer was told last, and first; `chance`: at which
            the last was given, where one was chosen.
        ready_at: when its last phase was finished.
        not_teaching: why it never teaches: a comeback, or marked by hand.
    """

    job: str
    vehicle: str
    operations: tuple[str, ...]
    work: str
    family: str
    grade: int
    small: bool
    lead: str | None
    basis: str | None
    closed_at: datetime
    labour_h: float
    first_h: float | None
    estimate_h: float | None
    cautious_h: float | None
    extra_h: float = 0.0
    route_h: float = 0.0
    other_h: float = 0.0
    quantiles: tuple[float, ...] | None = None
    changes: tuple[Change, ...] = ()
    promised: datetime | None = None
    first_promised: datetime | None = None
    chance: float | None = None
    ready_at: datetime | None = None
    not_teaching: str | None = None
    phases: tuple[PhaseJudged, ...] = ()

    @property
    def ratio(self) -> float | None:
        """Labour / estimate: above 1 where the estimate ran short; None: nothing to divide."""
        if not self.estimate_h or self.labour_h <= 0:
            return None
        return self.labour_h / self.estimate_h

    @property
    def lost_h(self) -> float | None:
        """Labour beyond the estimate; below 0: to spare."""
        return None if self.estimate_h is None else self.labour_h - self.estimate_h

    @property
    def cautious_held(self) -> bool | None:
        """Whether the cautious figure was enough."""
        return None if self.cautious_h is None else self.labour_h <= self.cautious_h

    @property
    def inside(self) -> bool | None:
        """Whether it took what the range said; None where there is none, or no labour."""
        if self.quantiles is None or self.labour_h <= 0:
            return None
        return in_range(self.labour_h, self.quantiles)

    @property
    def operation(self) -> str | None:
        """Its operations joined with `+`, as the history joins them; None in a small job."""
        return "+".join(self.operations) if self.operations else None
