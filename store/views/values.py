"""What the views give to screens and command line: frozen values, no markup, no widget.

Hours are labour hours unless a name says otherwise; instants are aware and in UTC. Two looks at an
unchanged shop compare equal: what only tells the moment of looking is left out of the comparison.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Literal

from store.rules.readiness import Ready
from store.sums.working_time import Calendar
from store.views.assigned_values import Given
from store.views.desk.values import JobDesk
from store.views.outside_values import AdviceLine, CallLine, JobMoney, OutworkLine
from store.views.parts_values import KitOnCard, PartOnCard

if TYPE_CHECKING:
    from store.views.clearing_values import Clearing
    from store.views.needs_values import Helps

JobState = Literal[
    "enquiry", "booked", "arrived", "quoted", "waiting", "on-lift", "off-lift",
    "finished", "closed", "declined", "turned-away",
]  # fmt: skip
PhaseState = Literal["to come", "under way", "held", "finished", "skipped"]
PhaseKind = Literal["labour", "standing", "outwork"]
PastKind = Literal["worked", "held", "standing", "outwork"]
WantWord = Literal["ANSWER", "SIGN", "OVER", "DUE", "CLOCK", "HELD", "READING", "OUT"]
Stands = Literal["drives", "rolls", "fixed"]
AheadKind = Literal["labour", "held", "standing", "outwork"]
StepState = Literal["open", "half", "out", "done"]
LabourPart = Literal["lead", "helper", "learner"]
SupplementState = Literal["asked", "approved", "refused", "withdrawn"]
FindingKind = Literal["surprise", "route ends", "advice", "wrong assumption"]
NoteKind = Literal["note", "took longer", "left out"]
KitState = Literal["to come", "in use", "done with", "not needed"]
StepKind = Literal["step", "hold point", "decision"]
Flag = Literal[
    "promise-at-risk", "held", "signature-wanted", "over-estimate", "kit-due", "left-running",
    "supplement-asked", "reading-out", "condition-open",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Span:
    """Middle (median) and cautious (the shop's chosen quantile) hours."""

    middle: float
    cautious: float


@dataclass(frozen=True, slots=True)
class Finish:
    """When the job is likely to be done, and when at the cautious quantile."""

    middle: datetime
    cautious: datetime


@dataclass(frozen=True, slots=True)
class PersonNow:
    """Somebody of the shop and what their clock says."""

    badge: str
    name: str
    role: Literal["technician", "foreman", "owner"]
    initials: str
    job: str | None = None
    phase: str | None = None
    reason: str | None = None
    """Indirect reason, or `away`; None on a job or without a clock."""
    since: datetime | None = None
    left_running: bool = False
    clock: int | None = None
    """Number of the running clock."""
    stops: tuple[Stop, ...] = ()
    """When a clock left running may have stopped: the shift's end, then two half hours before."""


@dataclass(frozen=True, slots=True)
class PhaseNow:
    """The phase of a job that has a clock, else the one under way, else the next."""

    number: str
    name: str
    kind: PhaseKind
    labour_h: float
    estimate: Span
    remaining: Span
    people: tuple[str, ...]
    """Badges with a clock on it now."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of a job's past along working time.

    Attributes:
        phase: its number; None for a hold of the whole job.
        until: now, where it still goes on.
        over_from: the instant within it at which the phase's labour reached its estimate.
    """

    kind: PastKind
    phase: str | None
    since: datetime
    until: datetime
    going_on: bool = False
    over_from: datetime | None = None


@dataclass(frozen=True, slots=True)
class Ahead:
    """A piece of a job's likely future, at the middle forecast."""

    kind: AheadKind
    phase: str | None
    since: datetime
    until: datetime


@dataclass(frozen=True, slots=True)
class Hold:
    """Why a job or phase cannot go on."""

    phase: str | None
    reason: str
    since: datetime
    until: datetime | None
    """Expected end as it was said."""
    next_move: str | None
    text: str | None = None


@dataclass(frozen=True, slots=True)
class PhaseLabel:
    """Number and name of a phase for the lane, with labour against estimate where begun."""

    number: str
    name: str
    state: PhaseState
    labour_h: float
    estimate_h: float


@dataclass(frozen=True, slots=True)
class AskedWork:
    """Extra work that waits for the customer's word."""

    text: str
    hours: float
    since: datetime
    money: float | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """One job as the floor and the lists show it."""

    number: str
    vehicle: str
    family: str
    operations: tuple[str, ...]
    work: str
    """The operations' names, or a small job's text."""
    state: JobState
    small: bool
    place: str | None
    """Code of the place where the vehicle's body is."""
    phase: PhaseNow | None
    labour_h: float
    estimate: Span
    remaining: Span
    finish: Finish | None
    promise: datetime | None
    promise_chance: float | None
    held: str | None
    """The reason, when nothing of the job can go on."""
    hold: Hold | None
    """What holds it, or the hold of its present phase."""
    flags: tuple[Flag, ...]
    people: tuple[PersonNow, ...] = ()
    in_since: datetime | None = None
    stands: Stands = "drives"
    lacks: tuple[str, ...] = ()
    """What a waiting job lacks before it can come in; () when nothing is known to."""
    ready: Ready | None = None
    """The sign of a job that has not come in; None of one that has."""
    mass_kg: float | None = None
    """Gross mass of the vehicle, None where it is not known."""
    asked: tuple[AskedWork, ...] = ()
    assigned: tuple[Given, ...] = ()
    """Who has it, or a phase of it, on their list."""
    labels: tuple[PhaseLabel, ...] = ()
    past: tuple[Stretch, ...] = ()
    ahead: tuple[Ahead, ...] = ()
    finish_quantiles: tuple[datetime, ...] = ()
    """19 instants (.05 to .95) at which what is left may be done; () when nothing is."""


@dataclass(frozen=True, slots=True)
class Lane:
    """One lift, in the shop's order. `job` is None when it is free."""

    lift: str
    kind: str
    rated_kg: float
    in_service: bool
    out_reason: str | None
    warnings: tuple[str, ...]
    """Inspection overdue or near, not looked over today."""
    job: Job | None
    inspection_due: date | None = None
    """The last day on which its last inspection holds; None where none is on record."""
    free_since: datetime | None = None
    raises: bool = True
    """It is in service and no rule of the shop keeps vehicles off it."""
    takes: tuple[str, ...] = ()
    """Waiting jobs that a free lift can take, in their order."""
    too_heavy: tuple[str, ...] = ()
    """Waiting jobs whose vehicle it is not rated for."""


@dataclass(frozen=True, slots=True)
class Want:
    """Something that wants somebody: the loud word, where, and a sentence."""

    word: WantWord
    lift: str | None
    job: str | None
    says: str
    since: datetime | None = None


@dataclass(frozen=True, slots=True)
class KitDue:
    """A hire that was not sent back yet. `kit`: its code."""

    kit: str
    due: datetime
    overdue: bool
    job: str | None
    name: str = ""
    supplier: str = ""


@dataclass(frozen=True, slots=True)
class Floor:
    """The whole shop at one look."""

    shop: str
    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    lanes: tuple[Lane, ...] = ()
    waiting: tuple[Job, ...] = ()
    elsewhere: tuple[Job, ...] = ()
    tools_due: tuple[KitDue, ...] = ()
    wants: tuple[Want, ...] = ()
    people: tuple[PersonNow, ...] = ()
    last: str | None = None
    """The newest entry of the ledger in words, with its time."""
    to_learn: bool = field(default=False, compare=False)
    """A forecast is old, or was never made: the learner has something to do."""
    idle: tuple[str, ...] = ()
    """Initials of who is here and has nothing next; () where no lists are kept at all."""
    helps: Helps | None = None
    """What helps most, as it was found last; None where it was not read, or never was found."""


@dataclass(frozen=True, slots=True)
class Signature:
    """One name under a step."""

    badge: str
    name: str
    at: datetime
    readings: tuple[tuple[str, float], ...]
    answer: str | None
    void: bool
    in_limits: bool = True
    as_is: str | None = None
    """The foreman's reason for letting a reading outside its limits stand."""
    void_at: datetime | None = None
    void_why: str | None = None
    """Why it counts no more, in words."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One value that a hold point asks for.

    Attributes:
        name: what it is given under.
        code: of its reading; `position` is "" where it is taken in one place.
        limits: in words, as they hold for this job.
        untyped: its limits come from the maker's data and were not typed for this job yet.
    """

    name: str
    code: str
    text: str
    position: str
    unit: str
    limits: str
    untyped: bool


@dataclass(frozen=True, slots=True)
class StepLine:
    """One step of a phase.

    Attributes:
        state: `done`; `half` has the first of two signatures; `out` has a reading outside its
            limits; `open` otherwise.
        waits_for: why it cannot be signed now, in words; None when it can.
        limits: its readings and their limits in words.
        positions: names to give readings under.
        asks: the same values one by one, with their limits.
    """

    step: str
    text: str
    detail: str
    caution: str
    kind: StepKind
    state: StepState
    signs: int
    waits_for: str | None
    limits: tuple[str, ...] = ()
    positions: tuple[str, ...] = ()
    answers: tuple[tuple[str, str], ...] = ()
    signed: tuple[Signature, ...] = ()
    who: str = ""
    """Who may sign a hold point, in words."""
    asks: tuple[Asked, ...] = ()


@dataclass(frozen=True, slots=True)
class PhaseLine:
    """One phase on the job card."""

    number: str
    code: str
    name: str
    kind: PhaseKind
    state: PhaseState
    book_h: float
    estimate: Span
    labour_h: float
    learner_h: float
    remaining: Span
    people: tuple[str, ...]
    """Badges of everybody who clocked on it."""
    held_h: float
    hold: Hold | None
    blocked_by: str | None
    """What must be done before it can be begun, in words."""
    cautions: tuple[str, ...]
    note: str | None
    """Why it was skipped, or why it took longer."""
    steps: tuple[StepLine, ...]


@dataclass(frozen=True, slots=True)
class SupplementLine:
    """Extra work that waits for the customer's word, or had it."""

    line: int
    text: str
    hours: float
    money: float | None
    state: SupplementState
    phase: str | None
    asked_at: datetime
    asked_by: str
    answered_at: datetime | None = None
    answered_by: str | None = None
    means: str | None = None
    """How the customer's word came."""


@dataclass(frozen=True, slots=True)
class FindingLine:
    """What was discovered, or what was assumed wrongly, and what became of it.

    Attributes:
        line: of the extra work that was asked for it, None where none was.
        became: in words; `became_at` when, where that is known.
    """

    kind: FindingKind
    phase: str
    text: str
    hours: float | None
    at: datetime
    who: str
    line: int | None
    became: str
    became_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class NoteLine:
    """What somebody wrote down: of the job, or of one phase why it took longer or was left out."""

    at: datetime
    who: str
    kind: NoteKind
    phase: str | None
    text: str


@dataclass(frozen=True, slots=True)
class KitLine:
    """A tool kit of the route, and the phases that it is for."""

    code: str
    name: str
    owned: bool
    state: KitState
    phases: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PromiseLine:
    """What the customer was told when, and by whom; None took a promise back."""

    at: datetime
    who: str
    promise: datetime | None
    chance: float | None


@dataclass(frozen=True, slots=True)
class Worker:
    """Somebody who worked on a job, whether they still work here or not."""

    badge: str
    name: str
    initials: str


@dataclass(frozen=True, slots=True)
class EstimateChange:
    """One step in the life of an estimate: the hours of the whole job from then on."""

    at: datetime
    middle: float
    cautious: float
    cause: str


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """An event in words."""

    seq: int
    at: datetime
    who: str
    says: str


@dataclass(frozen=True, slots=True)
class JobCard:
    """All that is known of one job."""

    job: Job
    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    zone: str = "UTC"
    grade: int = 2
    price_basis: str | None = None
    book_version: int | None = None
    options: tuple[tuple[str, str], ...] = ()
    phases: tuple[PhaseLine, ...] = ()
    supplements: tuple[SupplementLine, ...] = ()
    open_conditions: tuple[str, ...] = ()
    estimate_changes: tuple[EstimateChange, ...] = ()
    holds: tuple[Hold, ...] = ()
    ledger: tuple[LedgerLine, ...] = ()
    findings: tuple[FindingLine, ...] = ()
    notes: tuple[NoteLine, ...] = ()
    kits: tuple[KitLine, ...] = ()
    promises: tuple[PromiseLine, ...] = ()
    workers: tuple[Worker, ...] = ()
    parts: tuple[PartOnCard, ...] = ()
    tools: tuple[KitOnCard, ...] = ()
    """Kits that are still wanted, or hired for it, and where they are."""
    unready: tuple[str, ...] = ()
    """What it lacked when it came in all the same, on the foreman's word."""
    desk: JobDesk = field(default_factory=JobDesk)
    """Arrival, check, quotes, the customer's word with its answers ahead, comebacks."""
    calls: tuple[CallLine, ...] = ()
    outwork: tuple[OutworkLine, ...] = ()
    advice: tuple[AdviceLine, ...] = ()
    money: JobMoney | None = None
    clearing: Clearing | None = None
    """What clearing its lift takes, where it is held or away on one."""


@dataclass(frozen=True, slots=True)
class Stop:
    """When a clock left running may have stopped, and the labour of the clock until then."""

    at: datetime
    labour_h: float


@dataclass(frozen=True, slots=True)
class ClockNow:
    """A person's running clock. `run_h` is wall time, `labour_h` the phase's labour by all."""

    seq: int
    job: str | None
    phase: str | None
    name: str
    vehicle: str
    work: str
    reason: str | None
    part: LabourPart
    since: datetime
    run_h: float
    labour_h: float
    estimate: Span | None
    remaining: Span | None
    left_running: bool
    shift_end: datetime | None
    """Where a clock left running is counted to, and what is proposed."""
    others: tuple[str, ...] = ()
    """Names of others on the same phase."""
    stops: tuple[Stop, ...] = ()
    """When a clock left running may have stopped: the shift's end, then two half hours before."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A phase one could clock on: the bay's list, best first.

    Attributes:
        place: in words, like `lift 2`.
    """

    job: str
    phase: str
    name: str
    vehicle: str
    place: str | None
    state: PhaseState
    labour_h: float
    estimate_h: float
    blocked_by: str | None
    yours: bool = False
    """It is on the person's own list; those come first, in its order."""


@dataclass(frozen=True, slots=True)
class Bay:
    """What a technician needs within three seconds: my clock, my next step, what blocks me."""

    person: PersonNow
    lift: str | None
    lift_says: str
    at: datetime = field(compare=False)
    zone: str = "UTC"
    clock: ClockNow | None = None
    away_from: str | None = None
    """`job.phase` that a person called away comes back to."""
    last: ClockNow | None = None
    """The last clock, when none runs: what key 1 would go on with."""
    card: JobCard | None = None
    """The job of the clock, else of the last clock, else of the best choice."""
    phase: str | None = None
    """Number of the phase shown."""
    blocks: tuple[str, ...] = ()
    """What stops or will soon stop this phase, one line each."""
    choices: tuple[Choice, ...] = ()
    said: str | None = None
    """My newest entry in words, with its time."""
    can_undo: bool = False


@dataclass(frozen=True, slots=True)
class DayClock:
    """One clock on a person's day sheet."""

    seq: int
    job: str | None
    phase: str | None
    name: str
    reason: str | None
    part: str
    since: datetime
    until: datetime | None
    labour_h: float
    confirmed: bool
    left_running: bool


@dataclass(frozen=True, slots=True)
class Hole:
    """A gap or an overlap of a day, with a proposal in words.

    Attributes:
        job: with `phase`, or `reason`: what a gap is proposed to have been; all None where
            nobody can guess.
        ends: the clock that an overlap is proposed to have ended at its start.
    """

    since: datetime
    until: datetime
    proposal: str
    job: str | None = None
    phase: str | None = None
    reason: str | None = None
    ends: int | None = None


@dataclass(frozen=True, slots=True)
class Overrun:
    """A phase that went over its cautious hours, and nobody said why."""

    job: str
    phase: str
    name: str
    labour_h: float
    cautious_h: float
    finished_at: datetime


@dataclass(frozen=True, slots=True)
class Day:
    """A person's day sheet."""

    badge: str
    name: str
    day: date
    zone: str
    attended_h: float
    shifts: tuple[tuple[datetime, datetime], ...]
    breaks: tuple[tuple[datetime, datetime], ...]
    clocks: tuple[DayClock, ...]
    gaps: tuple[Hole, ...]
    overlaps: tuple[Hole, ...]
    confirmed: bool
    at: datetime = field(compare=False)
    overruns: tuple[Overrun, ...] = ()
    """Phases finished on that day on which the person worked."""
