"""A vehicle that returns with the same trouble: linked to the old job, and teaching nothing."""

from __future__ import annotations

from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import job_row
from store.edges.events.desk import ComebackLinked
from store.edges.events.jobs import NotTeaching
from store.file.change import By
from store.file.route_now import phases_of
from store.file.shop import Shop
from store.trouble import Refused

Fault = Literal["ours", "not ours", "not known yet"]
Pays = Literal["shop", "customer", "supplier"]


def come_back(
    shop: Shop,
    by: By,
    *,
    job: str,
    of: str,
    cause: str,
    fault: Fault = "not known yet",
    pays: Pays = "shop",
    phase: str | None = None,
) -> Done:
    """Say that a job is a comeback of an older one; its hours count against that one.

    Linked already, cause, fault and who pays are told anew.

    Args:
        of: number of the old job.
        phase: of the old job, where one is to blame.

    Raises:
        NoSuch: no such job.
        Refused: the old job is of another vehicle, the same one, or still open; it has no such
            phase; or no cause is said.
    """
    with acting(shop, by, "link comeback") as doing:
        row, old = job_row(doing.db, job), job_row(doing.db, of)
        doing.change.job = job
        said = " ".join(cause.split())
        if not said:
            raise Refused("Say what the cause is, or seems to be.")
        if old.job == row.job:
            raise Refused(f"{job} cannot come back from itself. Name the old job.")
        if old.vehicle != row.vehicle:
            raise Refused(f"{of} was another vehicle ({_label(doing, of)}). Name its old job.")
        if old.state != "closed":
            raise Refused(f"{of} is {old.state.replace('-', ' ')}, not closed: nothing comes back.")
        if phase is not None and all(one.phase != phase for one in phases_of(doing.db, of)):
            raise Refused(f"{of} has no phase {phase}.")
        doing.record(
            ComebackLinked(job=job, of=of, phase=phase, cause=said, fault=fault, pays=pays)
        )
        _not_teaching(doing, job, of)
        where = of if phase is None else f"{of}.{phase}"
        return doing.done(f"{job} comes back from {where}: {said}. {pays} pays.", job=job)


def _label(doing: Acting, job: str) -> str:
    found = doing.db.execute(
        "select label from job join vehicle using (vehicle) where job = ?", [job]
    ).fetchone()
    return str(found[0])


def _not_teaching(doing: Acting, job: str, of: str) -> None:
    marked = doing.db.execute("select not_teaching from job where job = ?", [job]).fetchone()
    if marked[0] is None:
        doing.record(NotTeaching(job=job, why=f"comeback of {of}"))
