"""The customer's word on work that was advised: declined, later, or agreed."""

from __future__ import annotations

import sqlite3
from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.calls import means_of
from store.actions.ceilings import refuse_over
from store.actions.jobs_now import (
    job_row,
    live_job,
    phase_row,
    record_estimate,
    refuse_workable_state,
)
from store.actions.privates import word_of
from store.actions.supplements import asked_for, raised
from store.actions.words import extra_words
from store.edges.events.end import AdviceAnswered
from store.edges.events.holds import Asked, Found, SupplementAnswered
from store.file.change import By
from store.file.route_now import phases_of
from store.file.shop import Shop
from store.trouble import Refused

Answer = Literal["declined", "later", "agreed"]


def answer_advice(
    shop: Shop,
    by: By,
    *,
    job: str,
    finding: int,
    answer: Answer,
    risk_told: bool = False,
    told_by: str | None = None,
    means: str | None = None,
    hours: float | None = None,
    phase: str | None = None,
) -> Done:
    """Write the customer's word on advice down; what is agreed becomes approved extra work.

    Declined or put off, it may be said after the hand-over too.

    Args:
        finding: the entry that advised it.
        risk_told: the customer was told what may come of leaving it.
        told_by: who gave the word; the customer where nobody is named.
        means: how it came.
        hours: that it takes, where it is agreed and the finding does not say them.
        phase: in which it is done, where that is another than it was found in.

    Raises:
        NoSuch: no such job or phase.
        Refused: it is no advice of this job, was answered so already, or cannot be done any more.
    """
    with acting(shop, by, "answer advice") as doing:
        advice = _advice(doing, job, finding)
        how = None if means is None else means_of(means)
        extra = None
        if answer == "agreed":
            extra = _extra(doing, job, advice, hours, phase)
        elif hours is not None or phase is not None:
            raise Refused("Hours and phase belong to advice that was agreed.")
        told = word_of(doing, job, told_by or "customer")
        doing.record(
            AdviceAnswered(
                job=job, finding=finding, answer=answer, risk_told=risk_told, by=told, means=how
            )
        )
        says = f"{job}: {advice['text']}: {answer}"
        if extra is not None:
            _take_along(doing, job, extra, told, how)
            asked = extra[1]
            says += f", {extra_words(asked.hours, asked.money)} (line {asked.line})"
        elif answer == "declined":
            says += ", the risk was told" if risk_told else ", and the risk was not told"
        return doing.done(f"{says}.", job=job)


def _advice(doing: Acting, job: str, finding: int) -> sqlite3.Row:
    job_row(doing.db, job)
    doing.change.job = job
    row: sqlite3.Row | None = doing.db.execute(
        "select finding.seq, phase, text, hours, answer from finding "
        "left join advice on advice.finding = finding.seq "
        "where finding.job = ? and finding.seq = ? and kind = 'advice' and not withdrawn",
        [job, finding],
    ).fetchone()
    if row is None:
        raise Refused(f"{job} has no such advice. See what was advised: hoistbook advice {job}.")
    if row["answer"] == "agreed":
        raise Refused(f"{row['text']} was agreed already: it is extra work of {job} by now.")
    return row


def _extra(
    doing: Acting, job: str, advice: sqlite3.Row, hours: float | None, phase: str | None
) -> tuple[str, Asked]:
    """The phase in which agreed advice is done, and the extra work that it becomes."""
    live_job(doing, job)
    row = phase_row(phases_of(doing.db, job), job, phase or advice["phase"])
    if row.state in ("finished", "skipped"):
        raise Refused(
            f"{job}.{row.phase} {row.name} is {row.state}. Say in which phase it is done: --phase."
        )
    refuse_workable_state(job, row)
    takes = hours if hours is not None else advice["hours"]
    if takes is None or not 0 < takes <= 1000:
        raise Refused(f"Say how many hours {advice['text']} takes: --hours H.")
    asked = asked_for(doing, job, advice["text"], takes, None)
    refuse_over(doing, job, asked.money or 0.0, None)
    return row.phase, asked


def _take_along(
    doing: Acting, job: str, extra: tuple[str, Asked], told: str | None, means: str | None
) -> None:
    """Report it as found and approved: from here on it is extra work like any other."""
    phase, asked = extra
    doing.record(
        Found(
            job=job, phase=phase, person=doing.person.person, finding="surprise", text=asked.text,
            hours=asked.hours, asked=asked,
        )
    )  # fmt: skip
    line = {"phase": phase, "hours": asked.hours}
    doing.record(
        SupplementAnswered(
            job=job, lines=[asked.line], answer="approved", by=told, means=means,
            raises=raised(doing, job, [line]),
        )
    )  # fmt: skip
    record_estimate(doing, job, f"extra work agreed: {asked.text}")
