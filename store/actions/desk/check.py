"""The qualifying check: a job's first phases, sold on their own, judged before money is spent."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.agreeing import Terms, WorkedOut, agree, hours_of, stated, worked_out
from store.actions.conditions import hanging
from store.actions.jobs_now import BEFORE, JobRow, job_row, live_job
from store.actions.route_change import record_change
from store.actions.route_laying import Change, compare, route_now_of
from store.actions.words import gate_words, hours_words, named
from store.edges.events.desk import CheckJudged
from store.file.books import book_of
from store.file.change import By
from store.file.check_phases import check_phases
from store.file.facts import rate_on, setting
from store.file.labour import job_labour_h
from store.file.learned.new_work import Estimated, Work
from store.file.route_now import PhaseRow, gates_of, phases_of
from store.file.shop import Shop
from store.rules import routes
from store.rules.route_check import qualifying
from store.rules.route_end import still_needed
from store.trouble import Refused

Result = Literal["pass", "pass with conditions", "fail"]
CAUSE = "qualifying check"
BACK = "to be given back"


def lay_check(doing: Acting, job: str, before: WorkedOut | None = None) -> str | None:
    """Lay the check of a vehicle that is here, as the job's first phases, with their own price.

    What is there stays under its number; what the chosen work does not need any more falls away.

    Args:
        before: its hours, worked out a moment ago.

    Returns:
        What is to be done first, in words; None where there is nothing to lay.
    """
    row = job_row(doing.db, job)
    if row.state not in BEFORE or not _is_here(doing, job) or row.version is None:
        return None
    new = _route(doing, row)
    phases = phases_of(doing.db, job)
    change = Change(cautious=setting(doing.db, "cautious"), grows=True)
    change.names = {one.phase: one.name for one in phases}
    hours = _hours(doing, row, before, new)
    if hours is not None:
        change.estimates = {
            one.phase.code: stated(line) for one, line in zip(new, hours.lines, strict=True)
        }
    compare(change, route_now_of(doing, job, phases), new, CAUSE)
    if change.nothing():
        return None
    options: dict[str, str] = json.loads(row.options)
    record_change(doing, job, change, change.event(job, row.version, options, CAUSE))
    if hours is None:
        return None
    agree(doing, job, _numbers(doing, job, new), hours, Terms("fixed price", check=True))
    first = ", ".join(f"{job}.{one.phase} {one.name}" for one in change.added)
    return f"First the check: {first}." if first else None


def lay_way_back(doing: Acting, job: str) -> str | None:
    """Lay what ends the open conditions of a vehicle that goes back before anything was agreed.

    A check may leave something open that the rest of the work would have closed.

    Returns:
        What was laid, in words; None where nothing is open, or what there is closes it.
    """
    row, open_now = job_row(doing.db, job), sorted(hanging(doing, job))
    if row.state not in BEFORE or not open_now or row.version is None:
        return None
    whole, phases = _whole_route(doing, row), phases_of(doing.db, job)
    begun = {one.code for one in phases if one.state in ("under way", "finished")}
    there = {one.code for one in phases if one.state != "skipped"}
    stays = still_needed(whole, begun, open_now)
    new = [one for one in whole if one.phase.code in there or one.phase.code in stays]
    change = Change(cautious=setting(doing.db, "cautious"), grows=True)
    change.names = {one.phase: one.name for one in phases}
    compare(change, route_now_of(doing, job, phases), new, BACK)
    change.dropped.clear()
    if not change.added:
        return None
    options: dict[str, str] = json.loads(row.options)
    record_change(doing, job, change, change.event(job, row.version, options, BACK))
    return "Laid to end it: " + ", ".join(f"{job}.{one.phase} {one.name}" for one in change.added)


def _hours(
    doing: Acting, row: JobRow, before: WorkedOut | None, new: tuple[routes.RoutePhase, ...]
) -> Estimated | None:
    if not new:
        return None
    work = Work("+".join(json.loads(row.operations)), row.family, row.grade)
    return hours_of(doing, before, new, work)


def _is_here(doing: Acting, job: str) -> bool:
    found = doing.db.execute("select arrived_at from job where job = ?", [job]).fetchone()
    return found[0] is not None


def _route(doing: Acting, row: JobRow) -> tuple[routes.RoutePhase, ...]:
    return qualifying(_whole_route(doing, row))


def _whole_route(doing: Acting, row: JobRow) -> tuple[routes.RoutePhase, ...]:
    operations: list[str] = json.loads(row.operations)
    if not operations or not row.family or row.version is None:
        return ()
    book = book_of(doing.db, row.version)
    known = routes.chosen(book, operations, json.loads(row.options))
    return routes.lay(
        book, operations=operations, family=row.family, options=known, grade=row.grade
    )  # fmt: skip


def _numbers(doing: Acting, job: str, route: tuple[routes.RoutePhase, ...]) -> list[str]:
    by_code = {one.code: one.phase for one in phases_of(doing.db, job)}
    return [by_code[one.phase.code] for one in route]


def check_worked_out(shop: Shop, now: datetime, job: str) -> WorkedOut | None:
    """Return the hours of a job's check out of a look, before the file is kept."""
    with shop.reading() as db:
        found = db.execute(
            "select operations, family, options, grade, version from job where job = ?", [job]
        ).fetchone()
    if found is None:
        return None
    return worked_out(
        shop, now, operations=json.loads(found["operations"]), family=found["family"],
        options=json.loads(found["options"]), grade=found["grade"], version=found["version"],
        check=True,
    )  # fmt: skip


