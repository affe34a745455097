"""Parts, kits and hires as the views give them: frozen values, instants in UTC."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from store.rules.part_states import NOT_LACKING, PartState

KitAt = Literal["here", "in use", "not complete", "asked", "not asked", "elsewhere"]


@dataclass(frozen=True, slots=True)
class HireOut:
    """One hire that was not sent back.

    Attributes:
        kit: its code.
        expected: when it is to be here.
        due: when it is to be handed to the carrier again, None where nobody said.
        received_at: None where it is only asked for.
        complete: as it was on receipt.
        note: what lacks.
    """

    hire: str
    kit: str
    name: str
    supplier: str
    job: str | None
    asked_at: datetime
    expected: datetime | None
    due: datetime | None
    received_at: datetime | None
    complete: bool
    note: str | None


@dataclass(frozen=True, slots=True)
class PartOnCard:
    """One part line of a job.

    Attributes:
        phase: number of the phase for which it must be here; None for the job.
        renewed: the work book renews it every time.
        price: in the shop's currency.
        left_out: its phase is not done in this job: it is wanted no more.
    """

    line: int
    text: str
    phase: str | None
    renewed: bool
    state: PartState
    expected: datetime | None
    supplier: str | None
    batch: str | None
    note: str | None
    price: float | None
    moved_at: datetime | None
    left_out: bool = False

    @property
    def lacks(self) -> bool:
        """It is not here, and wanted."""
        return self.state not in NOT_LACKING and not self.left_out


@dataclass(frozen=True, slots=True)
class KitOnCard:
    """A tool kit of a job's route that is still wanted, or hired for it.

    Attributes:
        at: where it is. `elsewhere`: another job has it in use; `in use`: this one has.
        job: that other job.
        phases: numbers of the phases that it is for.
    """

    code: str
    name: str
    owned: bool
    at: KitAt
    job: str | None
    phases: tuple[str, ...]
    hire: HireOut | None = None
