"""All acts that are open to somebody at one moment of the file."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import datetime

from store.edges.instants import from_text
from store.file.open_acts.gathered import gathered
from store.file.open_acts.going import Gathered
from store.file.open_acts.on_jobs import acts_on
from store.file.open_acts.on_lifts import acts_on_lifts
from store.file.open_acts.on_line import acts_on_line
from store.file.open_acts.on_supply import acts_on_supply
from store.file.open_acts.people import able, named
from store.rules.acts import MINUTES, Act
from store.sums.clock_labour import counts_to


def open_acts(db: sqlite3.Connection, now: datetime) -> list[Act]:
    """Return what somebody could do now, in the order of the jobs; a fixed number of queries."""
    return all_acts(gathered(db, now))


def all_acts(every: Gathered) -> list[Act]:
    """Return the same out of what was read."""
    found = [act for going in every.jobs.values() for act in acts_on(every, going)]
    return [
        *found,
        *acts_on_lifts(every),
        *acts_on_supply(every),
        *_clocks(every),
        *acts_on_line(every),
    ]


def _clocks(every: Gathered) -> Iterator[Act]:
    """Clocks left running past their shift's end."""
    leads = able(every.people, "put right others")
    for seq, name, job, phase, reason, since in every.db.execute(
        "select clock.seq, name, job, phase, reason, since from clock join person using (person) "
        "where clock.until is null order by since"
    ):
        begun = from_text(since)
        end, left = counts_to(every.calendar, begun, every.now)
        if not left:
            continue
        where = reason if job is None else f"{job}.{phase}"
        badge = leads[0].badge if leads else None
        zone = every.calendar.zone
        yield Act(
            "clock", job, phase, None, None, None, badge, named(leads, "foreman or owner"), None,
            begun, MINUTES["clock"], f"{name}: left running on {where}",
            ("correct", str(seq), "--until", end.astimezone(zone).isoformat(timespec="seconds"),
             "--why", "left running", "--as", badge or "-BADGE"),
            line=str(seq),
        )  # fmt: skip
