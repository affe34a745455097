"""Parts, kits and hires as the views give them: frozen values, instants in UTC."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from store.rules.part_states import NOT_LACKING, PartState
from store.sums.hires.terms import Terms

KitAt = Literal["here", "in use", "not complete", "asked", "not asked", "elsewhere"]


@dataclass(frozen=True, slots=True)
class HireOut:
    """One hire that was not sent back.

    Attributes:
        kit: its code.
        expected: when it is to be here.
        due: when it is to be handed to the carrier again, None where nobody said.
        received_at: None where it is only asked for.
        complete: as it was on receipt, or since what lacked came.
        note: what lacks.
        terms: as agreed when it was asked for; None where they are not known.
        missing: pieces that were not there; `wrong`: the wrong variant came.
        valid_until: of its own calibration or inspection.
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
    terms: Terms | None = None
    missing: tuple[str, ...] = ()
    wrong: bool = False
    valid_until: date | None = None
    serial: str | None = None

    @property
    def here(self) -> bool:
        """It was received and not sent back."""
        return self.received_at is not None

    @property
    def whole(self) -> bool:
        """It is here as it should be."""
        return self.here and self.complete and not self.wrong


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
        in_time: chance that it is not needed any more by the cut-off of the day on which it goes
            back, where it is hired and that day is known.
    """

    code: str
    name: str
    owned: bool
    at: KitAt
    job: str | None
    phases: tuple[str, ...]
    hire: HireOut | None = None
    in_time: float | None = None
