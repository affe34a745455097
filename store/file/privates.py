"""What is known of people outside the shop: kept beside the ledger, which has random ids only."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass

THE_CUSTOMER = "the customer"
"""How the ledger calls a job's own customer where it says who gave a word."""
WORD = re.compile(r"w-[0-9a-f]{8,32}")
ERASED = "somebody whose name was erased"


@dataclass(frozen=True, slots=True)
class Customer:
    """A customer's name and telephone; both None once they were erased."""

    customer: str
    name: str | None
    telephone: str | None


def keep_customer(db: sqlite3.Connection, customer: str, name: str, telephone: str) -> None:
    """Keep, or put right, a name and a telephone outside the ledger."""
    _leave_no_bytes(db)
    db.execute(
        "insert into customer_private values (?, ?, ?) on conflict (customer) do update set "
        "name = excluded.name, telephone = excluded.telephone",
        (customer, name, telephone),
    )


def customer_of(db: sqlite3.Connection, job: str) -> Customer | None:
    """Return a job's customer; None where none is known."""
    row = db.execute(
        "select job.customer, name, telephone from job left join customer_private "
        "on customer_private.customer = job.customer where job = ? and job.customer is not null",
        [job],
    ).fetchone()
    return None if row is None else Customer(*row)


def keep_word(
    db: sqlite3.Connection, customer: Customer, text: str, new_id: Callable[[str], str]
) -> str:
    """Return how the ledger may say who gave a word: the customer, or an id of the kept words.

    Args:
        new_id: makes an id of a kind, like `Change.new_id`.
    """
    said = text.strip()
    own = {THE_CUSTOMER, "customer", (customer.name or "").casefold()}
    if said.casefold() in own:
        return THE_CUSTOMER
    row = db.execute(
        "select word from private_word where customer = ? and text = ?", [customer.customer, said]
    ).fetchone()
    if row is not None:
        return str(row[0])
    word = new_id("w")
    _leave_no_bytes(db)
    db.execute("insert into private_word values (?, ?, ?)", (word, customer.customer, said))
    return word


def said_by(db: sqlite3.Connection, text: str | None) -> str | None:
    """Return who gave a word as people read it; what was erased is said to be."""
    if text is None or WORD.fullmatch(text) is None:
        return text
    row = db.execute("select text from private_word where word = ?", [text]).fetchone()
    return ERASED if row is None else str(row[0])


def move_words(db: sqlite3.Connection, before: str, customer: str) -> None:
    """Give the words of one id to another, who turned out to be the same person."""
    _leave_no_bytes(db)
    db.execute("update private_word set customer = ? where customer = ?", (customer, before))


def erase(db: sqlite3.Connection, customer: str) -> None:
    """Delete all that is kept of a customer, its bytes in the file's pages too.

    The side file is emptied after the commit (`Shop.settle`).
    """
    _leave_no_bytes(db)
    db.execute("delete from customer_private where customer = ?", [customer])
    db.execute("delete from private_word where customer = ?", [customer])


def _leave_no_bytes(db: sqlite3.Connection) -> None:
    """What is deleted or replaced from now on is overwritten with zeros, freed pages too."""
    db.execute("pragma secure_delete = on").fetchone()
