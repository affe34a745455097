"""One model for every kind of event: what may stand in the ledger's payload.

An event says in full what happened, so that replaying needs no rule and no work book: applying it
only writes it down. A kind and its fields never change once released; what is new gets a new kind
or an optional field.
"""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field, JsonValue

Moment = Annotated[
    str, Field(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}\+00:00$", min_length=32)
]
"""An instant in the file's form: UTC, microseconds, fixed width, so that it sorts as text."""
Day = Annotated[str, Field(pattern=r"^\d{4}-\d\d-\d\d$")]
"""A local date of the shop."""
TimeOfDay = Annotated[str, Field(pattern=r"^([01]\d|2[0-3]):[0-5]\d$")]
Id = Annotated[str, Field(pattern=r"^[a-z]-[0-9a-f]{8,32}$")]
"""A thing with an identity of its own: `v-…` vehicle, `c-…` customer, `p-…` person, `l-…` place."""
Badge = Annotated[str, Field(pattern=r"^[A-Z0-9]{1,12}$")]
JobNumber = Annotated[str, Field(pattern=r"^[1-9]\d{0,8}$")]
PhaseNumber = Annotated[str, Field(pattern=r"^[1-9]\d{0,2}[a-z]{0,3}$")]
StepNumber = Annotated[str, Field(pattern=r"^[1-9]\d{0,2}$")]
Finite = Annotated[float, Field(allow_inf_nan=False)]
Hours = Annotated[float, Field(ge=0, le=100_000, allow_inf_nan=False)]
Text = Annotated[str, Field(min_length=1, max_length=2000)]
Seq = Annotated[int, Field(ge=1)]
PastName = Annotated[str, Field(min_length=1, max_length=200)]
"""How a job, operation, family, phase or person was called where it was written down."""
PastHours = Annotated[float, Field(gt=0, le=1e6, allow_inf_nan=False)]
Role = Literal["technician", "foreman", "owner"]
Experience = Literal[
    "apprentice 1", "apprentice 2", "apprentice 3", "apprentice 4", "skilled", "expert"
]
Part = Literal["lead", "helper", "learner"]
Vehicle_part = Literal["body", "unit"]


class Event(BaseModel):
    """What all events share."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    kind: ClassVar[str]


class Piece(BaseModel):
    """A value inside an event."""

    model_config = ConfigDict(frozen=True, extra="forbid")


# --- the shop -------------------------------------------------------------------------------


class Demo(Piece):
    """How an invented shop was made, and the instant at which its own clock starts."""

    seed: int
    months: int
    opens_at: Moment


class ShopFounded(Event):
    """The first event of every file. `shop` is the shop's own id."""

    kind = "shop-founded"
    shop: Annotated[str, Field(pattern=r"^[0-9a-f]{16,32}$")]
    name: Text
    zone: Text
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")]
    demo: Demo | None = None


class SettingChanged(Event):
    """A property of the shop that has no history of its own."""

    kind = "setting-changed"
    name: Text
    value: JsonValue
    why: str | None = None


class WeekSpan(Piece):
    """Part of a week plan; an end at or before the start is on the next day."""

    days: Annotated[list[Annotated[int, Field(ge=1, le=7)]], Field(min_length=1)]
    start: TimeOfDay
    end: TimeOfDay


class CalendarSet(Event):
    """The week plan from a local day on, until the next one."""

    kind = "calendar-set"
    from_day: Day
    shifts: list[WeekSpan]
    breaks: list[WeekSpan]


class HolidaySet(Event):
    """The shop is closed on that day."""

    kind = "holiday-set"
    day: Day
    name: Text


class HolidayCleared(Event):
    """The shop is open on that day after all."""

    kind = "holiday-cleared"
    day: Day


class RateSet(Event):
    """The price of an hour of labour, from a local day on."""

    kind = "rate-set"
    from_day: Day
    per_hour: Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)]


# --- people ---------------------------------------------------------------------------------


class PersonAdded(Event):
    """Somebody works here from a day on."""

    kind = "person-added"
    person: Id
    badge: Badge
    name: Text
    role: Role
    experience: Experience
    from_day: Day
    until_day: Day | None = None


class PersonChanged(PersonAdded):
    """The same person, as they are from a day on; what they were before stays true of before."""

    kind = "person-changed"
    since: Day


