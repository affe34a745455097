"""The work book as it is written in TOML: which words may stand where, and of what type.

Lists are named in the singular, because TOML repeats them: `[[phase]]`, `[[phase.step]]`.
"""

from __future__ import annotations

import re
from typing import Annotated, Literal, cast

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from store.rules.book import Deed, PhaseClass, PhaseKind, PlaceKind, Stands, StepKind

TYPICAL_LOW, TYPICAL_HIGH = 0.77, 1.4
"""A phase given by one number runs from 0.77 to 1.4 times that (common practice, no source)."""
ODDS = re.compile(r"(\d{1,9}) in (\d{1,9})")


def _many(value: object) -> list[object]:
    """One value may stand without brackets where a list is meant."""
    return cast("list[object]", value) if isinstance(value, list) else [value]


def _spread(value: object) -> object:
    """One number, or low, book and high."""
    if isinstance(value, bool) or not isinstance(value, (int, float, list)):
        raise ValueError("must be a number or [low, book, high]")
    if not isinstance(value, list):
        return [value * TYPICAL_LOW, value, value * TYPICAL_HIGH]
    items = cast("list[object]", value)
    numbers = [n for n in items if isinstance(n, (int, float)) and not isinstance(n, bool)]
    if len(numbers) != 3 or len(items) != 3:
        raise ValueError("must be a number or three numbers: [low, book, high]")
    return numbers


def _odds(value: object) -> object:
    """`"1 in 12"` or a number from 0 to 1."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return value
    match = ODDS.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None or int(match[2]) == 0:
        raise ValueError('must be odds like "1 in 12", or a number from 0 to 1')
    return int(match[1]) / int(match[2])


def _entry(name: str) -> BeforeValidator:
    """A bare text in a list stands for a table with that one word."""

    def entry(value: object) -> object:
        return {name: value} if isinstance(value, str) else value

    return BeforeValidator(entry)


def _one_or_many_values(value: object) -> object:
    if not isinstance(value, dict):
        return value
    return {key: _many(each) for key, each in cast("dict[str, object]", value).items()}


Texts = Annotated[list[str], BeforeValidator(_many)]
Numbers = Annotated[list[int], BeforeValidator(_many)]
Spread = Annotated[list[float], BeforeValidator(_spread)]
Odds = Annotated[float, BeforeValidator(_odds)]


class Form(BaseModel):
    """Whatever is not named is refused; a number in quotes is no number."""

    model_config = ConfigDict(extra="forbid", strict=True, populate_by_name=True)


class WhenForm(Form):
    engine: Texts = []
    gearbox: Texts = []
    axles: Texts = []
    grade: Numbers = []
    option: Annotated[dict[str, list[str]], BeforeValidator(_one_or_many_values)] = {}


class ReadingForm(Form):
    code: str
    text: str
    unit: str
    positions: list[str] = []
    low: float | None = None
    high: float | None = None
    spread: float | None = None
    difference_low: float | None = None
    difference_high: float | None = None
    high_is: Literal["lift-rated-kg"] | None = None
    typed: bool = False


class AnswerForm(Form):
    code: str
    text: str
    odds: Odds
    sets: dict[str, str] = {}
    ends: bool = False
    advise: str = ""


class StepForm(Form):
    """`use` names a shared step; what else is written changes it for this place."""

    use: str | None = None
    code: str | None = None
    text: str | None = None
    kind: StepKind = "step"
    detail: str = ""
    caution: str = ""
    when: WhenForm = WhenForm()
    signs: int = 1
    by: Literal["technician", "foreman"] = "technician"
    not_by_fitter: bool = False
    needs: Texts = []
    reading: list[ReadingForm] = []
    blocks: Texts = []
    void_on_lift: bool = False
    opens: Texts = []
    closes: Texts = []
    deed: Deed | None = None
    answer: list[AnswerForm] = []
    insert: Literal["first phase", "first phase on a lift"] | None = None


class ExtraForm(StepForm):
    phase: str
    after: str | None = None


class KitNeedForm(Form):
    kit: str
    when: WhenForm = WhenForm()
    captive_to: str | None = None


class HoursForForm(Form):
    family: str
    hours: Spread
    learned: float = 1.0


class SideForm(Form):
    """What can be said of any phase; one side of an access takes its code from the access."""

    name: str | None = None
    kind: PhaseKind | None = None
    hours: Spread | None = None
    hours_for: list[HoursForForm] = []
    learned: float = 1.0
    days: Spread | None = None
    place: Annotated[list[PlaceKind], BeforeValidator(_many)] | None = None
    after: Stands = "as before"
    phase_class: PhaseClass | None = Field(default=None, alias="class")
    qualifies: bool = False
    always: bool = False
    cautions: Texts = []
    step: list[StepForm] = []
    kit: list[Annotated[KitNeedForm, _entry("kit")]] = []
    needs: Texts = []
    opens: Texts = []
    closes: Texts = []
    contains: Texts = []


class PhaseForm(SideForm):
    code: str


class AccessForm(PhaseForm):
    """With `off` and `on` two phases, without them one whose code is that of the access."""

    off: SideForm | None = None
    on: SideForm | None = None


class UseForm(Form):
    phase: str
    when: WhenForm = WhenForm()


class OptionForm(Form):
    code: str
    text: str
    values: list[str]
    assume: str


class SurpriseForm(Form):
    code: str
    phase: str
    text: str
    odds: Odds
    hours: float
    when: WhenForm = WhenForm()


class NeighbourForm(Form):
    code: str
    phase: str
    text: str
    odds: Odds
    hours: float
    phases: Texts = []
    when: WhenForm = WhenForm()


class PartForm(Form):
    text: str
    phase: str
    when: WhenForm = WhenForm()


class FollowUpForm(Form):
    what: str
    who: str = "shop"
    days: int | None = None
    distance: float | None = None
    when: WhenForm = WhenForm()


class OperationForm(Form):
    code: str
    name: str
    route: list[Annotated[UseForm, _entry("phase")]]
    contains: Texts = []
    option: list[OptionForm] = []
    extra: list[ExtraForm] = []
    surprise: list[SurpriseForm] = []
    neighbour: list[NeighbourForm] = []
    part: list[PartForm] = []
    follow_up: list[FollowUpForm] = []
    run_in: str = ""


class ConditionForm(Form):
    code: str
    text: str
    forbids: Annotated[list[Deed], BeforeValidator(_many)]


class KitForm(Form):
    code: str
    name: str
    owned: bool
    size: Literal["small", "middle", "large"] = "small"
    contains: Texts = []


class ReductionForm(Form):
    beside: str
    phases: Texts
    factor: float = 1.0
    minus: float = 0.0


class FamiliesForm(Form):
    engine: dict[str, str] = {}
    gearbox: dict[str, str] = {}
    axles: dict[str, str] = {}


class BookForm(Form):
    name: str
    families: FamiliesForm = FamiliesForm()
    condition: list[ConditionForm] = []
    kit: list[KitForm] = []
    shared_step: list[StepForm] = []
    access: list[AccessForm] = []
    phase: list[PhaseForm] = []
    operation: list[OperationForm]
    reduction: list[ReductionForm] = []
