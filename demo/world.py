"""The simulated workshop: who is here, what stands where, and what happens next."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from heapq import heappop, heappush
from typing import Literal

from demo.chance import Chance
from demo.pen import Pen
from demo.people import FOREMAN, OWNER, Person
from demo.story import Story
from demo.suppliers import Firm
from demo.work import Order
from store.file.shop import Shop
from store.rules.book import Step, Surprise, WorkBook
from store.sums.hires.days import ShopDays
from store.sums.working_time import Calendar

StopKind = Literal["sign", "surprise", "hold", "advice", "away", "learner"]


@dataclass(slots=True)
class Stop:
    """Something that happens inside a phase once so many hours of it are left."""

    left_h: float
    kind: StopKind
    step: Step | None = None
    number: str = ""
    surprise: Surprise | None = None
    reason: str = ""
    hours: float = 0.0


@dataclass(slots=True)
class Hired:
    """One hire as the simulation knows it.

    Attributes:
        comes: when it is here in truth; `due` when it goes back, as agreed.
    """

    kit: str
    house: Firm
    hire: str
    comes: datetime
    due: datetime
    here: bool = False
    whole: bool = False
    gone: bool = False
    sent: datetime | None = None
    extras: float = 0.0


@dataclass(slots=True)
class Phase:
    """A phase of a job as the simulation knows it.

    Attributes:
        left_h: labour still to be done; None before it has begun.
        clocked_h: labour of lead and helpers so far.
        hands: part of each badge on it.
        since: up to when `left_h` is counted.
        version: raised whenever what was planned for it no longer holds.
    """

    phase: str
    code: str
    kind: str
    phase_class: str
    book: tuple[float, float, float]
    cautious_h: float
    place: tuple[str, ...]
    needs: tuple[str, ...]
    kits: bool
    hired: tuple[str, ...] = ()
    """Kits that it needs and the shop does not own."""
    owned: frozenset[str] = frozenset()
    """Those that the shop owns."""
    left_h: float | None = None
    clocked_h: float = 0.0
    stops: list[Stop] = field(default_factory=list[Stop])
    hands: dict[str, str] = field(default_factory=dict[str, str])
    since: datetime | None = None
    version: int = 0
    shift_h: float = 0.0
    """Hours of the neighbour that were clocked on this phase (or, negative, on the neighbour)."""


@dataclass(slots=True)
class Job:
    """A job as the simulation knows it."""

    number: str
    operations: tuple[str, ...]
    family: str
    grade: int
    mass_kg: float
    condition: float
    small: bool
    taken: datetime
    options: dict[str, str] = field(default_factory=dict[str, str])
    promise: datetime | None = None
    phases: list[Phase] = field(default_factory=list[Phase])
    lift: str | None = None
    place: str | None = None
    lead: str | None = None
    waits: str | None = None
    """Why nobody can work on it now."""
    worked: set[str] = field(default_factory=set[str])
    done: bool = False
    parked: bool = False
    """Its lift was cleared while it waits."""
    stuck_on: set[str] = field(default_factory=set[str])
    """Badges of clocks that were left running on it."""
    lines: int = 0
    """Supplement lines that were asked for."""
    counted: set[str] = field(default_factory=set[str])
    label: str = ""
    order: Order | None = None
    """What it may become, while its check is all that was ordered."""
    fails: bool = False
    """Its check will."""
    odometer: float | None = None
    advised: bool = False
    hires: dict[str, Hired] = field(default_factory=dict[str, "Hired"])
    out: list[Hired] = field(default_factory=list["Hired"])
    """Those that went back."""


@dataclass(slots=True)
class Worker:
    """Somebody at work.

    Attributes:
        here: in the shop now.
        leaves: when today's work ends for them.
        job: what they are on; with `phase`.
        idle: on no job, free to be called to one.
        forgot: a clock left running: where and until when they really worked.
    """

    person: Person
    here: bool = False
    leaves: datetime | None = None
    job: Job | None = None
    phase: Phase | None = None
    idle: bool = False
    clock_runs: bool = False
    clocked: bool = False
    """Some clock of theirs ran today."""
    busy_until: datetime | None = None
    forgot: tuple[Job | None, datetime] | None = None
    times: dict[str, int] = field(default_factory=dict[str, int])
    off: set[date] = field(default_factory=set[date])
    last_clock: int = 0


@dataclass(slots=True)
class Hooks:
    """What happens in modules further up; set once they are all there."""

    choose: Callable[[World, Worker, datetime], None]
    happen: Callable[[World, Job, Phase, Stop, datetime], None]
    after_phase: Callable[[World, Job, datetime], None]
    bring_in: Callable[[World, datetime], None]
    goes_on: Callable[[World, Job, datetime], None]
    free_lift: Callable[[World, Job, datetime], None]
    promise: Callable[[World, Order, datetime], datetime]
    ceiling: Callable[[Order], float]
    small_job: Callable[[World, str, str, float, datetime], str]


@dataclass(slots=True)
class World:
    """Everything."""

    shop: Shop
    pen: Pen
    chance: Chance
    calendar: Calendar
    book: WorkBook
    hooks: Hooks
    workers: dict[str, Worker]
    lifts: dict[str, float]
    """Rated capacity in kg."""
    calm_from: datetime
    """From here on nothing new comes on a lift and nothing waits long."""
    closed_from: datetime
    """From here on no deep job is taken by chance."""
    last_day: date
    """Of what is drawn by chance."""
    desk_from: datetime
    """From here on every call is written down, and jobs come the long way through the desk."""
    followed_from: datetime
    """From here on what follows a job is written down."""
    days: ShopDays
    story: Story
    """What is true and nobody in the shop knows yet."""
    qualified: dict[str, set[str]] = field(default_factory=dict[str, set[str]])
    on: dict[str, Job | None] = field(default_factory=dict[str, "Job | None"])
    waiting: list[Job] = field(default_factory=list[Job])
    live: list[Job] = field(default_factory=list[Job])
    small: list[Job] = field(default_factory=list[Job])
    coming: int = 0
    """Vehicles that are to come."""
    _queue: list[tuple[datetime, int, Callable[[datetime], None]]] = field(
        default_factory=list[tuple[datetime, int, Callable[[datetime], None]]]
    )
    _count: int = 0

    def at(self, when: datetime, then: Callable[[datetime], None]) -> None:
        """Let something happen at an instant; what was said first happens first."""
        self._count += 1
        heappush(self._queue, (when, self._count, then))

    def run(self, until: datetime) -> None:
        """Let everything happen up to an instant."""
        while self._queue and self._queue[0][0] < until:
            when, _, then = heappop(self._queue)
            then(when)

    @property
    def last_weeks(self) -> datetime:
        """From here on the daily look-over of the lifts has become a habit."""
        return self.calm_from - timedelta(days=28)

    def calm(self, now: datetime) -> bool:
        """Tell whether the past runs out."""
        return now >= self.calm_from

    def wait_ends(self, now: datetime, hours: float, calm_h: float) -> datetime:
        """Return the end of a wait of so many working hours; none lasts until the past runs out.

        Args:
            calm_h: the most that it lasts once nothing waits long any more.
        """
        if self.calm(now):
            return self.calendar.after(now, min(hours, calm_h))
        latest = self.calendar.next_opening(self.calm_from + timedelta(days=2))
        return min(self.calendar.after(now, hours), latest)

    def free(self, workers: Iterable[Worker], now: datetime) -> None:
        """Let people who have nothing to do look for work."""
        for worker in workers:
            self.hooks.choose(self, worker, now)

    def leader(self) -> str:
        """Return the badge of who leads the shop now."""
        return FOREMAN.badge if self.workers[FOREMAN.badge].here else OWNER.badge


def current(job: Job) -> Phase | None:
    """Return the phase that a job is in or comes to next."""
    return job.phases[0] if job.phases else None
