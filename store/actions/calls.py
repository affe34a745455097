"""Attempts to reach the customer: when, by what means, what came of it."""

from __future__ import annotations

from datetime import datetime, timedelta

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import job_row
from store.actions.words import clock_time
from store.edges.events.desk import CallTried, DeskTakenBack
from store.edges.instants import to_text
from store.file.change import By
from store.file.ledger import Row
from store.file.shop import Shop
from store.trouble import Refused

MEANS = ("telephone", "text message", "e-mail", "letter", "in person")
"""The usual ones; any other is taken in one's own words."""
LONGEST = timedelta(days=366)
"""Trying again farther ahead is a slip of the fingers."""


def note_call(
    shop: Shop,
    by: By,
    *,
    job: str,
    means: str,
    reached: bool,
    text: str | None = None,
    again: datetime | None = None,
) -> Done:
    """Write down that somebody tried to reach the customer, whatever the job's state.

    Args:
        means: one of `MEANS`, or own words.
        text: what was said, or left.
        again: when to try again.

    Raises:
        NoSuch: no such job.
        Refused: no means, or a time to try again that has been or lies years ahead.
    """
    with acting(shop, by, "note call") as doing:
        job_row(doing.db, job)
        doing.change.job = job
        how = means_of(means)
        _refuse_again(doing, again)
        doing.record(
            CallTried(
                job=job, means=how, reached=reached, text=text or None,
                again=None if again is None else to_text(again),
            )
        )  # fmt: skip
        return doing.done(_says(doing, job, how, reached, again), job=job)


def means_of(text: str) -> str:
    """Return a way of reaching somebody as it is written down.

    Raises:
        Refused: none was said.
    """
    said = " ".join(text.split())
    if not said:
        raise Refused(f"Say by what means: {', '.join(MEANS)}, or in your own words.")
    return next((one for one in MEANS if one == said.casefold()), said)


def _refuse_again(doing: Acting, again: datetime | None) -> None:
    if again is not None and again <= doing.at:
        raise Refused("The time to try again has been. Give a later one, or leave it out.")
    if again is not None and again > doing.at + LONGEST:
        raise Refused("The time to try again lies far ahead. Check the year, or leave it out.")


def _says(doing: Acting, job: str, means: str, reached: bool, again: datetime | None) -> str:
    got = "reached" if reached else "not reached"
    later = f" Again {clock_time(again, doing.calendar)}." if again is not None else ""
    return f"{job}: {got}, {means}.{later}"


def call_gone(doing: Acting, row: Row, event: CallTried) -> None:
    """Take an attempt back; it stays on record as withdrawn."""
    doing.record(DeskTakenBack(job=event.job, entry=row.seq))