class PinSet(Event):
    """A PIN was set; `check` is the SHA-256 of the row kept outside the ledger."""

    kind = "pin-set"
    person: Id
    check: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class Qualified(Event):
    """A person holds a qualification up to and on a day."""

    kind = "qualified"
    person: Id
    what: Text
    until: Day


class AbsenceSet(Event):
    """A person is away."""

    kind = "absence-set"
    person: Id
    since: Moment
    until: Moment
    why: Text


class AttendanceCorrected(Event):
    """What a person's day was, where the calendar does not say it."""

    kind = "attendance-corrected"
    person: Id
    day: Day
    hours: Annotated[float, Field(ge=0, le=24, allow_inf_nan=False)]
    why: str | None = None


class DayConfirmed(Event):
    """The clocks of a person's day are as they say."""

    kind = "day-confirmed"
    person: Id
    day: Day
    clocks: list[Seq]


# --- places ---------------------------------------------------------------------------------


class PlaceAdded(Event):
    """A lift, bench, stand or yard."""

    kind = "place-added"
    place: Id
    code: Annotated[str, Field(pattern=r"^[A-Za-z0-9-]{1,12}$")]
    place_kind: Literal["lift", "bench", "stand", "yard"]
    position: int
    lift_kind: str | None = None
    rated_kg: Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)] | None = None


class LiftInspected(Event):
    """A competent person inspected it; the interval and its source are the shop's."""

    kind = "lift-inspected"
    place: Id
    day: Day
    months: Annotated[int, Field(ge=1, le=120)]
    source: Text
    by: Text


class LiftLookedOver(Event):
    """The daily look-over before use."""

    kind = "lift-looked-over"
    place: Id
    day: Day
    note: str | None = None


class LiftWithdrawn(Event):
    """Out of service, and why."""

    kind = "lift-withdrawn"
    place: Id
    reason: Text


class LiftReturned(Event):
    """In service again."""

    kind = "lift-returned"
    place: Id


# --- work book ------------------------------------------------------------------------------


class BookLoaded(Event):
    """A version of the work book, from a day on; a job keeps the version it was taken with."""

    kind = "book-loaded"
    version: Annotated[int, Field(ge=1)]
    from_day: Day
    source: str
    content: str
    """Canonical JSON of the checked book."""
    cause: Text | None = None
    """Why, where no person wrote it: what was learned, or another version taken back."""


class KitKnown(Event):
    """A tool kit: a thing of its own, whatever phases need it."""

    kind = "kit-known"
    kit: Id
    code: Text
    name: Text
    owned: bool


# --- jobs -----------------------------------------------------------------------------------


class VehicleKnown(Event):
    """A vehicle, or what is known of it now."""

    kind = "vehicle-known"
    vehicle: Id
    label: Text
    family: str
    vin: str | None = None
    plate: str | None = None
    engine: str | None = None
    gearbox: str | None = None
    mass_kg: Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)] | None = None


class OdometerRead(Event):
    """Distance on a vehicle."""

    kind = "odometer-read"
    vehicle: Id
    value: Annotated[float, Field(ge=0, allow_inf_nan=False)]
    unit: Literal["km", "miles"]


class CustomerKnown(Event):
    """Somebody outside the shop, by a random id only."""

    kind = "customer-known"
    customer: Id


class CustomerErased(Event):
    """Name and telephone of a customer were erased."""

    kind = "customer-erased"
    customer: Id


class JobOpened(Event):
    """One visit of a vehicle."""

    kind = "job-opened"
    job: JobNumber
    vehicle: Id
    customer: Id | None = None
    small: bool
    work: Text
    operations: list[str]
    family: str
    options: dict[str, str]
    grade: Annotated[int, Field(ge=1, le=4)]
    version: int | None = None
    complaint: str | None = None
    state: Literal["enquiry", "booked", "arrived", "quoted", "waiting"]


class GradeSet(Event):
    """Condition at arrival, seen anew."""

    kind = "grade-set"
    job: JobNumber
    grade: Annotated[int, Field(ge=1, le=4)]


class RouteStep(Piece):
    """A step of a phase; its text stands in the work book's version."""

    step: StepNumber
    position: Finite
    code: str
    step_kind: Literal["step", "hold point", "decision"]
    signs: Annotated[int, Field(ge=1, le=2)]
    void_on_lift: bool = False
    blocks: list[str] = []
    """Phase codes and deeds, as they are called in this route."""


class Figures(Piece):
    """Hours of an estimate."""

    middle: Hours
    cautious: Hours
    mean: Hours


