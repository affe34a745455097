"""Every job there ever was, to be found by number, vehicle, plate, words or customer."""

from __future__ import annotations

from dataclasses import dataclass

from store.file.shop import Shop

OVER = ("closed", "declined", "turned-away")


@dataclass(frozen=True, slots=True)
class FoundJob:
    """One job as a search shows it.

    Attributes:
        place: in words, like `lift 2`; None when it is nowhere in the house.
        customer: None for whoever may not see it.
    """

    number: str
    vehicle: str
    plate: str | None
    vin: str | None
    family: str
    work: str
    complaint: str | None
    state: str
    place: str | None
    customer: str | None

    @property
    def over(self) -> bool:
        """Whether it is closed, or never came to anything."""
        return self.state in OVER


def every_job(shop: Shop, *, customers: bool) -> tuple[FoundJob, ...]:
    """Return all jobs, those that go on first, the newest of each kind first.

    Args:
        customers: names of customers are shown too; see `rules.roles.sees_customers`.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        rows = db.execute(
            "select job.job, vehicle.label, vehicle.plate, vehicle.vin, job.family, job.work, "
            "job.complaint, job.state, (select case lower(code) when kind then '' else kind || ' ' "
            "end || code from job_place join place using (place) "
            "where job_place.job = job.job and part = 'body') as place, "
            "case when ? then customer_private.name end as customer "
            "from job join vehicle on vehicle.vehicle = job.vehicle "
            "left join customer_private on customer_private.customer = job.customer "
            "order by job.state in ('closed', 'declined', 'turned-away'), job.number desc",
            [customers],
        )
        return tuple(FoundJob(*row) for row in rows)
