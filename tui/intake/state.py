"""What was said of a new job so far, and what the screen adds to it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING, Literal

from tui.parts.canvas import ON_SCREEN
from tui.parts.lines import Key
from tui.parts.prompt import Field

if TYPE_CHECKING:
    from store.views.estimate import Estimate, ForkLine

FieldName = Literal["vehicle", "family", "work", "told"]
Stage = Literal["", "book", "hours", "dates", "whole"]
"""How much of the answer is there: nothing, the work book's hours, learned hours, dates, all."""
OFFERED = (0.5, 0.8, 0.9, 0.95)
"""Chances whose dates stand on the promise row: a coin toss, 8 and 9 in 10, safe."""
USUAL = 0.8
"""The chance that is chosen until somebody chooses another."""
GRADES = {1: "clean", 2: "usual", 3: "rusty or neglected", 4: "been apart before"}
DO = f"{ON_SCREEN}do "
"""What the mouse presses on the form: then the id of what it does."""
OFFER = f"{ON_SCREEN}offer "
"""And on the promise row: then the place of what is offered."""
MATCH = f"{ON_SCREEN}match "
"""And on what fits: then its place."""
LIGHTEST_KG, HEAVIEST_KG = 200.0, 60_000.0
_MASS = re.compile(r"(.+?)[,;]?\s+(\d+(?:[.,]\d+)?)\s*(t|kg)", re.IGNORECASE | re.ASCII)


@dataclass(frozen=True, slots=True)
class Form:
    """What was said. All empty: nothing yet.

    Attributes:
        vehicle: as it was typed, with its mass where that was said.
        mass_kg: of a vehicle that was here before.
        family: its key.
        work: codes of operations, in the order in which they were named.
        small: text of a small job, instead of operations.
        small_h: its hours; None is the shop's usual.
        told: what the customer says.
        chance: at which it is promised; None: by the day typed, or not yet.
        day: what was typed as the promise.
        customer: name and telephone, where they were said.
    """

    vehicle: str = ""
    mass_kg: float | None = None
    family: str = ""
    work: tuple[str, ...] = ()
    small: str = ""
    small_h: float | None = None
    told: str = ""
    options: Mapping[str, str] = field(default_factory=dict[str, str])
    grade: int = 2
    lift: str | None = None
    chance: float | None = USUAL
    day: datetime | None = None
    customer: tuple[str, str] | None = None

    @property
    def label(self) -> str:
        """The vehicle without its mass."""
        return label_and_mass(self.vehicle)[0]

    @property
    def mass(self) -> float | None:
        """Gross mass in kg, where it is known."""
        return label_and_mass(self.vehicle)[1] or self.mass_kg

    @property
    def can_be_asked(self) -> bool:
        """Enough was said to work out hours."""
        return bool(self.work and self.family)

    @property
    def is_empty(self) -> bool:
        """Nothing was said yet."""
        return self == Form()

    def without(self, code: str) -> Form:
        """The same without an operation."""
        return replace(self, work=tuple(one for one in self.work if one != code))


@dataclass(frozen=True, slots=True)
class Match:
    """Something that can be taken for what is typed: what it stands for, and how it is shown."""

    key: str
    words: str
    note: str = ""
    kind: Literal["known", "new", "small"] = "known"


@dataclass(frozen=True, slots=True)
class Typing:
    """A field that has the keys. `at` is the match that Enter takes; -1 takes what was typed."""

    name: FieldName
    field: Field
    matches: tuple[Match, ...] = ()
    at: int = -1
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Before:
    """The vehicle was here before: in words, and whether so lately that the trouble may be the
    same."""

    says: str
    fresh: bool


@dataclass(frozen=True, slots=True)
class IntakeState:
    """What the screen shows beside the counter.

    Attributes:
        found: the estimate as far as it is worked out.
        wrong: why there is none, in words.
        day_chance: the chance of the day that was typed; None where nobody knows.
        first: the first phase shown.
        said: what was just done or refused.
        note: what is to be known where nothing was said.
        job: number of the job that the desk knows already; "" for a new one.
        before: that the vehicle was here before; None where it was not.
    """

    form: Form = Form()
    found: Estimate | None = None
    stage: Stage = ""
    wrong: str = ""
    typing: Typing | None = None
    day_chance: float | None = None
    first: int = 0
    said: str | None = None
    stale: str | None = None
    note: str = ""
    keys: tuple[Key, ...] = ()
    job: str = ""
    before: Before | None = None


def label_and_mass(text: str) -> tuple[str, float | None]:
    """Vehicle and gross mass in kg of `old saloon, 1.5 t` or `old saloon 1500 kg`."""
    found = _MASS.fullmatch(text.strip())
    if found is None:
        return text.strip(), None
    mass = float(found[2].replace(",", ".")) * (1000.0 if found[3].lower() == "t" else 1.0)
    if not LIGHTEST_KG <= mass <= HEAVIEST_KG:
        return text.strip(), None
    return found[1].strip(), mass


def open_lines(found: Estimate) -> tuple[ForkLine, ...]:
    """What is open and may change the work, but checks that only end it."""
    return tuple(
        one
        for one in (*found.forks, *found.unknown)
        if sum(not way.ends for way in one.ways) > 1 and changes(one)
    )


def changes(line: ForkLine) -> bool:
    """Whether an answer that goes on changes hours or tools."""
    going = [way for way in line.ways if not way.ends]
    return any(
        abs(way.total.middle - going[0].total.middle) > 0.005 or way.kits != going[0].kits
        for way in going
    )


def date_at(ends: tuple[tuple[float, datetime], ...], chance: float) -> datetime | None:
    """By when it is done with a chance; None where that is not known."""
    return next((at for one, at in ends if abs(one - chance) < 1e-9), None)


def promised(form: Form, found: Estimate | None) -> datetime | None:
    """What would be promised now; None for nothing yet."""
    if form.chance is None:
        return form.day
    return date_at(found.promise, form.chance) if found else None
