"""Who outside the shop gave a word: said in the ledger by an id, in words beside it."""

from __future__ import annotations

from store.actions.acting import Acting
from store.edges.events.desk import CustomerOfJob
from store.edges.events.jobs import CustomerKnown
from store.file.ledger import Row
from store.file.privates import THE_CUSTOMER, Customer, customer_of, keep_word
from store.trouble import Refused

OWN = frozenset({THE_CUSTOMER, "customer"})
OF_WORDS = frozenset({"customer-known", "customer-of-job"})
"""Kinds of event that may come before the word itself, so that its words have an owner."""


def word_of(doing: Acting, job: str, text: str | None) -> str | None:
    """Return how an event says who gave a word; the name itself is kept outside the ledger.

    A job that has no customer yet, or whose customer was erased, gets one under a fresh id, so
    that an erasure finds the word. Call it where nothing can refuse the act any more.

    Args:
        text: as it was typed; None or blank is not said.
    """
    said = " ".join((text or "").split())
    if not said:
        return None
    if said.casefold() in OWN:
        return THE_CUSTOMER
    return keep_word(doing.db, _owner(doing, job), said, doing.change.new_id)


def _owner(doing: Acting, job: str) -> Customer:
    known = customer_of(doing.db, job)
    if known is not None and not _erased(doing, known):
        return known
    fresh = Customer(doing.change.new_id("c"), None, None)
    doing.record(CustomerKnown(customer=fresh.customer))
    doing.record(CustomerOfJob(job=job, customer=fresh.customer))
    return fresh


def _erased(doing: Acting, known: Customer) -> bool:
    row = doing.db.execute(
        "select erased_at from customer where customer = ?", [known.customer]
    ).fetchone()
    return row is not None and row[0] is not None


def customer_stays(doing: Acting, row: Row, event: CustomerOfJob) -> None:
    """Let a customer stay known whose word is taken back; alone, it is no entry to take back.

    Raises:
        Refused: whose vehicle it is was all that the entry said.
    """
    kinds = doing.db.execute(
        "select kind from ledger where seq between (select seq from entry where ?1 between seq "
        "and last) and (select last from entry where ?1 between seq and last)",
        [row.seq],
    )
    if {one[0] for one in kinds} <= OF_WORDS:
        raise Refused(
            f"Whose vehicle {event.job} is about stays on record. Name another customer instead."
        )
