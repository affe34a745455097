"""What every kind of event is made of."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field

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
