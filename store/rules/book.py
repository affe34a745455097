"""The work book as plain values: what the shop sells, phase by phase.

The book is written in TOML, checked in `store.edges.workbook` and kept in the shop file as JSON of
exactly these shapes. Nothing here computes; `store.rules.routes` lays a route through it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

PhaseKind = Literal["labour", "standing", "outwork"]
PhaseClass = Literal["strip", "work", "refit"]
Stands = Literal["drives", "rolls", "fixed", "as before"]
PlaceKind = Literal["lift", "bench", "stand", "ground", "road", "outside"]
StepKind = Literal["step", "hold point", "decision"]
Deed = Literal["first-start", "lower", "move", "hand-over"]
"""An act that a hold point or an open condition can stand in the way of."""

DEEDS: tuple[Deed, ...] = ("first-start", "lower", "move", "hand-over")
EVERYTHING = "*"
"""In `Step.blocks`: every phase but the step's own and those before it."""
NEXT_PHASE = ">"
"""In `Step.blocks`: the phase that follows the step's own in the route."""
LIFT_RATED_KG = "lift-rated-kg"
"""In `Reading.high_is`: the rated capacity of the lift on which the vehicle stands."""


@dataclass(frozen=True, slots=True)
class Hours:
    """Low, book and high: one in ten is quicker than low, one in ten slower than high.

    Labour hours for labour, wall-clock hours for standing, the shop's open hours for outwork.
    """

    low: float
    middle: float
    high: float


@dataclass(frozen=True, slots=True)
class HoursFor:
    """Hours of a phase on some families: `S6-*-R` is every S6 that is driven behind.

    Attributes:
        learned: as of a phase.
    """

    family: str
    hours: Hours
    learned: float = 1.0


@dataclass(frozen=True, slots=True)
class When:
    """What must hold of a vehicle for a line of the book to apply; an empty field always holds.

    Attributes:
        engine: engine parts of the family key, one of which the vehicle has; `H*` stands for
            every part that begins with H (so in the next two).
        gearbox: the same for the gearbox.
        axles: the same for the driven axles.
        grade: condition grades, one of which the vehicle has.
        option: per option the values, one of which was chosen.
    """

    engine: tuple[str, ...] = ()
    gearbox: tuple[str, ...] = ()
    axles: tuple[str, ...] = ()
    grade: tuple[int, ...] = ()
    option: Mapping[str, tuple[str, ...]] = field(default_factory=dict[str, tuple[str, ...]])


ALWAYS = When()


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing measured at a hold point, with its limits (both ends allowed).

    Attributes:
        code: names it on the command line when a hold point has several readings.
        positions: where it is taken; none means once.
        low: least allowed value at each position.
        high: greatest allowed value at each position.
        spread: greatest allowed difference between the largest and the smallest value.
        difference_low: least allowed value of (last position less first position).
        difference_high: greatest allowed value of the same.
        high_is: a greatest value that the book cannot know, see `LIFT_RATED_KG`.
        typed: the limits are typed for each job, with their source, before it can be signed.
    """

    code: str
    text: str
    unit: str
    positions: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    spread: float | None = None
    difference_low: float | None = None
    difference_high: float | None = None
    high_is: str | None = None
    typed: bool = False


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer to a decision. `odds` is its prior chance; `sets` are options it decides."""

    code: str
    text: str
    odds: float
    sets: Mapping[str, str] = field(default_factory=dict[str, str])
    ends: bool = False
    """The planned work ends here: what is not begun falls away, what is open is closed again."""
    advise: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """A line inside a phase.

    Attributes:
        code: unique in its phase; its number there (from 1) when the book gives none.
        signs: signatures a hold point needs, 1 or 2, by different people.
        by: who may sign, `technician` (anybody but an apprentice alone) or `foreman` (or owner).
        not_by_fitter: nobody who clocked on this job as lead or helper may give it
            (of two signatures: the second).
        needs: qualifications that whoever signs must hold that day.
        blocks: phase codes, deeds, `NEXT_PHASE` or `EVERYTHING`. A blocked phase takes all that
            follow it in the route with it. A deed is blocked wherever in the job it is done.
        void_on_lift: the signature dies when the vehicle is set on a lift anew.
        opens: open conditions that begin when it is signed.
        closes: open conditions that end when it is signed.
        deed: signing it is doing this.
        insert: in `WorkBook.hold_points` only: the phase of every route that it goes into, last
            in the first phase, first in the first phase that needs a lift.
    """

    code: str
    text: str
    kind: StepKind = "step"
    detail: str = ""
    caution: str = ""
    when: When = ALWAYS
    signs: int = 1
    by: Literal["technician", "foreman"] = "technician"
    not_by_fitter: bool = False
    needs: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    blocks: tuple[str, ...] = ()
    void_on_lift: bool = False
    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()
    deed: Deed | None = None
    answers: tuple[Answer, ...] = ()
    insert: Literal["first phase", "first phase on a lift"] | None = None


