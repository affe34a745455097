"""What a card says of people and firms outside the shop, out of an open look."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from datetime import date, datetime
from typing import cast

from store.edges.instants import from_text
from store.file.job_money import reckoned, terms_of
from store.file.privates import said_by
from store.file.shop import Shop
from store.sums.job_money import cents, over
from store.views.outside_values import (
    AdviceAnswer,
    AdviceLine,
    CallLine,
    JobMoney,
    OutworkLine,
    UsedMoney,
)

OUTWORK = (
    "select outwork.job, label, outwork.phase, phase.name, what, firm, sent_at, promised_now, "
    "chase, said, coalesce(charged, price) as price, back_at, report, readings, "
    "back_at is null and phase.state = 'under way' and sent_at >= begun_at as away "
    "from outwork join phase using (job, phase) join job using (job) join vehicle using (vehicle) "
)


def calls(db: sqlite3.Connection, job: str) -> tuple[CallLine, ...]:
    """Return the attempts to reach a job's customer, oldest first."""
    return tuple(
        _call(row)
        for row in db.execute(
            "select at, name, means, reached, text, again from call "
            "join person on person.person = call.by where job = ? and not withdrawn "
            "order by at, seq",
            [job],
        )
    )  # fmt: skip


def last_calls(db: sqlite3.Connection, jobs: Sequence[str]) -> dict[str, CallLine]:
    """Return the newest attempt to reach the customer of each of some jobs: one query."""
    marks = ", ".join("?" * len(jobs))
    rows = db.execute(
        "select call.job, at, name, means, reached, text, again from call "
        f"join person on person.person = call.by where call.job in ({marks}) and not withdrawn "
        "order by at, seq",
        list(jobs),
    )
    return {row["job"]: _call(row) for row in rows}


def _call(row: sqlite3.Row) -> CallLine:
    return CallLine(
        from_text(row["at"]), row["name"], row["means"], bool(row["reached"]), row["text"],
        _maybe(row["again"]),
    )  # fmt: skip


def _maybe(text: str | None) -> datetime | None:
    return None if text is None else from_text(text)


def outwork(db: sqlite3.Connection, jobs: Sequence[str]) -> tuple[OutworkLine, ...]:
    """Return the work of jobs at other firms, as it was sent."""
    marks = ", ".join("?" * len(jobs))
    return _lines(db, OUTWORK + f"where outwork.job in ({marks}) order by seq", jobs)


def away(shop: Shop) -> tuple[OutworkLine, ...]:
    """Return everything that is away, what is promised first first.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        return _lines(db, OUTWORK + "where away order by promised_now is null, promised_now, seq")


def away_of(db: sqlite3.Connection, jobs: Sequence[str]) -> tuple[OutworkLine, ...]:
    """Return what of some jobs is away, one query for all of them."""
    marks = ", ".join("?" * len(jobs))
    return _lines(db, OUTWORK + f"where outwork.job in ({marks}) and away order by seq", jobs)


def _lines(db: sqlite3.Connection, sql: str, values: Sequence[str] = ()) -> tuple[OutworkLine, ...]:
    return tuple(
        OutworkLine(
            row["job"], row["label"], row["phase"], row["name"], row["what"], row["firm"],
            from_text(row["sent_at"]), _maybe(row["promised_now"]),
            date.fromisoformat(row["chase"]) if row["chase"] else None, row["said"], row["price"],
            _maybe(row["back_at"]), row["report"], tuple(json.loads(row["readings"]).items()),
            bool(row["away"]),
        )
        for row in db.execute(sql, list(values))
    )  # fmt: skip


def advice(db: sqlite3.Connection, job: str) -> tuple[AdviceLine, ...]:
    """Return what was advised on a job, oldest first, with the newest word on each."""
    rows = db.execute(
        "select finding.seq, phase, text, hours, finding.at, name, answer, advice.at as answered, "
        "risk_told, advice.by, means from finding "
        "join person on person.person = finding.by "
        "left join advice on advice.finding = finding.seq "
        "where finding.job = ? and kind = 'advice' and not withdrawn order by finding.seq",
        [job],
    )
    return tuple(_advice(db, n, row) for n, row in enumerate(rows, 1))


def _advice(db: sqlite3.Connection, line: int, row: sqlite3.Row) -> AdviceLine:
    known = AdviceLine(
        line, row["seq"], row["phase"], row["text"], row["hours"], from_text(row["at"]), row["name"]
    )
    if row["answer"] is None:
        return known
    return AdviceLine(
        known.line, known.finding, known.phase, known.text, known.hours, known.at, known.who,
        cast("AdviceAnswer", row["answer"]), _maybe(row["answered"]), bool(row["risk_told"]),
        said_by(db, row["by"]), row["means"],
    )  # fmt: skip


def advised(shop: Shop, job: str) -> tuple[AdviceLine, ...]:
    """Return what was advised on a job.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        return advice(db, job)


def money(db: sqlite3.Connection, job: str, now: datetime) -> JobMoney:
    """Return what was agreed about a job's money, and how far it is."""
    terms, found = terms_of(db, job), reckoned(db, job, now)
    used = found.used
    expected = found.expected
    fixed = terms.basis == "fixed price" and terms.agreed is not None
    limit = terms.ceiling if terms.basis == "ceiling" else None
    known = used.total + found.still if expected is None else expected[0]
    return JobMoney(
        terms.basis, terms.agreed, cents(terms.extras),
        cents((terms.agreed or 0.0) + terms.extras) if fixed else None, limit,
        UsedMoney(
            cents(used.labour), cents(used.outwork), cents(used.parts), cents(used.extra),
            cents(used.total),
        ),
        None if expected is None else (cents(expected[0]), cents(expected[1])),
        0.0 if limit is None else over(limit, known), terms.free_hand, terms.free,
    )  # fmt: skip
