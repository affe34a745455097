"""The vehicle is here: received once, with what is seen of it; its check is laid at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from store.actions.acting import Acting, Done, acting
from store.actions.agreeing import WorkedOut, worked_out
from store.actions.desk.check import check_worked_out, lay_check
from store.actions.desk.opening import Enquiry, open_enquiry
from store.actions.desk.vehicle import Identity, record_identity
from store.actions.desk.work import set_grade
from store.actions.jobs_now import OVER, job_row, live_job
from store.actions.odometers import read_odometer
from store.actions.places import place_by, put_on_lift, refuse_taken
from store.edges.events.desk import Arrived
from store.edges.events.jobs import Placed, StateChanged
from store.file.change import By
from store.file.shop import Shop
from store.trouble import Refused

NOBODY = Identity()


def arrive(
    shop: Shop,
    by: By,
    *,
    job: str | None = None,
    vehicle: str | None = None,
    complaint: str | None = None,
    customer: Sequence[str] | None = None,
    operations: Sequence[str] = (),
    family: str = "",
    options: Mapping[str, str] | None = None,
    odometer: float | None = None,
    unit: str | None = None,
    grade: int | None = None,
    lamps: str | None = None,
    photographs: str | None = None,
    place: str | None = None,
    identity: Identity = NOBODY,
) -> Done:
    """Receive a vehicle: of a job that the desk knows, or one that simply stands at the door.

    Args:
        job: its number; None opens one for `vehicle`, with complaint, customer (name, telephone),
            operations, family and options as `enquire` takes them.
        odometer: what it reads, in `unit`, km or miles; None is that of the reading before.
        grade: condition, 1 clean to 4 been apart before.
        lamps: warning lamps and stored faults.
        photographs: where those round the car are kept.
        place: code of the place where it stands now.
        identity: VIN, plate and whatever else is read off it.

    Raises:
        NoSuch: no such job or place.
        Refused: it is here already; the odometer runs backwards; the VIN cannot be one; the place
            is taken.
    """
    before = _worked_out(shop, by.at or by.now, job, operations, family, options, grade)
    with acting(shop, by, "receive vehicle") as doing:
        if job is None:
            enquiry = Enquiry(
                vehicle or "", complaint, customer, operations, family, options or {}, grade or 2
            )
            job = open_enquiry(doing, enquiry, state="arrived")
        row = live_job(doing, job)
        set_grade(doing, row, grade)
        told = record_identity(doing, row, identity) if identity != NOBODY else None
        row = job_row(doing.db, job)
        _refuse_here(doing, job, row.vehicle)
        read_odometer(doing, row.vehicle, odometer, unit)
        doing.record(Arrived(job=job, lamps=_said(lamps), photographs=_said(photographs)))
        if row.state in ("enquiry", "booked"):
            doing.record(StateChanged(job=job, state="arrived"))
        stands = _stand(doing, job, place)
        check = lay_check(doing, job, before)
        doing.change.job = job
        return doing.done(" ".join(filter(None, (f"{job} is here.", told, stands, check))), job=job)


def _worked_out(
    shop: Shop,
    now: datetime,
    job: str | None,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str] | None,
    grade: int | None,
) -> WorkedOut | None:
    """Hours of the check, before the file is kept."""
    if job is not None:
        return check_worked_out(shop, now, job)
    if not operations or not family:
        return None
    return worked_out(
        shop, now, operations=operations, family=family, options=options or {},
        grade=grade or 2, check=True,
    )  # fmt: skip


def _said(text: str | None) -> str | None:
    return " ".join((text or "").split()) or None


def _refuse_here(doing: Acting, job: str, vehicle: str) -> None:
    """A vehicle arrives once, until it was handed back."""
    marks = ", ".join("?" * len(OVER))
    here = doing.db.execute(
        "select job.job, arrived_at, label, (select code from job_place join place using (place) "
        "where job_place.job = job.job and part = 'body') as code from job "
        f"join vehicle using (vehicle) where vehicle = ? and state not in ({marks}) "
        "and not exists (select 1 from handed_over where handed_over.job = job.job) "
        "and (arrived_at is not null or exists (select 1 from job_place where "
        "job_place.job = job.job)) order by job.job = ? desc, number limit 1",
        [vehicle, *OVER, job],
    ).fetchone()
    if here is None:
        return
    where = f", at {here['code']}" if here["code"] else ""
    if here["job"] == job and here["arrived_at"] is not None:
        raise Refused(f"{job} is here already{where}. Move it with hoistbook move {job}.")
    if here["job"] != job:
        raise Refused(
            f"{here['label']} is here already: {here['job']}{where}. Add to that job, or close it "
            "first."
        )


def _stand(doing: Acting, job: str, place: str | None) -> str | None:
    if place is None:
        return None
    target = place_by(doing, place)
    if target.kind == "lift":
        return put_on_lift(doing, job, target)
    refuse_taken(doing, job, target)
    state = job_row(doing.db, job).state
    doing.record(Placed(job=job, part="body", place=target.place, state=state))
    return f"It stands at {target.code}."
