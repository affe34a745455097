"""When each kit is wanted, by which job, from when until when: joint draws of the forecast."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class JobNeed:
    """One stretch of phases of one job that wants one kit.

    Draw k of every need is of the same dice: how fast the shop is to be is the same in it for all
    jobs, and for stretches of one job everything is.

    Attributes:
        phases: their numbers, in the order of the route, finished ones of the stretch too.
        lift: on which the job stands now; None where on none.
        begun: the kit is in use there now; then every draw's start is when it began.
        captive: it is fixed on the open unit for a part of the stretch and cannot leave before.
        draws: since and until. One in which since is until: the kit is not needed after all, as an
            open decision may turn out; leave it out.
        finishes: of the whole job, in the same draws.
        made_at: when the forecast behind it was made; None: by the work book's ranges.
    """

    job: str
    phases: tuple[str, ...]
    lift: str | None
    begun: bool
    captive: bool
    draws: tuple[tuple[datetime, datetime], ...]
    finishes: tuple[datetime, ...]
    made_at: datetime | None

    @property
    def needed(self) -> float:
        """Share of the draws in which the kit is needed."""
        return sum(since < until for since, until in self.draws) / len(self.draws)
