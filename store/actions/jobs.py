"""A job's life: taken, promised, closed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from store.actions.acting import Acting, Done, acting
from store.actions.agreeing import (
    Basis,
    Terms,
    WorkedOut,
    agree,
    by_the_book,
    hours_of,
    stated,
    worked_out,
)
from store.actions.closing import close_job, refuse_open
from store.actions.customers import refuse_to_name, take_customer
from store.actions.job_opening import next_number, vehicle_meant
from store.actions.jobs_now import job_row, live_job
from store.actions.parts import list_renewed
from store.actions.places import place_by, put_on_lift
from store.actions.route_change import figures_of, route_phase
from store.actions.words import clock_time, hours_words
from store.edges.events.jobs import JobOpened, NotTeaching, Promised
from store.edges.events.route import RouteChanged, RoutePhase
from store.edges.instants import to_text
from store.file.books import book_on
from store.file.change import By
from store.file.facts import setting
from store.file.learned.new_work import Estimated, Work
from store.file.shop import Shop
from store.rules import routes
from store.rules.estimating import Figures
from store.trouble import Refused

__all__ = ["Basis", "close", "mark_not_teaching", "promise", "take", "take_small"]


def take(
    shop: Shop,
    by: By,
    *,
    operations: Sequence[str],
    family: str,
    vehicle: str,
    options: Mapping[str, str] | None = None,
    grade: int = 2,
    promise: datetime | None = None,
    lift: str | None = None,
    basis: Basis = "fixed price",
    ceiling: float | None = None,
    mass_kg: float | None = None,
    complaint: str | None = None,
    chance: float | None = None,
    told: WorkedOut | None = None,
    customer: Sequence[str] | None = None,
) -> Done:
    """Take a job, agreed at once from the estimate, on a lift or else waiting.

    Args:
        family: engine-gearbox-axles.
        vehicle: a known number plate or VIN, else how people will call it.
        mass_kg: gross mass, where it is known: the lift's capacity is checked against it.
        chance: at which the promise was chosen, where one was.
        told: hours worked out and shown a moment ago, which are the ones that are frozen where
            the route is still the same; None has them worked out now.
        customer: name and telephone, kept outside the ledger.

    Raises:
        NoBook: there is no work book.
        NoSuch: no such lift.
        NamesCustomer: vehicle or complaint names the customer.
        Refused: unknown operation, option or family; the lift is taken, out of service, or too
            weak; the promise lies in the past.
    """
    before = told or worked_out(
        shop, by.at or by.now, operations=operations, family=family, options=options or {},
        grade=grade,
    )  # fmt: skip
    with acting(shop, by, "take job") as doing:
        version, book = book_on(doing.db, doing.today)
        known = routes.chosen(book, operations, options or {})
        route = routes.lay(book, operations=operations, family=family, options=known, grade=grade)
        sold = routes.sold(book, operations)
        job, codes = next_number(doing), [one.code for one in sold]
        _refuse_past(doing, promise)
        if customer is not None:
            refuse_to_name(customer, vehicle, complaint)
        doing.record(
            JobOpened(
                job=job, vehicle=vehicle_meant(doing, vehicle, family, mass_kg), small=False,
                work=" + ".join(one.name for one in sold), operations=codes, family=family,
                options=known, grade=grade, version=version, complaint=complaint, state="waiting",
            )
        )  # fmt: skip
        if customer is not None:
            take_customer(doing, job, customer)
        hours = hours_of(doing, before, route, Work("+".join(codes), family, grade))
        total = _agreed(doing, job, route, hours, (known, version, Terms(basis, ceiling)))
        if promise is not None:
            doing.record(Promised(job=job, promise=to_text(promise), chance=chance))
        return _taken(doing, job, lift, total)


def _agreed(
    doing: Acting,
    job: str,
    route: Sequence[routes.RoutePhase],
    hours: Estimated,
    on: tuple[dict[str, str], int, Terms],
) -> Figures:
    """Lay the whole route, freeze its hours, and list what is renewed every time."""
    options, version, terms = on
    added = [
        route_phase(one, str(n), float(n), estimate=stated(line))
        for n, (one, line) in enumerate(zip(route, hours.lines, strict=True), 1)
    ]
    doing.record(
        RouteChanged(job=job, cause="taken", options=options, version=version, added=added)
    )
    total = agree(doing, job, [one.phase for one in added], hours, terms)
    list_renewed(doing, job)
    return total


def _taken(doing: Acting, job: str, lift: str | None, total: Figures) -> Done:
    says = f"{job} taken: {hours_words(total.middle)}, cautious {hours_words(total.cautious)}."
    if lift is not None:
        says += " " + put_on_lift(doing, job, place_by(doing, lift, "lift"))
    doing.change.job = job
    return doing.done(says, job=job)


def _refuse_past(doing: Acting, promise: datetime | None) -> None:
    if promise is not None and promise <= doing.at:
        raise Refused("The promise lies in the past. Give a later time.")


def take_small(
    shop: Shop,
    by: By,
    *,
    text: str,
    vehicle: str,
    hours: float | None = None,
    lift: str | None = None,
) -> Done:
    """Take a small job: one phase, free text.

    Raises:
        NoSuch: no such lift.
        Refused: the hours are no positive number; the lift is taken or out of service.
    """
    with acting(shop, by, "take small job") as doing:
        middle = setting(doing.db, "small job hours") if hours is None else hours
        if not 0 < middle <= 100:
            raise Refused("A small job takes more than 0 and at most 100 hours.")
        if not text.strip():
            raise Refused("Say what is to be done.")
        job = next_number(doing)
        book = (middle * 0.6, middle, middle * 1.6)
        doing.record(
            JobOpened(
                job=job, vehicle=vehicle_meant(doing, vehicle, "", None), small=True,
                work=text.strip(), operations=[], family="", options={}, grade=2, state="waiting",
            )
        )  # fmt: skip
        phase = RoutePhase(
            phase="1", position=1.0, code="small", name=text.strip(), phase_kind="labour",
            phase_class="work", after="as before", book=book,
            estimate=figures_of(book, cautious=setting(doing.db, "cautious")),
        )  # fmt: skip
        doing.record(RouteChanged(job=job, cause="taken", options={}, added=[phase]))
        total = agree(doing, job, [phase.phase], by_the_book(doing, phase), Terms("time"))
        return _taken(doing, job, lift, total)


def promise(shop: Shop, by: By, *, job: str, at: datetime, chance: float | None = None) -> Done:
    """Write down what the customer was told.

    Raises:
        NoSuch: no such job.
        Refused: the instant lies in the past, or is what was promised already.
    """
    with acting(shop, by, "promise") as doing:
        row = live_job(doing, job)
        _refuse_past(doing, at)
        if row.promise == to_text(at):
            raise Refused(f"{job} is promised for that time already.")
        doing.record(Promised(job=job, promise=to_text(at), chance=chance))
        return doing.done(f"{job} is promised for {clock_time(at, doing.calendar)}.", job=job)


def close(shop: Shop, by: By, *, job: str) -> Done:
    """Close a job: done and handed over; its clocks count as confirmed.

    Raises:
        NoSuch: no such job.
        Refused: something of it is open, or a clock is left running; all of it is named.
    """
    with acting(shop, by) as doing:
        row = live_job(doing, job)
        doing.may("close small job" if row.small else "close job")
        refuse_open(doing, row, "closed")
        close_job(doing, job)
        return doing.done(f"{job} is closed.", job=job)


def mark_not_teaching(shop: Shop, by: By, *, job: str, phase: str | None, why: str) -> Done:
    """Keep a job, or one of its phases, out of what is learned.

    Raises:
        NoSuch: no such job.
        Refused: it is marked already.
    """
    with acting(shop, by, "mark as not teaching") as doing:
        job_row(doing.db, job)
        doing.change.job = job
        where = job if phase is None else f"{job}.{phase}"
        if phase is None:
            marked = doing.db.execute("select not_teaching from job where job = ?", [job])
        else:
            marked = doing.db.execute(
                "select not_teaching from phase where job = ? and phase = ?", [job, phase]
            )
        found = marked.fetchone()
        if found is None:
            raise Refused(f"{job} has no phase {phase}.")
        if found[0] is not None:
            raise Refused(f"{where} does not teach already: {found[0]}.")
        doing.record(NotTeaching(job=job, phase=phase, why=why))
        return doing.done(f"{where} does not teach: {why}.", job=job)
