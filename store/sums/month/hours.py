"""Hours of an owner's month: clocks split at its edges, and the ratios of a workshop.

Hours as h, ratios plain. Learners attend and learn: their clocks are no labour.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

Span = tuple[datetime, datetime]
Part = Literal["lead", "helper", "learner"]


@dataclass(frozen=True, slots=True)
class ClockIn:
    """What of a clock lies in a month.

    Attributes:
        seq: of the entry that began it.
        job, phase: None of a clock on no job, which has a `reason`.
        day: local day on which it began: its rate holds.
        whole_h: of the whole clock.
        spans: its labour in the month, breaks cut out.
    """

    seq: int
    badge: str
    name: str
    job: str | None
    phase: str | None
    phase_name: str | None
    reason: str | None
    part: Part
    since: datetime
    day: date
    whole_h: float
    spans: tuple[Span, ...]

    @property
    def hours(self) -> float:
        """Labour in the month."""
        return span_h(self.spans)

    @property
    def labour(self) -> bool:
        """On a job, by lead or helper."""
        return self.job is not None and self.part != "learner"


def span_h(spans: Iterable[Span]) -> float:
    """Return how long spans are together."""
    return sum((end - start).total_seconds() for start, end in spans) / 3600


def clipped(spans: Iterable[Span], since: datetime | None, until: datetime) -> tuple[Span, ...]:
    """Return what of spans lies between two instants; None: from ever."""
    cut = ((start if since is None else max(start, since), min(end, until)) for start, end in spans)
    return tuple((start, end) for start, end in cut if end > start)


def divided(top: float, bottom: float) -> float | None:
    """Return top / bottom; None where there is nothing to divide by."""
    return top / bottom if bottom > 0 else None


@dataclass(frozen=True, slots=True)
class Ratios:
    """What the hours of a month say of each other; None where there is nothing to divide by.

    Attributes:
        attended_h: calendar less absence.
        on_jobs_h: labour on jobs in the month.
        estimated_h: as agreed, of the phases finished in the month; `finished_h` their labour,
            that of earlier months included.

    Source:
        ISO 22400-2:2014: worker efficiency (here utilisation) is time worked on orders / attended
        time; effectiveness (here efficiency) is planned time x quantity / production time. Their
        product is planned / attended time (here productivity) where production time and time
        worked are the same, as they are when what was finished was begun in the month; else it is
        productivity x on_jobs_h / finished_h.
    """

    attended_h: float
    on_jobs_h: float
    estimated_h: float
    finished_h: float

    @property
    def utilisation(self) -> float | None:
        """Hours on jobs / hours attended."""
        return divided(self.on_jobs_h, self.attended_h)

    @property
    def efficiency(self) -> float | None:
        """Estimated hours of the phases finished / their labour hours."""
        return divided(self.estimated_h, self.finished_h)

    @property
    def productivity(self) -> float | None:
        """Estimated hours of the phases finished / hours attended."""
        return divided(self.estimated_h, self.attended_h)


@dataclass(frozen=True, slots=True)
class HoldIn:
    """A hold; `until` of one that goes on is now. `seq`: of the entry that began it."""

    seq: int
    job: str
    phase: str | None
    reason: str
    since: datetime
    until: datetime
    text: str | None = None


def held_once(holds: Sequence[HoldIn]) -> list[tuple[HoldIn, tuple[Span, ...]]]:
    """Return what each hold adds to those of its job that began before it: a job that is held
    twice at once is held once, for the reason that came first.

    Args:
        holds: in any order.
    """
    covered: dict[str, datetime] = {}
    found: list[tuple[HoldIn, tuple[Span, ...]]] = []
    for one in sorted(holds, key=lambda hold: (hold.since, hold.seq)):
        # begun in order, what is covered of a job before this one's end ends once
        reached = covered.get(one.job, one.since)
        start = max(one.since, reached)
        found.append((one, ((start, one.until),) if one.until > start else ()))
        covered[one.job] = max(reached, one.until)
    return found
