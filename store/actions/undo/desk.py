"""Acts of the desk taken back: a booked day, a quote, an answer to one, what a check came to."""

from __future__ import annotations

import json

from store.actions.acting import Acting
from store.edges.events.desk import (
    ArrivalBooked,
    CheckJudged,
    DeskTakenBack,
    QuoteAnswered,
    QuoteGiven,
)
from store.edges.events.jobs import StateChanged
from store.file.ledger import COLUMNS, Row
from store.trouble import Refused

STATES = ("job-opened", "state-changed", "placed")
"""Kinds of event that say a job's state."""
ENDED = ("declined", "turned-away")


def booking_gone(doing: Acting, row: Row, event: ArrivalBooked) -> None:
    """Let the day hold that was booked before, or none."""
    doing.record(DeskTakenBack(job=event.job, entry=row.seq))


def quote_gone(doing: Acting, row: Row, event: QuoteGiven) -> None:
    """Let the quote hold that this one followed.

    Raises:
        Refused: it was answered since.
    """
    state = doing.db.execute("select state from quote where seq = ?", [row.seq]).fetchone()
    if state is None or state["state"] != "open":
        raise Refused(f"Quote {event.quote} of {event.job} was answered since: that stays.")
    doing.record(DeskTakenBack(job=event.job, entry=row.seq))
    before = doing.db.execute(
        "select quote from quote where job = ? and state = 'followed' order by quote desc limit 1",
        [event.job],
    ).fetchone()
    if before is not None:
        doing.record(QuoteAnswered(job=event.job, quote=before["quote"], answer="open"))


def answer_gone(doing: Acting, row: Row, event: QuoteAnswered) -> None:
    """Let a quote be open again."""
    doing.record(QuoteAnswered(job=event.job, quote=event.quote, answer="open"))


def judgement_gone(doing: Acting, row: Row, event: CheckJudged) -> None:
    """Let hold what the check had come to before, or nothing."""
    before = _newest(doing, event.job, ("check-judged",), row.seq)
    if before is None:
        doing.record(CheckJudged(job=event.job, result=None))
    else:
        doing.record(before.event(), happened_at=before.happened_at)


def at_desk_again(doing: Acting, row: Row, event: StateChanged) -> None:
    """Put a job back to the state in which the desk had it before."""
    before = _newest(doing, event.job, STATES, row.seq)
    assert before is not None, "every job is opened"
    state = json.loads(before.payload)["state"]
    doing.record(StateChanged(job=event.job, state=state))


def ends_at_desk(row: Row) -> bool:
    """Tell whether a job was declined or turned away by this event."""
    return row.kind == "state-changed" and json.loads(row.payload)["state"] in ENDED


def _newest(doing: Acting, job: str, kinds: tuple[str, ...], before: int) -> Row | None:
    """The newest event of these kinds about a job before another one."""
    columns = ", ".join(f"ledger.{one.strip()}" for one in COLUMNS.split(","))
    found = doing.db.execute(
        f"select {columns} from entry cross join ledger "
        "on ledger.seq between entry.seq and entry.last "
        f"where entry.job = ? and kind in ({', '.join('?' * len(kinds))}) and ledger.seq < ? "
        "order by ledger.seq desc limit 1",
        [job, *kinds, before],
    ).fetchone()
    return None if found is None else Row(*found)
