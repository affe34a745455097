"""Lifts of an owner's month: who stood on them, and when they were out of service."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime

from store.edges.instants import from_text, to_text
from store.sums.month.span import MonthSpan
from store.sums.spans import Stretch

LIFTS = "select place, code from place where kind = 'lift' order by position"
TOLD = (
    "select kind, payload ->> '$.place' as place, happened_at from ledger "
    "where kind in ('place-added', 'lift-withdrawn', 'lift-returned') and happened_at < ? "
    "order by seq"
)
STAYS = (
    "select stay.seq, stay.job, place, since, until, work from stay join job using (job) "
    "where part = 'body' and since < ? and coalesce(until, '9') > ? order by since, stay.seq"
)


@dataclass(frozen=True, slots=True)
class StayIn:
    """A vehicle on a lift for some time of a month."""

    seq: int
    job: str
    work: str
    stretch: Stretch


@dataclass(slots=True)
class LiftIn:
    """A lift in a month. `here`: from when it was there; `out`: when it was out of service."""

    code: str
    here: Stretch
    out: list[Stretch] = field(default_factory=list[Stretch])
    stays: list[StayIn] = field(default_factory=list[StayIn])


def lifts_in(
    db: sqlite3.Connection, span: MonthSpan, gone: dict[str, tuple[datetime, int]]
) -> list[LiftIn]:
    """Return the lifts that there were by a month's end, in the shop's order; three queries.

    Args:
        gone: when jobs were declined: their vehicles stand there no longer.
    """
    lo, hi = span.since.timestamp(), span.until.timestamp()
    told: dict[str, list[tuple[str, float]]] = defaultdict(list)
    for kind, place, at in db.execute(TOLD, [to_text(span.until)]):
        told[place].append((kind, from_text(at).timestamp()))
    found: dict[str, LiftIn] = {}
    for place, code in db.execute(LIFTS):
        added = [at for kind, at in told[place] if kind == "place-added"]
        if added:
            found[place] = LiftIn(code, (max(lo, added[0]), hi), _out(told[place], hi))
    for row in db.execute(STAYS, [to_text(span.until), to_text(span.since)]):
        lift = found.get(row["place"])
        if lift is not None:
            until = from_text(row["until"]).timestamp() if row["until"] else hi
            if row["job"] in gone:
                until = min(until, gone[row["job"]][0].timestamp())
            stretch = (max(lo, from_text(row["since"]).timestamp()), min(hi, until))
            lift.stays.append(StayIn(row["seq"], row["job"], row["work"], stretch))
    return list(found.values())


def _out(told: list[tuple[str, float]], hi: float) -> list[Stretch]:
    """When a lift was out of service, by what was said of it in order."""
    found: list[Stretch] = []
    since: float | None = None
    for kind, at in told:
        if kind == "lift-withdrawn" and since is None:
            since = at
        elif kind == "lift-returned" and since is not None:
            found.append((since, at))
            since = None
    return found if since is None else [*found, (since, hi)]
