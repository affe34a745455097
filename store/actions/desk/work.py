"""What a job is to be about, before anything is agreed; and the vehicle that it is about."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from store.actions.acting import Acting, Done, acting
from store.actions.desk.check import lay_check
from store.actions.job_opening import vehicle_meant
from store.actions.jobs_now import BEFORE, JobRow, job_row, live_job
from store.edges.events.desk import WorkChosen
from store.edges.events.jobs import VehicleKnown
from store.edges.events.route import GradeSet
from store.file.books import book_of, book_on
from store.file.change import By
from store.file.route_now import phases_of
from store.file.shop import Shop
from store.rules import routes
from store.trouble import Refused

NOT_CHOSEN = "not chosen yet"
GRADES = (1, 2, 3, 4)


def choose_work(
    shop: Shop,
    by: By,
    *,
    job: str,
    operations: Sequence[str],
    family: str = "",
    options: Mapping[str, str] | None = None,
    vehicle: str | None = None,
    complaint: str | None = None,
    grade: int | None = None,
) -> Done:
    """Say what a job is to be about, from now on; of a vehicle that is here the check is laid anew.

    Args:
        operations: codes of the work book; () where that is open again.
        family: engine-gearbox-axles; "" leaves what is known.
        options: what is known of the vehicle; None leaves what is known.
        vehicle: another one, by number plate, VIN or name; None leaves it.
        complaint: what the customer said; None leaves it.
        grade: condition, 1 to 4; None leaves it.

    Raises:
        NoSuch: no such job.
        Refused: it is agreed already; or an operation, option or family that cannot be.
    """
    with acting(shop, by, "take enquiry") as doing:
        row = open_job(doing, job)
        known = row.vehicle if vehicle is None else vehicle_meant(doing, vehicle, family)
        before = _named(row, operations) if options is None else dict(options)
        set_grade(doing, row, grade)
        record_work(doing, row, known, operations, family or row.family, before, complaint)
        says = f"{job} is about: {job_row(doing.db, job).work}."
        check = lay_check(doing, job)
        return doing.done(f"{says} {check}" if check else says, job=job)


def open_job(doing: Acting, job: str) -> JobRow:
    """Return a job that nobody has agreed to yet.

    Raises:
        NoSuch: no such job.
        Refused: it is agreed, or over.
    """
    row = live_job(doing, job)
    if row.state not in BEFORE:
        raise Refused(
            f"{job} is agreed already: its work changes by findings and the customer's word."
        )
    return row


def _named(row: JobRow, operations: Sequence[str]) -> dict[str, str]:
    """Options that were said before, where the work is still the same."""
    same = set(operations) == set(json.loads(row.operations))
    found: dict[str, str] = json.loads(row.options)
    return found if same else {}


def record_work(
    doing: Acting,
    row: JobRow,
    vehicle: str,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str],
    complaint: str | None = None,
) -> None:
    """Write down what a job is about; a vehicle whose family was not known has one now.

    Raises:
        Refused: an operation, option or family that cannot be.
    """
    if family:
        routes.family_parts(family)
        _know_family(doing, vehicle, family)
    version, work, codes = work_of(doing, operations, options, kept_version(doing, row))
    kept = doing.db.execute("select complaint from job where job = ?", [row.job]).fetchone()[0]
    doing.record(
        WorkChosen(
            job=row.job, vehicle=vehicle, work=work, operations=codes, family=family,
            options=dict(options), version=version, complaint=complaint or kept,
        )
    )  # fmt: skip


def kept_version(doing: Acting, row: JobRow) -> int | None:
    """The version of the work book that a job's phases are of; None where it has none yet."""
    return row.version if phases_of(doing.db, row.job) else None


def work_of(
    doing: Acting, operations: Sequence[str], options: Mapping[str, str], version: int | None
) -> tuple[int | None, str, list[str]]:
    """Return version of the work book, words and codes of some work, checked.

    Raises:
        NoBook: there is no work book.
        Refused: an operation or option that cannot be.
    """
    if not operations:
        return version, NOT_CHOSEN, []
    if version is None:
        version, book = book_on(doing.db, doing.today)
    else:
        book = book_of(doing.db, version)
    routes.chosen(book, operations, options)
    sold = routes.sold(book, operations)
    return version, " + ".join(one.name for one in sold), [one.code for one in sold]


def _know_family(doing: Acting, vehicle: str, family: str) -> None:
    row = doing.db.execute("select * from vehicle where vehicle = ?", [vehicle]).fetchone()
    if row["family"] != family:
        doing.record(VehicleKnown.model_validate({**dict(row), "family": family}))


def set_grade(doing: Acting, row: JobRow, grade: int | None) -> None:
    """Write down the condition of a vehicle, where it is other than was said.

    Raises:
        Refused: it is not 1 to 4.
    """
    if grade is None or grade == row.grade:
        return
    if grade not in GRADES:
        raise Refused("A grade is 1 clean, 2 usual, 3 rusty or neglected, 4 been apart before.")
    doing.record(GradeSet(job=row.job, grade=grade))
