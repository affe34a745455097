"""The state of a floor at one instant: small enough to be copied some hundred times."""

from __future__ import annotations

import random
from heapq import heappush
from typing import TYPE_CHECKING

from tests.bench.floors.laws import Law
from tests.bench.floors.shop import NATURES, Operation, Reason, Shop, Step

if TYPE_CHECKING:
    from tests.bench.floors.log import Log

READY, STANDING, OUTWORK = 0, 1, 2

DAY, COME, GO, WORK, CALL, BACK, RELEASE, RETURN, SEEN, ARRIVE, SMALL = range(11)
"""What can happen, in no order that matters: at one instant the first planned comes first."""

Event = tuple[int, int, int, int, int]
"""Reading, serial number, what, of whom, token: an event whose token is old is passed over."""


class Hold:
    """Something that keeps a job from a phase. `law` None: nobody who can do it is in."""

    __slots__ = ("end", "idx", "law", "name", "reason")

    def __init__(self, name: int, idx: int, reason: Reason, law: Law | None, end: int) -> None:
        self.name = name
        self.idx = idx
        self.reason: Reason = reason
        self.law = law
        self.end = end

    def copy(self) -> Hold:
        """Another one with the same end."""
        return Hold(self.name, self.idx, self.reason, self.law, self.end)


class Job:
    """One vehicle: where it is on its route, and what is hidden in it (`nature`, `base`).

    Attributes:
        told: log weights of the natures, from all that has been seen of it.
        base: content of the phase begun, seconds; below 0: not begun.
        extra: content found on top; `done`: what is done of both.
        goal: content at which the next thing happens; `mishap`: whether that is one.
        blocked: a hold keeps it from the phase it is at; `seen`: somebody knows it can go on.
    """

    __slots__ = (
        "base", "blocked", "done", "due", "end", "extra", "family", "goal", "grade", "holds",
        "idx", "law", "mishap", "mode", "nature", "number", "operation", "owner", "rate", "read",
        "seen", "shout", "since", "steps", "token", "told", "workers",
    )  # fmt: skip

    def __init__(
        self, number: int, operation: Operation, family: str, grade: int, nature: int, due: int
    ) -> None:
        self.number = number
        self.operation = operation
        self.steps: tuple[Step, ...] = operation.steps
        self.family = family
        self.grade = grade
        self.nature = nature
        self.due = due
        self.told = [0.0] * NATURES
        self.idx = 0
        self.mode = READY
        self.base = -1.0
        self.extra = 0.0
        self.done = 0.0
        self.goal = 0.0
        self.mishap = False
        self.read = False
        self.rate = 0.0
        self.since = 0
        self.token = 0
        self.workers: list[int] = []
        self.holds: list[Hold] = []
        self.blocked = False
        self.seen = True
        self.owner = -1
        self.shout = 0.0
        self.law: Law | None = None
        self.end = 0

    def copy(self) -> Job:
        """The same job, so that what happens to one does not happen to the other."""
        new = Job.__new__(Job)
        for name in Job.__slots__:
            setattr(new, name, getattr(self, name))
        new.told = self.told.copy()
        new.workers = self.workers.copy()
        new.holds = [one.copy() for one in self.holds]
        return new

    def left_s(self) -> float:
        """Usual content still to do: what the foreman reckons with."""
        coming = sum(s.content_s for s in self.steps[self.idx :] if s.kind == "labour")
        return coming - min(self.done, self.steps[self.idx].content_s)


class Person:
    """Where a worker is.

    Attributes:
        coming: in today, or still to come today.
        out: reading at which they go home today.
        job: number of the job their clock runs on, 0 for none; `last` the one before.
        away: called away or on a small job since `away_since`, at least `away_least` seconds.
    """

    __slots__ = (
        "away", "away_least", "away_mean", "away_since", "coming", "ill", "job", "last", "out",
        "present", "since", "token",
    )  # fmt: skip

    def __init__(self) -> None:
        self.present = False
        self.coming = False
        self.ill = False
        self.out = 0
        self.job = 0
        self.last = 0
        self.since = 0
        self.token = 0
        self.away = False
        self.away_since = 0
        self.away_least = 0.0
        self.away_mean = 0.0

    def copy(self) -> Person:
        """The same person on another floor."""
        new = Person.__new__(Person)
        for name in Person.__slots__:
            setattr(new, name, getattr(self, name))
        return new


class World:
    """The whole floor. `log` None: nobody looks, as in the oracle's copies.

    Attributes:
        small: small jobs waiting; `mood`: log of the week's factor on jobs that come in.
        begun: (job, index of the phase) that began at this instant, for whoever looks.
    """

    __slots__ = (
        "begun", "day", "heap", "jobs", "line", "log", "mood", "now", "number", "people", "rng",
        "serial", "shop", "small",
    )  # fmt: skip

    def __init__(self, shop: Shop, rng: random.Random, log: Log | None) -> None:
        self.shop = shop
        self.rng = rng
        self.log = log
        self.now = 0
        self.day = 0
        self.serial = 0
        self.number = 0
        self.small = 0
        self.mood = 0.0
        self.heap: list[Event] = []
        self.people = [Person() for _ in shop.workers]
        self.jobs: dict[int, Job] = {}
        self.line: list[Job] = []
        self.begun: list[tuple[int, int]] = []

    def plan(self, at: int, what: int, whom: int = 0, token: int = 0) -> None:
        """Put an event on the list."""
        self.serial += 1
        heappush(self.heap, (at, self.serial, what, whom, token))

    def in_hours(self, mean_h: float) -> int:
        """A reading ahead, after a wait without memory."""
        return self.now + 1 + int(self.rng.expovariate(1 / (mean_h * 3600)))

    def copy(self, rng: random.Random) -> World:
        """The same floor with an empty list of events and nobody who logs."""
        new = World.__new__(World)
        new.shop, new.rng, new.log = self.shop, rng, None
        new.now, new.day = self.now, self.day
        new.serial, new.number = self.serial, self.number
        new.small, new.mood = self.small, self.mood
        new.heap, new.begun = [], []
        new.people = [one.copy() for one in self.people]
        new.jobs = {number: job.copy() for number, job in self.jobs.items()}
        new.line = [job.copy() for job in self.line]
        return new