class RoutePhase(Piece):
    """A phase of a job."""

    phase: PhaseNumber
    position: Finite
    code: Text
    name: Text
    phase_kind: Literal["labour", "standing", "outwork"]
    phase_class: Literal["strip", "work", "refit"]
    after: Literal["drives", "rolls", "fixed", "as before"]
    book: tuple[Hours, Hours, Hours]
    estimate: Figures
    serves: list[str] = []
    kits: list[str] = []
    steps: list[RouteStep] = []


class Dropped(Piece):
    """A phase that falls away. `cut_off`: it had begun."""

    phase: PhaseNumber
    note: Text
    cut_off: bool = False


class Rated(Piece):
    """A phase whose book hours or kits are others beside the changed route."""

    phase: PhaseNumber
    book: tuple[Hours, Hours, Hours]
    estimate: Figures
    kits: list[str] = []


class AddedSteps(Piece):
    """Steps that join a phase already in the route."""

    phase: PhaseNumber
    steps: list[RouteStep]


class RouteChanged(Event):
    """Phases and steps that a job has from now on, and why."""

    kind = "route-changed"
    job: JobNumber
    cause: Text
    because: Seq | None = None
    """The event that brought it about."""
    options: dict[str, str]
    version: int | None = None
    added: list[RoutePhase] = []
    dropped: list[Dropped] = []
    restored: list[PhaseNumber] = []
    removed: list[PhaseNumber] = []
    """Phases added by mistake and never begun: taken back by their author."""
    rated: list[Rated] = []
    steps: list[AddedSteps] = []
    steps_removed: list[tuple[PhaseNumber, StepNumber]] = []
    """Steps that an answer now taken back had added, and nobody signed."""
    steps_gone: list[tuple[PhaseNumber, StepNumber]] = []
    """Steps that do not apply any more; their numbers are never used again."""
    steps_restored: list[tuple[PhaseNumber, StepNumber]] = []


class Forecast(Piece):
    """19 quantiles (.05 to .95) and the mean, hours."""

    mean: Hours
    quantiles: Annotated[list[Hours], Field(min_length=19, max_length=19)]


class AnsweredAhead(Piece):
    """The customer's word on what may turn up, given before it does."""

    about: Text
    answer: Text
    money: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None


class EstimateAgreed(Event):
    """The customer's word: the estimate as it was then, kept for ever."""

    kind = "estimate-agreed"
    job: JobNumber
    basis: Literal["fixed price", "ceiling", "time"]
    ceiling: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None
    money: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None
    source: Text
    """What it came from: `book`, or the ledger position up to which had been learned."""
    phases: dict[str, Forecast]
    total: Forecast
    by: str | None = None
    """Who gave it: the customer, or a word kept outside the ledger (`PrivateWord`)."""
    means: str | None = None
    sources: dict[PhaseNumber, Text] = {}
    """Where each phase's hours come from, in plain words; empty: all of them from the book."""
    says: str | None = None
    """The same of the total."""
    quote: Annotated[int, Field(ge=1)] | None = None
    """Number of the quote that was agreed to."""
    left_out: list[Text] = []
    """What had been quoted and was not agreed."""
    ahead: list[AnsweredAhead] = []
    free_hand: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None
    """Money up to which extra work needs no call."""
    check: bool = False
    """Only the qualifying check is sold by it, at its own price; the work is agreed later."""


class EstimateChanged(Event):
    """Hours of the whole job from now on, beside what was agreed."""

    kind = "estimate-changed"
    job: JobNumber
    middle: Hours
    cautious: Hours
    cause: Text


class Promised(Event):
    """What the customer was told; None takes it back."""

    kind = "promised"
    job: JobNumber
    promise: Moment | None
    chance: Annotated[float, Field(gt=0, lt=1)] | None = None


class StepRef(Piece):
    """A step of the same job."""

    phase: PhaseNumber
    step: StepNumber


class Placed(Event):
    """A vehicle's body, or a unit of it, stands at a place from now on (None: at none)."""

    kind = "placed"
    job: JobNumber
    part: Vehicle_part
    place: Id | None
    state: str
    """The job's state from now on."""
    voids: list[StepRef] = []
    takes_back: Seq | None = None
    """The `placed` event that never was."""
    unready: list[Text] = []
    """What it lacked when it came in all the same, on the foreman's word."""


class StateChanged(Event):
    """A job moves on in its life."""

    kind = "state-changed"
    job: JobNumber
    state: Literal[
        "enquiry", "booked", "arrived", "quoted", "waiting", "on-lift", "off-lift", "finished",
        "declined", "turned-away",
    ]  # fmt: skip
    why: str | None = None


