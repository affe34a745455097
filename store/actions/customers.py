"""Customers: a random id in the ledger; name and telephone beside it, erasable."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import OVER, job_row
from store.actions.naming import refuse_named, told_already
from store.edges.events.desk import CustomerOfJob
from store.edges.events.jobs import CustomerErased, CustomerKnown
from store.file.change import By
from store.file.privates import (
    Customer,
    customer_of,
    erase,
    keep_customer,
    move_words,
)
from store.file.shop import Shop
from store.trouble import Refused

LONGEST = 200


class Caller(NamedTuple):
    """Somebody outside the shop, as they said who they are."""

    name: str
    telephone: str = ""


def know_customer(shop: Shop, by: By, *, job: str, name: str, telephone: str = "") -> Done:
    """Say whose vehicle a job is about, or put the name or number right.

    The same name and number again is the same customer.

    Raises:
        NoSuch: no such job.
        Refused: there is no name, or it is known so already.
    """
    with acting(shop, by, "know customer") as doing:
        job_row(doing.db, job)
        doing.change.job = job
        take_customer(doing, job, (name, telephone))
        says = f"{job} has its customer; the ledger knows an id only."
        told = told_already(doing.db, job, name, telephone)
        if told:
            listed = ", ".join(map(str, told))
            says += f" The name stands in entry {listed} already, and stays there."
        return doing.done(says, job=job)


def take_customer(doing: Acting, job: str, customer: Sequence[str]) -> str:
    """Keep whose vehicle a job is about; return the id.

    Args:
        customer: name and telephone; the second may be empty.

    Raises:
        Refused: there is no name, or nothing is new.
    """
    caller = caller_of(customer)
    now = customer_of(doing.db, job)
    if now is not None and (now.name, now.telephone) == caller:
        raise Refused(f"{job} has that customer already. Nothing was changed.")
    known = _known(doing, caller)
    if known is None and now is not None and _to_put_right(now, caller):
        known = now.customer
    if known is None:
        known = doing.change.new_id("c")
        doing.record(CustomerKnown(customer=known))
    keep_customer(doing.db, known, caller.name, caller.telephone)
    if now is not None and now.name is None and now.customer != known:
        move_words(doing.db, now.customer, known)
    doing.record(CustomerOfJob(job=job, customer=known))
    return known


def caller_of(customer: Sequence[str]) -> Caller:
    """Return a name and a telephone as they are kept.

    Raises:
        Refused: there is no name; one of them is no single line; or they are too long.
    """
    name, telephone = ([*customer, ""])[:2]
    found = Caller(" ".join(name.split()), " ".join(telephone.split()))
    if not found.name:
        raise Refused("Say the customer's name.")
    if max(map(len, found)) > LONGEST or not all(one.isprintable() for one in found):
        raise Refused("A name and a number are one line of at most 200 signs. Type them anew.")
    return found


def refuse_to_name(customer: Sequence[str], vehicle: str, complaint: str | None) -> None:
    """Refuse what opens a job where it names its customer.

    Raises:
        NamesCustomer: saying which of the two.
        Refused: there is no name.
    """
    caller = caller_of(customer)
    refuse_named([("complaint", complaint), ("vehicle", vehicle)], caller.name, caller.telephone)


def _known(doing: Acting, caller: Caller) -> str | None:
    """The same name and number: the same person."""
    for row in doing.db.execute("select customer, name, telephone from customer_private"):
        if row["name"].casefold() == caller.name.casefold() and _same_number(
            row["telephone"], caller.telephone
        ):
            return str(row["customer"])
    return None


def _same_number(one: str, other: str) -> bool:
    return [s for s in one if s.isdecimal()] == [s for s in other if s.isdecimal()]


def _to_put_right(now: Customer, caller: Caller) -> bool:
    """Nobody was named yet, or one of the two is as it was."""
    if now.name is None:
        return True
    return now.name.casefold() == caller.name.casefold() or (
        bool(caller.telephone) and _same_number(now.telephone or "", caller.telephone)
    )


def erase_customer(shop: Shop, by: By, *, customer: str) -> Done:
    """Erase all that is kept of a customer; the technical record stays.

    Afterwards no byte of name, number or words about them is in the file or beside it.

    Raises:
        Refused: no such customer, erased already, or a job of theirs is open.
    """
    try:
        with acting(shop, by, "erase customer") as doing:
            _refuse_unerasable(doing, customer)
            erase(doing.db, customer)
            doing.record(CustomerErased(customer=customer))
            done = doing.done("Name and telephone were erased.")
    except Refused:
        shop.settle()  # whoever erased may have been killed before this was done
        raise
    if shop.settle():
        return done
    says = f"{done.says} Another terminal reads the file just now: a copy made before it has "
    return Done(done.recorded, None, f"{says}looked again may still hold them.")


def _refuse_unerasable(doing: Acting, customer: str) -> None:
    row = doing.db.execute(
        "select erased_at from customer where customer = ?", [customer]
    ).fetchone()
    if row is None or row["erased_at"] is not None:
        raise Refused(f"There is nothing kept of customer {customer}.")
    marks = ", ".join("?" * len(OVER))
    open_job = doing.db.execute(
        f"select job, state from job where customer = ? and state not in ({marks}) order by number",
        [customer, *OVER],
    ).fetchone()
    if open_job is not None:
        raise Refused(
            f"{open_job['job']} of this customer is still open ({open_job['state']}). Close it, "
            "or turn it away, then erase."
        )


def customer_id(shop: Shop, job: str) -> str:
    """Return the id of a job's customer.

    Raises:
        NoSuch: no such job.
        Refused: nothing is known of one.
    """
    with shop.reading() as db:
        job_row(db, job)
        known = customer_of(db, job)
    if known is None:
        raise Refused(f"{job} has no customer on record.")
    return known.customer
