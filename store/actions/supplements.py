"""The customer's word on extra work, line by line, within what was agreed about money."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any, Literal

from store.actions.acting import Acting, Done, acting
from store.actions.ceilings import ceiling_with, refuse_over, refuse_over_free_hand
from store.actions.jobs_now import live_job, record_estimate
from store.actions.privates import word_of
from store.edges.events.holds import AnswerNoted, Asked, Raised, Released, SupplementAnswered
from store.edges.events.route import Figures
from store.file.change import By
from store.file.facts import rate_on
from store.file.job_money import AHEAD
from store.file.privates import THE_CUSTOMER, said_by
from store.file.route_now import phases_of
from store.file.shop import Shop
from store.trouble import Refused


def asked_for(doing: Acting, job: str, text: str, hours: float, money: float | None) -> Asked:
    """Return the next line of extra work; its money is its hours x rate where none is said."""
    if money is not None and not 0 <= money <= 1e9:
        raise Refused("The money of extra work is 0 or more.")
    line = doing.db.execute(
        "select coalesce(max(line), 0) + 1 from supplement where job = ?", [job]
    ).fetchone()[0]
    rate = rate_on(doing.db, doing.today)
    usual = None if rate is None else round(rate * hours, 2)
    return Asked(line=line, text=text, hours=hours, money=usual if money is None else money)


def answer_supplement(
    shop: Shop,
    by: By,
    *,
    job: str,
    approve: bool,
    lines: Sequence[int] = (),
    told_by: str | None = None,
    means: str | None = None,
    ceiling: float | None = None,
) -> Done:
    """Write the customer's word on extra work down.

    Args:
        lines: all lines that were asked where none is named.
        told_by: who gave the word.
        means: how: telephone, in person, in writing; `AHEAD` where it was given beforehand, for
            extra work within the free hand: nobody is called then.
        ceiling: a new one that was agreed with it.

    Raises:
        NoSuch: no such job.
        Refused: no such line waits for an answer; it passes the ceiling, or the free hand.
    """
    with acting(shop, by, "answer supplement") as doing:
        live_job(doing, job)
        rows = _waiting_lines(doing, job, lines)
        if approve:
            _refuse_money(doing, job, rows, means, ceiling)
        elif means == AHEAD or ceiling is not None:
            raise Refused("What is refused was not agreed ahead and moves no ceiling.")
        raises = raised(doing, job, rows) if approve else []
        answer: Literal["approved", "refused"] = "approved" if approve else "refused"
        told = word_of(doing, job, told_by) or (THE_CUSTOMER if means == AHEAD else None)
        doing.record(
            SupplementAnswered(
                job=job, lines=[row["line"] for row in rows], answer=answer, by=told,
                means=means, raises=raises,
            )
        )  # fmt: skip
        if ceiling is not None:
            doing.record(ceiling_with(job, ceiling, told, means))
        if raises:
            record_estimate(doing, job, f"extra work agreed: {', '.join(r['text'] for r in rows)}")
        released = _release_answered(doing, job, rows)
        says = f"{job}: {answer}: {', '.join(row['text'] for row in rows)}."
        if released:
            says += f" {', '.join(released)} can go on."
        return doing.done(says, job=job)


def _refuse_money(
    doing: Acting,
    job: str,
    rows: Sequence[sqlite3.Row],
    means: str | None,
    ceiling: float | None,
) -> None:
    if means == AHEAD:
        refuse_over_free_hand(doing, job, [row["money"] for row in rows])
    refuse_over(doing, job, sum(row["money"] or 0.0 for row in rows), ceiling)


def note_answer(
    shop: Shop,
    by: By,
    *,
    job: str,
    lines: Sequence[int] = (),
    told_by: str | None = None,
    means: str | None = None,
) -> Done:
    """Say afterwards who gave the word on extra work and how it came; the answer stays.

    Args:
        lines: of the newest answer where none is named.

    Raises:
        NoSuch: no such job.
        Refused: no such line was answered, or it says so already.
    """
    with acting(shop, by, "answer supplement") as doing:
        live_job(doing, job)
        rows = _answered_lines(doing, job, lines)
        known = [(said_by(doing.db, row["answered_by"]), row["means"]) for row in rows]
        if all(one == (told_by, means) for one in known):
            raise Refused(f"{job}: the answer says so already. Nothing was changed.")
        numbers = [row["line"] for row in rows]
        if means == AHEAD:
            raise Refused("What was agreed ahead is said with the answer, not afterwards.")
        told = word_of(doing, job, told_by)
        doing.record(AnswerNoted(job=job, lines=numbers, by=told, means=means))
        how = ", ".join(filter(None, (told_by, means))) or "not said"
        return doing.done(f"{job}: the word on extra work came from: {how}.", job=job)


def _answered_lines(doing: Acting, job: str, lines: Sequence[int]) -> list[sqlite3.Row]:
    rows = doing.db.execute(
        "select line, answered_by, means, answered_at from supplement where job = ? and "
        "state in ('approved', 'refused') order by line",
        [job],
    ).fetchall()
    if not rows:
        raise Refused(f"{job} has no extra work that was answered.")
    newest = max(row["answered_at"] for row in rows)
    found = [r for r in rows if (r["line"] in lines if lines else r["answered_at"] == newest)]
    lacking = sorted(set(lines) - {row["line"] for row in found})
    if lacking:
        raise Refused(f"{job}: line {lacking[0]} was not answered yet.")
    return found


def _waiting_lines(doing: Acting, job: str, lines: Sequence[int]) -> list[sqlite3.Row]:
    rows = doing.db.execute(
        "select line, phase, text, hours, money, state from supplement where job = ? order by line",
        [job],
    ).fetchall()
    asked = [row for row in rows if row["state"] == "asked"]
    if not asked:
        raise Refused(f"{job} has no extra work that waits for an answer.")
    if not lines:
        return asked
    found = [row for row in asked if row["line"] in lines]
    lacking = sorted(set(lines) - {row["line"] for row in found})
    if lacking:
        there = ", ".join(str(row["line"]) for row in asked)
        raise Refused(f"{job}: line {lacking[0]} waits for no answer. Waiting are: {there}.")
    return found


def raised(
    doing: Acting, job: str, rows: Sequence[Mapping[str, Any] | sqlite3.Row], *, less: bool = False
) -> list[Raised]:
    """Return the estimates of phases with the hours of supplement lines added, or taken off."""
    sign = -1.0 if less else 1.0
    phases = {one.phase: one for one in phases_of(doing.db, job)}
    more: dict[str, float] = {}
    for row in rows:
        more[row["phase"]] = more.get(row["phase"], 0.0) + row["hours"]
    return [
        Raised(
            phase=phase,
            estimate=Figures(
                middle=round(phases[phase].middle_h + sign * hours, 6),
                cautious=round(phases[phase].cautious_h + sign * hours, 6),
                mean=round(phases[phase].mean_h + sign * hours, 6),
            ),
        )
        for phase, hours in more.items()
        if hours > 0
    ]


def _word_awaited(doing: Acting, job: str, phase: str | None) -> sqlite3.Row | None:
    row: sqlite3.Row | None = doing.db.execute(
        "select seq from hold where job = ? and phase is ? and reason = 'approval' "
        "and until is null",
        [job, phase],
    ).fetchone()
    return row


def _release_answered(doing: Acting, job: str, rows: Sequence[sqlite3.Row]) -> list[str]:
    released: list[str] = []
    for phase in dict.fromkeys(row["phase"] for row in rows):
        left = doing.db.execute(
            "select 1 from supplement where job = ? and phase = ? and state = 'asked'", [job, phase]
        ).fetchone()
        running = _word_awaited(doing, job, phase)
        if left is None and running is not None:
            doing.record(Released(hold=running["seq"]))
            released.append(f"{job}.{phase}")
    return released
