"""What the views say of who does what next: frozen values, hours of labour, instants in UTC."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from store.file.roster import Absence
from store.sums.working_time import Calendar


@dataclass(frozen=True, slots=True)
class Given:
    """Somebody who has a job, or a phase of it, on their list.

    Attributes:
        phase: its number; None is the whole job.
        now: it is what comes next of the job.
    """

    badge: str
    name: str
    initials: str
    phase: str | None
    now: bool


@dataclass(frozen=True, slots=True)
class Work:
    """A line of somebody's list, or work that is on nobody's.

    Attributes:
        phase: its number; None is the whole job.
        begins: the phase that would be begun, or gone on with, now; None where it waits.
        waits_for: in words, "" where it can go on now.
        left_h: middle forecast of the labour still to go.
        likely: when it is likely to be worked on, after what stands before it; None where nobody
            has it.
    """

    job: str
    phase: str | None
    name: str
    vehicle: str
    place: str | None
    begins: str | None
    waits_for: str
    left_h: float
    promise: datetime | None
    promise_chance: float | None
    given_by: str | None = None
    since: datetime | None = None
    likely: tuple[datetime, datetime] | None = field(default=None, compare=False)

    @property
    def where(self) -> str:
        """`2417.4`, or `2417` for the whole job."""
        return self.job if self.phase is None else f"{self.job}.{self.phase}"


@dataclass(frozen=True, slots=True)
class WorkList:
    """What somebody has to do, in its order.

    Attributes:
        clock: `2417.4`, or the reason of a clock on no job; None without a clock.
        absence: the one that is on, else the next.
    """

    badge: str
    name: str
    initials: str
    role: str
    clock: str | None
    since: datetime | None
    absence: Absence | None
    works: tuple[Work, ...]
    left_running: bool = False


@dataclass(frozen=True, slots=True)
class Assigned:
    """Everybody's list, and what could go on now and is on nobody's."""

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    people: tuple[WorkList, ...] = ()
    nobodys: tuple[Work, ...] = ()
