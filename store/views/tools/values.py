"""Special tools as the views give them: frozen values, instants in UTC, money in the currency."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

from store.sums.hires.terms import Terms
from store.sums.working_time import Calendar
from store.views.parts_values import HireOut

Verb = Literal[
    "OVERDUE", "OUT OF DATE", "SEND BACK", "RECEIVE", "NOT WHOLE", "EXTEND", "CLASH", "CALL OFF",
    "ASK",
]  # fmt: skip
"""What is to be done about a kit, the loudest of it; the loudest word first."""
Do = Literal["send back", "extend", "shorten", "ask", "second kit", "return and hire again",
             "use first", "use next", "wait", "swap order", "call off", "keep"]  # fmt: skip
"""What advice says: one of the ways out. `shorten`: to agree an earlier day for what is asked for;
`use next`: another job uses it afterwards."""


@dataclass(frozen=True, slots=True)
class KitWanted:
    """A stretch of phases that a kit is needed for, by the forecast.

    Attributes:
        phase: number of the first phase; `phases`: all of the stretch, in order.
        middle: until then at the middle forecast; `cautious`: at the cautious one.
        begun: it is in use there now.
        captive: fixed on the open unit from the first to the last phase.
        chance: that it is needed at all; less than 1 where an open decision may spare it.
    """

    job: str
    phase: str
    since: datetime
    middle: datetime
    cautious: datetime
    phases: tuple[str, ...] = ()
    begun: bool = False
    captive: bool = False
    lift: str | None = None
    chance: float = 1.0


@dataclass(frozen=True, slots=True)
class DayCost:
    """What a hire is expected to cost that goes back on one day: the row that a person can check.

    Attributes:
        needed: chance that the kit is still needed after that day's cut-off.
        hire, carriage, late, waiting: parts of `total`. `waiting`: of lifts that wait for the kit;
            None where the supplier's terms are not known.
        since: when it comes, where it is not here yet.
    """

    day: date
    back_by: datetime
    needed: float
    hire: float | None = None
    carriage: float | None = None
    late: float | None = None
    waiting: float | None = None
    since: datetime | None = None

    @property
    def total(self) -> float | None:
        """Expected money of all four."""
        parts = (self.hire, self.carriage, self.late, self.waiting)
        known = [one for one in parts if one is not None]
        return sum(known) if len(known) == len(parts) else None


@dataclass(frozen=True, slots=True)
class Way:
    """One way out, and what it costs.

    Attributes:
        cost: expected money; None where the supplier's terms are not known.
        kept: chance that the promises of the jobs touched are kept, by number of the job.
        since: when a kit is to come, where one is asked for.
        command: words after `hoistbook` that do it; what stands there in capitals with a hyphen
            before it is for whoever does it to fill in. None where somebody is asked first.
        to: the job that uses it first or next.
    """

    do: Do
    says: str
    cost: float | None
    until: datetime | None = None
    since: datetime | None = None
    kept: tuple[tuple[str, float], ...] = ()
    command: tuple[str, ...] | None = None
    to: str | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do about a kit, best way first.

    Attributes:
        best: the way with the least expected cost.
        instead_of: expected cost of leaving things as they are, or of the next best.
        days: what each day costs, around the recommended one.
        by: until then it is to be done.
        supplier: whose terms the money is by.
        chance: that the kit is not needed after the best way's day.
    """

    kit: str
    best: Way
    instead_of: float | None
    why: str
    ways: tuple[Way, ...] = ()
    days: tuple[DayCost, ...] = ()
    hire: str | None = None
    job: str | None = None
    by: datetime | None = None
    supplier: str | None = None
    chance: float | None = None


@dataclass(frozen=True, slots=True)
class HireOrBuy:
    """Whether a kit that is hired would better be bought.

    Attributes:
        jobs, days, spent: hires of the past year, the days of them, and their money.
        ahead: jobs of the coming year, low, middle and high (8 years in 10 between).
        break_even: jobs a year from which on buying is cheaper; None where it never is.
        chance: that buying is cheaper over the kit's life.
        says: the same in words.
    """

    kit: str
    name: str
    jobs: int
    days: float
    spent: float
    ahead: tuple[float, float, float]
    buy: float | None
    break_even: float | None
    chance: float | None
    says: str


@dataclass(frozen=True, slots=True)
class Clash:
    """Two jobs that want one kit at one time.

    Attributes:
        chance: that they do, by the forecast.
        since, until: when they do at the middle forecast.
        ways: ways out, the cheapest first.
    """

    kit: str
    jobs: tuple[str, str]
    since: datetime
    until: datetime
    chance: float
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class KitNow:
    """One kit of the work book.

    Attributes:
        state: in words: free, in use on 2417.4, on hand, asked for.
        had: stretches in which it was here or in use, the latest last, for the time line.
        needed: chance that it is in need at instants ahead, rising instants.
        valid_until: of its calibration or inspection, where it has one.
        verb, says: what is to be done, and the line that says why; None where nothing is, and the
            line may still hold something quiet.
        chance: of what the line says going well, to be put in words behind it as of a promise.
        by: until then it is to be done.
        terms: of its open hire, else of the newest offer; `supplier`: whose.
        hire: the open hire that the verb is about, its id.
        advice: that the line is about; `advised`: all of it, of each hire and each job without one.
    """

    code: str
    name: str
    owned: bool
    state: str
    needed_by: tuple[KitWanted, ...] = ()
    hires: tuple[HireOut, ...] = ()
    size: str = "small"
    contains: tuple[str, ...] = ()
    had: tuple[tuple[datetime, datetime], ...] = ()
    needed: tuple[tuple[datetime, float], ...] = ()
    valid_until: date | None = None
    verb: Verb | None = None
    says: str = ""
    chance: float | None = None
    by: datetime | None = None
    terms: Terms | None = None
    supplier: str | None = None
    hire: str | None = None
    advice: Advice | None = None
    advised: tuple[Advice, ...] = ()
    clashes: tuple[Clash, ...] = ()


@dataclass(frozen=True, slots=True)
class Tools:
    """All kits, what is to be done about one first, then in the order of their codes."""

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    kits: tuple[KitNow, ...] = ()
    clashes: tuple[Clash, ...] = ()
    advice: tuple[Advice, ...] = ()
    buy: tuple[HireOrBuy, ...] = ()
    made_at: datetime | None = None
    """When the forecast behind it was made; None: by the work book alone."""
