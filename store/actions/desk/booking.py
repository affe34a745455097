"""A day on which a vehicle is to come."""

from __future__ import annotations

from datetime import date, timedelta

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import live_job
from store.edges.events.desk import ArrivalBooked
from store.edges.events.jobs import StateChanged
from store.file.change import By
from store.file.shop import Shop
from store.sums.working_time import Calendar
from store.trouble import Refused

FURTHEST = timedelta(days=2 * 366)


def book(
    shop: Shop,
    by: By,
    *,
    job: str,
    day: date,
    note: str | None = None,
    deposit: float | None = None,
) -> Done:
    """Book the day on which a job's vehicle is to come, or another one.

    Args:
        note: what is to be remembered: a courtesy car, the spare key.
        deposit: money left in advance.

    Raises:
        NoSuch: no such job.
        Refused: it is here already; the day is past, years ahead, or the shop is closed on it.
    """
    with acting(shop, by, "book arrival") as doing:
        row = live_job(doing, job)
        _refuse_day(doing, day)
        _refuse_here(doing, job)
        said = " ".join((note or "").split()) or None
        doing.record(ArrivalBooked(job=job, day=day.isoformat(), note=said, deposit=deposit))
        if row.state in ("enquiry", "quoted"):
            doing.record(StateChanged(job=job, state="booked"))
        return doing.done(f"{job} is to come on {day:%a} {day.day} {day:%b}.", job=job)


def _refuse_here(doing: Acting, job: str) -> None:
    here = doing.db.execute(
        "select 1 from job where job = ?1 and (arrived_at is not null or "
        "exists (select 1 from job_place where job_place.job = ?1))",
        [job],
    ).fetchone()
    if here is not None:
        raise Refused(f"{job} is here already: there is nothing to book.")


def _refuse_day(doing: Acting, day: date) -> None:
    today = doing.calendar.day_of(doing.now)
    if day > today + FURTHEST:
        raise Refused("That day lies years ahead. Check the year.")
    why = "is past" if day < today else None
    if why is None and not doing.calendar.shifts_of(day):
        why = "is no day of work"
    if why is not None:
        following = next_open_day(doing.calendar, max(day, today))
        hint = f" The next one is {following:%a} {following}." if following else ""
        raise Refused(f"{day:%a} {day} {why}.{hint}")


def next_open_day(calendar: Calendar, day: date) -> date | None:
    """Return the first day from one on, itself included, on which the shop works; None in a year.

    A day past counts as the day given does: say today.
    """
    days = (day + timedelta(days=n) for n in range(366))
    return next((one for one in days if calendar.shifts_of(one)), None)