class JobClosed(Event):
    """Done and handed over. `confirms`: clocks that count as confirmed by it."""

    kind = "job-closed"
    job: JobNumber
    confirms: list[Seq]


class JobNoted(Event):
    """Something to remember of a job, in somebody's own words."""

    kind = "job-noted"
    job: JobNumber
    text: Text


class JobNoteTakenBack(Event):
    """A note written by mistake."""

    kind = "job-note-taken-back"
    job: JobNumber
    noted: Seq


class NotTeaching(Event):
    """A job, or one of its phases, does not teach."""

    kind = "not-teaching"
    job: JobNumber
    phase: PhaseNumber | None = None
    why: Text


class PastPhase(Piece):
    """One finished phase of a job that was not done in this file; hours of labour."""

    job: PastName
    seq: Seq
    template: PastName
    variant: PastName
    phase: PastName
    technician: PastName
    started: Moment
    closed: Moment
    book_h: PastHours
    actual_h: PastHours
    grade: Annotated[int, Field(ge=1, le=4)] | None = None
    phase_class: Literal["strip", "work", "refit"] | None = None
    people: Seq | None = None
    lumped_with: Seq | None = None
    cut_off: bool = False
    serves: list[PastName] = []
    surprise_h: Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)] | None = None


class HistoryImported(Event):
    """Finished phases from outside, which teach; one file may take several events."""

    kind = "history-imported"
    source: Text
    """Name of the file."""
    part: Annotated[int, Field(ge=1)]
    parts: Annotated[int, Field(ge=1)]
    phases: Annotated[int, Field(ge=1)]
    """In all parts together."""
    rows: Annotated[list[PastPhase], Field(min_length=1, max_length=500)]


class HistoryTakenBack(Event):
    """What an import brought is gone again."""

    kind = "history-taken-back"
    imported: Seq


# --- labour ---------------------------------------------------------------------------------


class ClockedOn(Event):
    """A person's clock runs on a phase. `begins`: the phase begins with it."""

    kind = "clocked-on"
    person: Id
    job: JobNumber
    phase: PhaseNumber
    part: Part
    begins: bool = False
    opens: list[str] = []


class ClockedIndirect(Event):
    """A person's clock runs on no job. `away_from`: the clock that a call interrupted."""

    kind = "clocked-indirect"
    person: Id
    reason: Text
    away_from: Seq | None = None


class ClockedOff(Event):
    """A person's clock stops."""

    kind = "clocked-off"
    person: Id
    clock: Seq


class ClockEntered(Event):
    """A whole clock from memory."""

    kind = "clock-entered"
    person: Id
    job: JobNumber | None
    phase: PhaseNumber | None
    reason: str | None
    part: Part
    since: Moment
    until: Moment
    breaks_worked: bool = False
    why: str | None = None
    begins: bool = False
    opens: list[str] = []


class ClockCorrected(Event):
    """A clock as it really was; what it said before stands in the earlier event."""

    kind = "clock-corrected"
    clock: Seq
    person: Id
    job: JobNumber | None
    phase: PhaseNumber | None
    reason: str | None
    part: Part
    since: Moment
    until: Moment | None
    breaks_worked: bool
    why: str | None = None
    begins: bool = False
    opens: list[str] = []
    empties: list[PhaseNumber] = []
    """Phases of the clock's former job that lost their only labour and had no other act."""


class ClockRemoved(Event):
    """A clock that never was."""

    kind = "clock-removed"
    clock: Seq
    why: str | None = None
    empties: list[PhaseNumber] = []


# --- phases and steps -----------------------------------------------------------------------


class StepSigned(Event):
    """A name under a step. `state` is the step's from now on."""

    kind = "step-signed"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    person: Id
    readings: dict[str, Finite] = {}
    answer: str | None = None
    in_limits: bool = True
    faults: list[str] = []
    state: Literal["half", "out", "done"]
    begins: bool = False
    opens: list[str] = []
    closes: list[str] = []


class ReadingLetStand(Event):
    """A foreman takes a reading outside its limits as it is."""

    kind = "reading-let-stand"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    signature: Seq
    person: Id
    reason: Text
    state: Literal["half", "done"]
    opens: list[str] = []
    closes: list[str] = []