def judge_check(shop: Shop, by: By, *, job: str, result: Result, text: str | None = None) -> Done:
    """Say what the qualifying check came to.

    Args:
        text: the conditions, or why it failed.

    Raises:
        NoSuch: no such job.
        Refused: the work has no check, or the vehicle is not here; conditions or the reason lack;
            to pass, also: a phase of the check is not finished, a hold point or decision in it is
            open, or a clock runs on it.
    """
    with acting(shop, by, "judge check") as doing:
        live_job(doing, job)
        phases = _check_phases(doing, job)
        said = " ".join((text or "").split())
        _refuse_unsaid(job, result, said)
        if result != "fail":
            _refuse_unfinished(doing, job, phases)
        doing.record(CheckJudged(job=job, result=result, text=said or None))
        says = _judged_words(doing, job, result, said)
        back = lay_way_back(doing, job) if result == "fail" else None
        return doing.done(f"{says} {back}." if back else says, job=job)


def _refuse_unsaid(job: str, result: str, said: str) -> None:
    if result == "pass with conditions" and not said:
        raise Refused(f"{job} passes with conditions: say which, --text TEXT.")
    if result == "fail" and not said:
        raise Refused(f"{job} fails its check: say why, --text TEXT.")


def _check_phases(doing: Acting, job: str) -> list[PhaseRow]:
    """The check as it is laid in the job: all up to its last qualifying phase."""
    row = job_row(doing.db, job)
    found = check_phases(doing.db, json.loads(row.operations), phases_of(doing.db, job))
    if found:
        return found
    if not _is_here(doing, job):
        raise Refused(f"{job} is not here yet. When it is: hoistbook arrive {job}.")
    if row.operations == "[]" or not row.family:
        raise Refused(f"Say first what {job} is about: hoistbook work {job} --operation CODE.")
    raise Refused(f"The work book has no qualifying check for {row.work}: quote it as it is.")


def _refuse_unfinished(doing: Acting, job: str, phases: list[PhaseRow]) -> None:
    numbers = {one.phase for one in phases}
    running = doing.db.execute(
        "select name, phase from clock join person using (person) where job = ? and until is null",
        [job],
    ).fetchall()
    for row in running:
        if row["phase"] in numbers:
            raise Refused(
                f"The clock of {row['name']} runs on {job}.{row['phase']}: finish the check first."
            )
    gates = [one for one in gates_of(doing.db, job, open_only=True) if one.phase in numbers]
    if gates:
        raise Refused(f"The check of {job} is not whole before {gate_words(job, gates[0])}.")
    for one in phases:
        if one.state != "finished":
            raise Refused(f"{named(job, one)} of the check is {one.state}: finish it first.")


def _judged_words(doing: Acting, job: str, result: str, said: str) -> str:
    says = f"The check of {job}: {result}{f', {said}' if said else ''}."
    if result != "fail":
        return says + f" Next: hoistbook quote {job}."
    return (
        f"{says} Spent so far: {spent(doing, job)}. Decline it, turn it away, or choose other work."
    )


def spent(doing: Acting, job: str) -> str:
    """Say what labour a job took so far, with its money at the shop's rate."""
    hours = job_labour_h(doing.db, doing.calendar, job, doing.at)
    rate = rate_on(doing.db, doing.today)
    if rate is None:
        return hours_words(hours)
    currency = doing.db.execute("select currency from shop").fetchone()[0]
    return f"{hours_words(hours)}, {rate * hours:,.2f} {currency}"
