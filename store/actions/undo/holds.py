"""Holds taken back and put on again, and words to and from the customer unsaid."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.jobs_now import record_estimate
from store.actions.supplements import raised
from store.actions.undo.phases import phase_now
from store.edges.events.holds import (
    AnswerTakenBack,
    FindingTakenBack,
    Found,
    Held,
    HoldTakenBack,
    Released,
    ReleaseTakenBack,
    SupplementAnswered,
)
from store.edges.events.jobs import Promised
from store.file.ledger import Row
from store.trouble import Refused


def hold_gone(doing: Acting, row: Row, event: Held) -> None:
    """Take a hold back, unless other extra work still waits under it.

    Raises:
        Refused: it is over, or its end was told anew.
    """
    hold = doing.db.execute(
        "select until, expected, expected_now from hold where seq = ?", [row.seq]
    ).fetchone()
    if hold is None or hold["until"] is not None:
        raise Refused("That hold is over by now: it stays on record.")
    if hold["expected"] != hold["expected_now"]:
        raise Refused("The hold's end was told anew since. Release it instead.")
    others = doing.db.execute(
        "select 1 from supplement where job = ? and phase is ? and state = 'asked' and finding > ?",
        [event.job, event.phase, row.seq],
    ).fetchone()
    if event.reason != "approval" or others is None:
        doing.record(HoldTakenBack(hold=row.seq))


def held_again(doing: Acting, row: Row, event: Released) -> None:
    """Put a released hold on again.

    Raises:
        Refused: the work has gone on since.
    """
    hold = doing.db.execute(
        "select job, phase, reason, until from hold where seq = ?", [event.hold]
    ).fetchone()
    working = doing.db.execute(
        "select name from clock join person using (person) where job = ?1 and "
        "(?2 is null or phase = ?2) and (until is null or until > ?3)",
        [hold["job"], hold["phase"], row.happened_at],
    ).fetchone()
    if working is not None:
        raise Refused(
            f"{working['name']} has worked on it since. Hold it anew with `hoistbook hold`."
        )
    again = doing.db.execute(
        "select 1 from hold where job = ? and phase is ? and reason = ? and until is null",
        [hold["job"], hold["phase"], hold["reason"]],
    ).fetchone()
    finished = hold["phase"] and phase_now(doing, hold["job"], hold["phase"]).state == "finished"
    if again is not None or finished:
        raise Refused("It has gone on since: the release stays.")
    doing.record(ReleaseTakenBack(hold=event.hold))


def finding_gone(doing: Acting, row: Row, event: Found) -> None:
    """Take a finding back.

    Raises:
        Refused: the customer has answered it.
    """
    answered = doing.db.execute(
        "select 1 from supplement where finding = ? and state in ('approved', 'refused')",
        [row.seq],
    ).fetchone()
    if answered is not None:
        raise Refused("The customer has answered that since: it stays.")
    doing.record(FindingTakenBack(finding=row.seq))


def answer_back(doing: Acting, row: Row, event: SupplementAnswered) -> None:
    """Let extra work wait for the customer's word again, approved hours taken off.

    Raises:
        Refused: it was answered anew since.
    """
    answered = doing.db.execute(
        "select line, phase, hours from supplement where job = ? and state = ? order by line",
        [event.job, event.answer],
    ).fetchall()
    lines = [one for one in answered if one["line"] in event.lines]
    if len(lines) < len(event.lines):
        raise Refused("That extra work was answered anew since: it stays.")
    raises = raised(doing, event.job, lines, less=True) if event.answer == "approved" else []
    doing.record(AnswerTakenBack(job=event.job, lines=list(event.lines), raises=raises))
    if raises:
        record_estimate(doing, event.job, "answer on extra work taken back")


def promise_back(doing: Acting, row: Row, event: Promised) -> None:
    """Promise what was promised before, or nothing.

    Raises:
        Refused: it was promised anew since.
    """
    told = doing.db.execute(
        "select seq, promise, chance from promised where job = ? order by seq desc limit 2",
        [event.job],
    ).fetchall()
    if told[0]["seq"] != row.seq:
        raise Refused(f"{event.job} was promised anew since: that stays.")
    before = told[1] if len(told) > 1 else None
    doing.record(
        Promised(
            job=event.job, promise=before["promise"] if before else None,
            chance=before["chance"] if before else None,
        )
    )  # fmt: skip