class SignatureTakenBack(Event):
    """A signature given by mistake."""

    kind = "signature-taken-back"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    signature: Seq
    state: Literal["open", "half", "out"]
    opens: list[str] = []
    closes: list[str] = []
    empties: list[PhaseNumber] = []


class LimitsTyped(Event):
    """Limits of a reading for this job, and where they stand written."""

    kind = "limits-typed"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    reading: Text
    low: Finite | None
    high: Finite | None
    source: Text


class PhaseBegun(Event):
    """A phase without labour begins."""

    kind = "phase-begun"
    job: JobNumber
    phase: PhaseNumber
    opens: list[str] = []


class PhaseFinished(Event):
    """A phase is done. `note`: why it took longer."""

    kind = "phase-finished"
    job: JobNumber
    phase: PhaseNumber
    note: str | None = None
    closes: list[str] = []


class PhaseNoted(Event):
    """Why a finished phase took longer, said afterwards."""

    kind = "phase-noted"
    job: JobNumber
    phase: PhaseNumber
    note: Text


class PhaseSkipped(Event):
    """A phase is not done, and why."""

    kind = "phase-skipped"
    job: JobNumber
    phase: PhaseNumber
    note: Text


class PhaseReopened(Event):
    """What was covered is open again; signatures on it are void."""

    kind = "phase-reopened"
    job: JobNumber
    phase: PhaseNumber
    why: str | None = None
    voids: list[StepRef] = []
    reopens: list[PhaseNumber] = []
    """Later phases that were finished and must be gone through again."""
    opens: list[str] = []
    empties: list[PhaseNumber] = []
    """Phases without labour that had begun by its finishing: back to come."""


class PhaseTakenBack(Event):
    """A phase begun, finished or left out by mistake: back to what it was."""

    kind = "phase-taken-back"
    job: JobNumber
    phase: PhaseNumber
    state: Literal["to come", "under way"]
    opens: list[str] = []
    closes: list[str] = []


# --- what holds it up -----------------------------------------------------------------------


class Held(Event):
    """A job, or one phase, cannot go on."""

    kind = "held"
    job: JobNumber
    phase: PhaseNumber | None
    reason: Literal["parts", "approval", "person", "tool", "reading", "place", "other"]
    expected: Moment | None = None
    next_move: str | None = None
    text: str | None = None


class HoldChanged(Event):
    """A new expected end or next move."""

    kind = "hold-changed"
    hold: Seq
    expected: Moment | None
    next_move: str | None


class Released(Event):
    """It can go on."""

    kind = "released"
    hold: Seq


class HoldTakenBack(Event):
    """A hold put on by mistake."""

    kind = "hold-taken-back"
    hold: Seq


class ReleaseTakenBack(Event):
    """A hold released by mistake runs on."""

    kind = "release-taken-back"
    hold: Seq


class Asked(Piece):
    """Extra work that waits for the customer's word."""

    line: Annotated[int, Field(ge=1)]
    text: Text
    hours: Hours
    money: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None


class Found(Event):
    """What was discovered."""

    kind = "found"
    job: JobNumber
    phase: PhaseNumber
    person: Id
    finding: Literal["surprise", "route ends", "advice"]
    text: Text
    hours: Hours | None = None
    code: str | None = None
    asked: Asked | None = None


class FindingTakenBack(Event):
    """A finding reported by mistake, and its supplement line."""

    kind = "finding-taken-back"
    finding: Seq


class Raised(Piece):
    """A phase's estimate from now on."""

    phase: PhaseNumber
    estimate: Figures


class SupplementAnswered(Event):
    """The customer's word on extra work."""

    kind = "supplement-answered"
    job: JobNumber
    lines: Annotated[list[int], Field(min_length=1)]
    answer: Literal["approved", "refused"]
    by: str | None = None
    means: str | None = None
    raises: list[Raised] = []


class AnswerNoted(Event):
    """Who gave the word on extra work and how it came, said afterwards."""

    kind = "answer-noted"
    job: JobNumber
    lines: Annotated[list[int], Field(min_length=1)]
    by: str | None = None
    means: str | None = None


class AnswerTakenBack(Event):
    """The customer's word was written down wrongly: the lines wait for it again."""

    kind = "answer-taken-back"
    job: JobNumber
    lines: Annotated[list[int], Field(min_length=1)]
    raises: list[Raised] = []
    """Estimates of phases as they were before."""


class Undone(Event):
    """Somebody's own last entry, taken back by the events that follow."""

    kind = "undone"
    entry: Seq
    says: Text
