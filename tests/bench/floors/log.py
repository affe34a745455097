"""What happened on a floor, as somebody who sees everything would write it down."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from tests.bench.floors.laws import Away, Standing
from tests.bench.floors.world import Hold, Job


@dataclass(slots=True)
class Kept:
    """A hold, an outwork or a cure of one phase; readings. `end` -1: still going on."""

    idx: int
    kind: Literal["held", "standing", "outwork"]
    reason: str
    begun: int
    said: int | None
    end: int = -1


@dataclass(slots=True)
class Stay:
    """One job's stay: readings of phases reached and finished, its clocks and what kept it."""

    job: Job
    reached: dict[int, int] = field(default_factory=dict[int, int])
    finished: dict[int, int] = field(default_factory=dict[int, int])
    clocks: list[tuple[int, int, int, int]] = field(default_factory=list[tuple[int, int, int, int]])
    kept: dict[int, Kept] = field(default_factory=dict[int, Kept])


class Log:
    """All stays by number of the job; `awaited`: the jobs that are not finished yet."""

    def __init__(self, jobs: int) -> None:
        """Nothing yet; the first so many jobs are waited for."""
        self.stays: dict[int, Stay] = {}
        self.awaited = set(range(1, jobs + 1))

    def brought_in(self, job: Job) -> None:
        """A job comes on a lift."""
        self.stays[job.number] = Stay(job)

    def reached(self, number: int, idx: int, at: int) -> None:
        """It has come to a phase."""
        self.stays[number].reached[idx] = at

    def finished(self, number: int, idx: int, at: int) -> None:
        """A labour phase is finished."""
        stay = self.stays[number]
        stay.finished[idx] = at
        if idx == len(stay.job.steps) - 1:
            self.awaited.discard(number)

    def clock(self, number: int, idx: int, who: int, since: int, until: int) -> None:
        """A clock has stopped."""
        self.stays[number].clocks.append((idx, who, since, until))

    def hold_begins(self, number: int, one: Hold, at: int, said: int | None) -> None:
        """A phase is held."""
        self.stays[number].kept[one.name] = Kept(one.idx, "held", one.reason, at, said)

    def hold_ends(self, number: int, name: int, at: int) -> None:
        """A hold is over."""
        self.stays[number].kept[name].end = at

    def away_begins(self, number: int, idx: int, law: Away | Standing, at: int) -> None:
        """It stands, or is sent out."""
        if isinstance(law, Away):
            one = Kept(idx, "outwork", law.firm.name, at, law.due)
        else:
            one = Kept(idx, "standing", "", at, None)
        self.stays[number].kept[-1 - idx] = one

    def away_ends(self, number: int, at: int) -> None:
        """The cure is over, the outwork is back."""
        stay = self.stays[number]
        stay.kept[-1 - max(-1 - key for key in stay.kept if key < 0)].end = at
