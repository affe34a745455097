"""The line that waits to come in, and whoever put it in another order last."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from store.edges.instants import from_text
from store.file.line_now import last_move
from store.file.shop import Shop
from store.sums.working_time import Calendar
from store.views.floor import floor_of
from store.views.loading import live_jobs, load
from store.views.people_now import people_now
from store.views.values import Job


@dataclass(frozen=True, slots=True)
class PutInLine:
    """A place that somebody gave a job that still waits. `before` None: after all others."""

    job: str
    before: str | None
    by: str
    at: datetime


@dataclass(frozen=True, slots=True)
class WaitingLine:
    """The line, whoever comes in first at its head. `moved`: the place that was given last."""

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    jobs: tuple[Job, ...] = ()
    moved: PutInLine | None = None


def waiting_line(shop: Shop, now: datetime) -> WaitingLine:
    """Return every job that waits to come in, with what it lacks.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        there = floor_of(db, load(db, live_jobs(db), now, people_now(db, now)))
        last = last_move(db)
    moved = None
    if last is not None and last.job in [one.number for one in there.waiting]:
        moved = PutInLine(last.job, last.before, last.by, from_text(last.at))
    return WaitingLine(now, there.calendar, there.waiting, moved)
