"""A job that the desk opens: somebody rang, or stands at the door."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.customers import refuse_to_name, take_customer
from store.actions.desk.work import GRADES, NOT_CHOSEN, work_of
from store.actions.job_opening import next_number, vehicle_meant
from store.edges.events.jobs import JobOpened
from store.file.change import By
from store.file.shop import Shop
from store.rules import routes
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class Enquiry:
    """What somebody asks for. See `enquire`."""

    vehicle: str
    complaint: str | None = None
    customer: Sequence[str] | None = None
    operations: Sequence[str] = ()
    family: str = ""
    options: Mapping[str, str] = field(default_factory=dict[str, str])
    grade: int = 2


def enquire(
    shop: Shop,
    by: By,
    *,
    vehicle: str,
    complaint: str | None = None,
    customer: Sequence[str] | None = None,
    operations: Sequence[str] = (),
    family: str = "",
    options: Mapping[str, str] | None = None,
    grade: int = 2,
) -> Done:
    """Take an enquiry: a job in state `enquiry`, with as much as the caller knows.

    Args:
        vehicle: a known number plate or VIN, else how it is called.
        complaint: what the customer said.
        customer: name and telephone; they are kept outside the ledger.
        operations: codes of the work book, () while that is open.
        family: engine-gearbox-axles; "" while that is not known.
        options: what is known of the vehicle.
        grade: condition, 1 clean to 4 been apart before.

    Raises:
        Refused: no vehicle is named; an operation, option or family cannot be; a text names the
            customer.
    """
    asked = Enquiry(vehicle, complaint, customer, operations, family, options or {}, grade)
    with acting(shop, by, "take enquiry") as doing:
        job = open_enquiry(doing, asked)
        doing.change.job = job
        return doing.done(f"{job} is an enquiry: {vehicle.strip()}.", job=job)


def open_enquiry(
    doing: Acting, asked: Enquiry, state: Literal["enquiry", "arrived"] = "enquiry"
) -> str:
    """Open a job for what somebody asks; return its number.

    Raises:
        Refused: as `enquire`.
    """
    if asked.grade not in GRADES:
        raise Refused("A grade is 1 clean, 2 usual, 3 rusty or neglected, 4 been apart before.")
    if asked.family:
        routes.family_parts(asked.family)
    complaint = " ".join((asked.complaint or "").split()) or None
    if asked.customer is not None:
        refuse_to_name(asked.customer, asked.vehicle, complaint)
    version, work, codes = work_of(doing, asked.operations, asked.options, None)
    job = next_number(doing)
    doing.record(
        JobOpened(
            job=job, vehicle=vehicle_meant(doing, asked.vehicle, asked.family), small=False,
            work=work if codes else complaint or NOT_CHOSEN, operations=codes,
            family=asked.family, options=dict(asked.options), grade=asked.grade, version=version,
            complaint=complaint, state=state,
        )
    )  # fmt: skip
    if asked.customer is not None:
        take_customer(doing, job, asked.customer)
    return job
