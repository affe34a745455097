"""Special tools as the views give them: frozen values, instants in UTC, money in the currency."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

from store.sums.working_time import Calendar
from store.views.parts_values import HireOut

Verb = Literal["SEND BACK", "EXTEND", "ASK", "RECEIVE", "CLASH", "OVERDUE", "OUT OF DATE"]
"""What is to be done about a kit, the loudest of it."""
Do = Literal["send back", "extend", "ask", "second kit", "return and hire again", "use first",
             "wait", "swap order", "keep"]  # fmt: skip
"""What advice says: one of the ways out."""


@dataclass(frozen=True, slots=True)
class KitWanted:
    """A stretch of phases that a kit is needed for, by the forecast.

    Attributes:
        phase: number of the first phase; `phases`: all of the stretch, in order.
        middle: until then at the middle forecast; `cautious`: at the cautious one.
        begun: it is in use there now.
        captive: fixed on the open unit from the first to the last phase.
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


@dataclass(frozen=True, slots=True)
class DayCost:
    """What a hire is expected to cost that goes back on one day: the row that a person can check.

    Attributes:
        needed: chance that the kit is still needed after that day's cut-off.
        hire, carriage, late, waiting: parts of `total`. `waiting`: of lifts that wait for the kit.
    """

    day: date
    back_by: datetime
    needed: float
    hire: float
    carriage: float
    late: float
    waiting: float

    @property
    def total(self) -> float:
        """Expected money of all four."""
        return self.hire + self.carriage + self.late + self.waiting


@dataclass(frozen=True, slots=True)
class Way:
    """One way out, and what it costs.

    Attributes:
        cost: expected money, more than doing nothing about it costs nobody; `kept`: chance that
            the promises of the jobs touched are kept, by number of the job.
        command: the words that do it, as they are typed; None where the customer or supplier is
            asked first.
    """

    do: Do
    says: str
    cost: float
    until: datetime | None = None
    kept: tuple[tuple[str, float], ...] = ()
    command: str | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do about a kit, best way first.

    Attributes:
        best: the way with the least expected cost.
        instead_of: expected cost of leaving things as they are.
        days: what each day costs, around the recommended one.
    """

    kit: str
    best: Way
    instead_of: float
    why: str
    ways: tuple[Way, ...] = ()
    days: tuple[DayCost, ...] = ()
    hire: str | None = None
    job: str | None = None


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
        verb, says: what is to be done, and the line that says why; None where nothing is.
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
    advice: Advice | None = None
    clashes: tuple[Clash, ...] = ()


@dataclass(frozen=True, slots=True)
class Tools:
    """All kits, what is to be done about one first, then in the order of their codes."""

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    kits: tuple[KitNow, ...] = ()
    clashes: tuple[Clash, ...] = ()
    advice: tuple[Advice, ...] = ()
    made_at: datetime | None = None
    """When the forecast behind it was made; None: by the work book alone."""