@dataclass(frozen=True, slots=True)
class KitNeed:
    """A tool kit that a phase needs. `captive_to`: fixed on the open unit until that phase ends."""

    kit: str
    when: When = ALWAYS
    captive_to: str | None = None


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of work with its own hours, the same under every operation that uses it.

    Attributes:
        access: code of the access it opens or closes, None for other phases.
        side: `off` opens that access, `on` closes it again.
        place: where it can be done; several mean any of them.
        after: how the vehicle stands once it is done.
        phase_class: strip, work or refit.
        qualifies: the qualifying check of its operation.
        always: stays in the route even when a decision ends the planned work.
        needs: qualifications that whoever clocks on as lead must hold that day.
        opens: open conditions that begin when it is begun.
        closes: open conditions that end when it is finished.
        contains: phase codes whose work is part of this one: they fall away beside it.
        hours_for: other hours for some families; see `store.rules.family_hours`.
        learned: times the hours that the book said before it took over what was learned: the work
            is the same, and its past stays as true as it was.
    """

    code: str
    name: str
    hours: Hours
    kind: PhaseKind = "labour"
    place: tuple[PlaceKind, ...] = ("lift",)
    after: Stands = "as before"
    phase_class: PhaseClass = "work"
    access: str | None = None
    side: Literal["off", "on"] | None = None
    qualifies: bool = False
    always: bool = False
    cautions: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    kits: tuple[KitNeed, ...] = ()
    needs: tuple[str, ...] = ()
    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()
    contains: tuple[str, ...] = ()
    hours_for: tuple[HoursFor, ...] = ()
    learned: float = 1.0


@dataclass(frozen=True, slots=True)
class Use:
    """One entry of an operation's route: a phase, and when it belongs to it."""

    phase: str
    when: When = ALWAYS


@dataclass(frozen=True, slots=True)
class Extra:
    """A step that one operation adds to a phase it shares with others.

    Attributes:
        phase: where it goes.
        after: code of the step it follows; None puts it last.
    """

    phase: str
    step: Step
    after: str | None = None


@dataclass(frozen=True, slots=True)
class Surprise:
    """Work that nobody could see: prior odds for one job, and labour hours when it comes."""

    code: str
    phase: str
    text: str
    odds: float
    hours: float
    when: When = ALWAYS


@dataclass(frozen=True, slots=True)
class Neighbour:
    """Work that is nearly free while this is open.

    Attributes:
        odds: how often it is taken along.
        phase: after which phase it is done.
        hours: labour it adds now.
        phases: phases of the book that it is made of, where it is more than hours.
    """

    code: str
    text: str
    odds: float
    phase: str
    hours: float
    phases: tuple[str, ...] = ()
    when: When = ALWAYS


@dataclass(frozen=True, slots=True)
class Part:
    """What is renewed every time, and for which phase it must be here."""

    text: str
    phase: str
    when: When = ALWAYS


@dataclass(frozen=True, slots=True)
class FollowUp:
    """What is to be done in the months after an operation.

    Attributes:
        days: so long after the hand-over; None where only the distance counts.
        distance_km: driven since, at the latest; with both, whichever comes first.
    """

    what: str
    who: str
    days: int | None = None
    distance_km: float | None = None
    when: When = ALWAYS


@dataclass(frozen=True, slots=True)
class Option:
    """A property of the vehicle that the family key does not say. `assume` holds until known."""

    code: str
    text: str
    values: tuple[str, ...]
    assume: str


@dataclass(frozen=True, slots=True)
class Operation:
    """A kind of work that the shop sells."""

    code: str
    name: str
    route: tuple[Use, ...]
    options: tuple[Option, ...] = ()
    extras: tuple[Extra, ...] = ()
    surprises: tuple[Surprise, ...] = ()
    neighbours: tuple[Neighbour, ...] = ()
    parts: tuple[Part, ...] = ()
    contains: tuple[str, ...] = ()
    """Phases of other operations that this one does on its way."""
    follow_ups: tuple[FollowUp, ...] = ()
    run_in: str = ""
    """How the vehicle is to be driven at first."""


@dataclass(frozen=True, slots=True)
class Reduction:
    """A phase that takes less beside another: times `factor`, less `minus` hours."""

    beside: str
    phases: tuple[str, ...]
    factor: float = 1.0
    minus: float = 0.0


@dataclass(frozen=True, slots=True)
class Condition:
    """What a third person must see before touching the vehicle, and what it forbids."""

    code: str
    text: str
    forbids: tuple[Deed, ...]


@dataclass(frozen=True, slots=True)
class Kit:
    """A special tool or set; `size` is its hire class."""

    code: str
    name: str
    owned: bool
    size: Literal["small", "middle", "large"] = "small"
    contains: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WorkBook:
    """Everything the shop sells.

    Attributes:
        families: known codes of each of the three parts of a family key and what they mean;
            a code not listed is allowed.
        hold_points: those of every job, put into each route where `insert` says.
        phases: by code; access phases are `GB-off`, `GB-on` and so on.
        operations: by code.
    """

    name: str
    families: Mapping[Literal["engine", "gearbox", "axles"], Mapping[str, str]]
    conditions: tuple[Condition, ...]
    kits: tuple[Kit, ...]
    hold_points: tuple[Step, ...]
    phases: Mapping[str, Phase]
    operations: Mapping[str, Operation]
    reductions: tuple[Reduction, ...] = ()
