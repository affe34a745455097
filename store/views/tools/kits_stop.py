"""Phases to come that may not be begun now, for a kit that is not at hand."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import datetime

from store.file.facts import calendar_of
from store.file.kits.lacking import lacking_kits
from store.file.kits.now import LIVE
from store.file.route_now import phases_of
from store.file.shop import Shop
from store.rules.kit_at_hand import all_words

WITH_KITS = (
    f"select job from job where {LIVE} and (?1 is null or job = ?1) and exists (select 1 "
    "from phase where phase.job = job.job and phase.state = 'to come' and phase.kits != '[]') "
    "order by +job"
)


@dataclass(frozen=True, slots=True)
class Stopped:
    """A phase that waits for a kit.

    Attributes:
        kits, names: codes and names of the kits that lack.
        says: which, and where each is.
    """

    job: str
    phase: str
    name: str
    kits: tuple[str, ...]
    names: tuple[str, ...]
    says: str


def stopped_phases(shop: Shop, now: datetime, job: str | None = None) -> tuple[Stopped, ...]:
    """Return the phases that no foreman has let begin without their kits, in the order of jobs.

    Args:
        job: of which job; None: of all that go on.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        return tuple(_stopped(db, now, job))


def _stopped(db: sqlite3.Connection, now: datetime, job: str | None) -> list[Stopped]:
    calendar = calendar_of(db)
    jobs = [row["job"] for row in db.execute(WITH_KITS, [job])]
    routes = {one: phases_of(db, one) for one in jobs}
    lacking = lacking_kits(db, routes, calendar.day_of(now))
    return [
        Stopped(
            number, one.phase, one.name, tuple(kit.code for kit in lacks),
            tuple(kit.name for kit in lacks), all_words(lacks, now, calendar.zone),
        )
        for number, phases in routes.items()
        for one in phases
        if (lacks := lacking.get(number, {}).get(one.phase))
    ]  # fmt: skip
