"""The customer's word: in whole or part, by whom, by what means; the estimate is frozen."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from store.actions.acting import Acting, Done, acting
from store.actions.agreeing import Basis, Terms, WorkedOut, agree, hours_of, stated, worked_out
from store.actions.desk.quote import refuse_failed, refuse_terms
from store.actions.desk.work import open_job, record_work
from store.actions.jobs_now import JobRow, job_row
from store.actions.parts import list_renewed
from store.actions.privates import word_of
from store.actions.route_change import has_ended, record_change
from store.actions.route_laying import Change, compare, route_now_of
from store.actions.words import hours_words
from store.edges.events.jobs import Promised, StateChanged
from store.edges.events.route import AnsweredAhead
from store.edges.instants import to_text
from store.file.books import book_of
from store.file.change import By
from store.file.facts import setting
from store.file.learned.new_work import Estimated, Work
from store.file.route_now import phases_of
from store.file.shop import Shop
from store.rules import routes
from store.trouble import Refused

CAUSE = "agreed"


@dataclass(frozen=True, slots=True)
class Word:
    """What was agreed, as it was typed. See `agree`."""

    basis: Basis
    ceiling: float | None
    said_by: str
    means: str
    quote: int | None
    operations: Sequence[str] | None
    ahead: Sequence[AnsweredAhead]
    free_hand: float | None


def agree_job(
    shop: Shop,
    by: By,
    *,
    job: str,
    basis: Basis,
    said_by: str,
    means: str,
    ceiling: float | None = None,
    quote: int | None = None,
    operations: Sequence[str] | None = None,
    ahead: Sequence[AnsweredAhead] = (),
    free_hand: float | None = None,
    promise: datetime | None = None,
    chance: float | None = None,
    told: WorkedOut | None = None,
) -> Done:
    """Write the customer's word down: the rest of the route is laid, the estimate frozen.

    Args:
        basis: who pays an overrun: `fixed price`, `ceiling` or `time`.
        said_by: who gave the word; a name is kept outside the ledger.
        means: how it came: telephone, in person, in writing.
        ceiling: the most that the customer pays, with the basis `ceiling`.
        quote: number of the quote that is agreed to; None is the newest that is open.
        operations: codes of what is agreed, where it is a part (or more) of what was quoted.
        ahead: answers to what may turn up, given in advance.
        free_hand: money up to which extra work needs no call.
        promise, chance: what the customer was told, and the chance it was chosen at.
        told: hours worked out and shown a moment ago, which are the ones that are frozen where
            the route is still the same; None has them worked out now.

    Raises:
        NoSuch: no such job or quote.
        Refused: nobody gave the word, or nobody knows how; the check failed; a ceiling lacks; the
            work or the family is not chosen; the promise is past; it is agreed already.
    """
    word = Word(
        basis, ceiling, " ".join(said_by.split()), " ".join(means.split()), quote, operations,
        ahead, free_hand,
    )  # fmt: skip
    before = told or _worked_out(shop, by.at or by.now, job, operations)
    with acting(shop, by, "take job") as doing:
        row = open_job(doing, job)
        _refuse_word(doing, row, word, promise)
        number = _quote(doing, row, word)
        left_out = _choose(doing, row, word, number)
        hours, numbers = _lay(doing, job, before)
        terms = Terms(
            basis, ceiling, word_of(doing, job, word.said_by), word.means, number, left_out,
            tuple(ahead), free_hand,
        )  # fmt: skip
        total = agree(doing, job, numbers, hours, terms)
        parts = list_renewed(doing, job)
        if promise is not None:
            doing.record(Promised(job=job, promise=to_text(promise), chance=chance))
        doing.record(StateChanged(job=job, state="on-lift" if _on_lift(doing, job) else "waiting"))
        says = f"{job} agreed: {hours_words(total.middle)}, cautious {hours_words(total.cautious)}."
        return doing.done(f"{says} {parts}" if parts else says, job=job)


def _worked_out(
    shop: Shop, now: datetime, job: str, operations: Sequence[str] | None
) -> WorkedOut | None:
    with shop.reading() as db:
        row = db.execute(
            "select operations, family, options, grade, version from job where job = ?", [job]
        ).fetchone()
    if row is None:
        return None
    own: dict[str, str] = json.loads(row["options"])
    return worked_out(
        shop, now,
        operations=json.loads(row["operations"]) if operations is None else operations,
        family=row["family"], options=own, grade=row["grade"], version=row["version"],
    )  # fmt: skip


def _refuse_word(doing: Acting, row: JobRow, word: Word, promise: datetime | None) -> None:
    if not word.said_by:
        raise Refused(f"Say who agreed to {row.job}: the customer, or a name.")
    if not word.means:
        raise Refused("Say how the word came: telephone, in person, in writing.")
    refuse_terms(doing, word.basis, word.ceiling, promise)
    refuse_failed(doing, row.job)
    if not row.family or (row.operations == "[]" and not word.operations):
        raise Refused(
            f"Say first what {row.job} is about, and the family: "
            f"hoistbook work {row.job} --operation CODE --family KEY."
        )
    if has_ended(doing, row.job):
        raise Refused(
            f"An answer in the check of {row.job} has ended this work. Choose other work first."
        )


def _quote(doing: Acting, row: JobRow, word: Word) -> int | None:
    """Number of the quote that is agreed to; None where none was given."""
    if word.quote is None:
        found = doing.db.execute(
            "select max(quote) from quote where job = ? and state in ('open', 'thinking')",
            [row.job],
        ).fetchone()[0]
        return None if found is None else int(found)
    there = doing.db.execute("select quote from quote where job = ?", [row.job]).fetchall()
    if word.quote not in {one[0] for one in there}:
        listed = ", ".join(str(one[0]) for one in there) or "none"
        raise Refused(f"{row.job} has no quote {word.quote}; it has {listed}.")
    return word.quote


def _choose(doing: Acting, row: JobRow, word: Word, quote: int | None) -> tuple[str, ...]:
    """Take what was agreed of what was quoted; return the names of what was left out."""
    before: list[str] = json.loads(row.operations)
    agreed = before if word.operations is None else list(word.operations)
    options: dict[str, str] = json.loads(row.options)
    if set(agreed) != set(before):
        record_work(doing, row, row.vehicle, agreed, row.family, _of(doing, row, agreed, options))
    offered = [*before, *_quoted(doing, row.job, quote)]
    book = book_of(doing.db, _version(job_row(doing.db, row.job)))
    return tuple(
        book.operations[code].name if code in book.operations else code
        for code in dict.fromkeys(offered)
        if code not in agreed
    )


def _of(
    doing: Acting, row: JobRow, agreed: Sequence[str], options: dict[str, str]
) -> dict[str, str]:
    """Those of the options that the agreed operations have."""
    if row.version is None:
        return {}
    book = book_of(doing.db, row.version)
    own = {option.code for one in routes.sold(book, agreed) for option in one.options}
    return {code: value for code, value in options.items() if code in own}


def _quoted(doing: Acting, job: str, quote: int | None) -> list[str]:
    """Operations of the planned way of a quote."""
    row: sqlite3.Row | None = doing.db.execute(
        "select ways from quote where job = ? and quote = ?", [job, quote]
    ).fetchone()
    return [] if row is None else list(json.loads(row["ways"])["ways"][0]["operations"])


def _version(row: JobRow) -> int:
    if row.version is None:
        raise Refused(f"Say first what {row.job} is about: hoistbook work {row.job}.")
    return row.version


def _lay(doing: Acting, job: str, before: WorkedOut | None) -> tuple[Estimated, list[str]]:
    """Lay the rest of the route behind the check; return its hours and the phases' numbers."""
    row = job_row(doing.db, job)
    operations: list[str] = json.loads(row.operations)
    version = _version(row)
    book = book_of(doing.db, version)
    known = routes.chosen(book, operations, json.loads(row.options))
    route = routes.lay(
        book, operations=operations, family=row.family, options=known, grade=row.grade
    )
    hours = hours_of(doing, before, route, Work("+".join(operations), row.family, row.grade))
    change = Change(cautious=setting(doing.db, "cautious"), grows=True)
    change.estimates = {
        one.phase.code: stated(line) for one, line in zip(route, hours.lines, strict=True)
    }
    phases = phases_of(doing.db, job)
    change.names = {one.phase: one.name for one in phases}
    compare(change, route_now_of(doing, job, phases), route, CAUSE)
    record_change(doing, job, change, change.event(job, version, known, CAUSE))
    by_code = {one.code: one.phase for one in phases_of(doing.db, job)}
    return hours, [by_code[one.phase.code] for one in route]


def _on_lift(doing: Acting, job: str) -> bool:
    found = doing.db.execute(
        "select 1 from job_place join place using (place) where job = ? and part = 'body' "
        "and kind = 'lift'",
        [job],
    ).fetchone()
    return found is not None
