"""What was agreed about closed jobs, when and why: hours of the whole job, and promises."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text
from store.sums.month.jobs import Cause, Change
from store.sums.scoring import HIGH, LOW

CHANGES = (
    "select job, seq, at, middle_h, cautious_h, cause, agreed_seq, (select group_concat(kind) from "
    "ledger where ledger.seq between (select max(seq) from entry where entry.seq <= "
    "estimate_change.seq) and estimate_change.seq) as kinds from estimate_change "
    "join job using (job) where job.state = 'closed' and closed_at < ? and closed_at >= ? "
    "order by seq"
)
"""With the kinds of entries of the same act: they tell the cause, whatever its words are."""
READY = (
    "coalesce((select max(phase.finished_at) from phase where phase.job = job.job "
    "and phase.state = 'finished'), job.finished_at)"
)
"""When a job's work was done: its last phase. `job.finished_at` moves on with a vehicle that is
driven off its lift afterwards."""
PROMISED = (
    f"select job, at, promised.promise, chance, {READY} as ready_at "
    "from promised join job using (job) "
    "where job.state = 'closed' and closed_at < ? and closed_at >= ? and not coalesce((select "
    "undone from entry where entry.seq <= promised.seq order by entry.seq desc limit 1), 0) "
    "order by promised.seq"
)
RANGES = (
    "select estimate.job, content ->> '$.total.quantiles' from job join estimate "
    "on estimate.seq = agreed_seq where job.state = 'closed' and closed_at < ? "
    "and closed_at >= ?"
)
"""Of the whole job as it was agreed, the book's range as well as what was learned; a check that
was sold alone is none of it."""
MIDDLE = 9
"""Place of .5 among the 19 quantiles."""
EXTRA = frozenset({"supplement-answered", "answer-taken-back"})
ROUTE = "route-changed"
AGREED = "estimate-agreed"


@dataclass(frozen=True, slots=True)
class Agreed:
    """Hours as agreed: what was frozen, and every change after it; the frozen figure first."""

    changes: tuple[Change, ...]

    def added(self, cause: Cause) -> float:
        """Middle hours that changes of a cause added after the agreement."""
        return sum(one.added_h for one in self.changes[1:] if one.cause == cause)


@dataclass(frozen=True, slots=True)
class Told:
    """What the customer was told: first, and last before the work was finished.

    Attributes:
        last: None where it was taken back. `chance`: at which the last was given.
    """

    first: datetime | None
    last: datetime | None
    chance: float | None


def agreed_in(db: sqlite3.Connection, span: tuple[str, str]) -> dict[str, Agreed]:
    """Return what was agreed about each job that was closed in a time, its end given first; one
    query.

    What stood before the agreement that counts (the check sold alone, an earlier agreement) is
    part of that agreement and left out.
    """
    found: dict[str, list[Change]] = defaultdict(list)
    for row in db.execute(CHANGES, span):
        if row["agreed_seq"] is None or row["seq"] < row["agreed_seq"]:
            continue
        before = found[row["job"]]
        added = row["middle_h"] - (before[-1].middle_h if before else 0.0)
        before.append(
            Change(
                row["seq"], from_text(row["at"]), cause_of(row["kinds"].split(",")), row["cause"],
                row["middle_h"], row["cautious_h"], added,
            )
        )  # fmt: skip
    return {job: Agreed(tuple(changes)) for job, changes in found.items()}


def ranges_in(db: sqlite3.Connection, span: tuple[str, str]) -> dict[str, tuple[float, ...]]:
    """Return the 19 quantiles of each job that was closed in a time; one query.

    Hours that were agreed as one figure without a spread are no range, and left out.
    """
    told = ((job, tuple(json.loads(content))) for job, content in db.execute(RANGES, span))
    return {job: quantiles for job, quantiles in told if quantiles[LOW] < quantiles[HIGH]}


def moved(quantiles: tuple[float, ...] | None, middle_h: float | None) -> tuple[float, ...] | None:
    """Return quantiles moved to the middle that is agreed now, never below 0."""
    if quantiles is None or middle_h is None:
        return None
    by = middle_h - quantiles[MIDDLE]
    return tuple(max(0.0, one + by) for one in quantiles)


def cause_of(kinds: list[str]) -> Cause:
    """Return why hours changed, by the entries of the act that changed them.

    Extra work that leads to another route is extra work: the customer agreed to it.
    """
    if EXTRA & set(kinds):
        return "supplement"
    if AGREED in kinds:
        return "agreed"
    return "route" if ROUTE in kinds else "other"


def told_in(db: sqlite3.Connection, span: tuple[str, str]) -> dict[str, Told]:
    """Return what customers were told about jobs closed in a time; one query.

    A promise that was taken back at once counts as never given; one given when the work was
    finished already is none.
    """
    found: dict[str, Told] = {}
    for job, at, promise, chance, ready in db.execute(PROMISED, span):
        if ready is not None and at > ready:
            continue
        last = from_text(promise) if promise is not None else None
        first = found[job].first if job in found else None
        found[job] = Told(first or last, last, chance)
    return found
