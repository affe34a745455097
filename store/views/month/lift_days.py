"""Days that jobs stood on a lift: open hours there by those of the shop's usual day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from store.edges.instants import from_text
from store.file.attended import days_between
from store.sums.prices import divided
from store.views.month.look import Look
from store.views.month.priced import year_of

STAYS = (
    "select stay.job, since, coalesce(until, closed_at) as until from stay "
    "join place using (place) join job on job.job = stay.job "
    "where part = 'body' and place.kind = 'lift' and closed_at is not null "
    "and since < coalesce(until, closed_at) and stay.job in ({})"
)


def lift_days(look: Look, jobs: Sequence[str]) -> dict[str, float]:
    """Return the lift-days of closed jobs, by number: whenever they stood there."""
    open_h: dict[str, float] = defaultdict(float)
    for row in look.db.execute(STAYS.format(", ".join("?" * len(jobs))), list(jobs)):
        since, until = from_text(row["since"]), from_text(row["until"])
        open_h[row["job"]] += look.calendar.working_h(since, until)
    a_day = usual_day_h(look)
    return {job: divided(hours, a_day) or 0.0 for job, hours in open_h.items()} if a_day else {}


def usual_day_h(look: Look) -> float:
    """Return the open hours of a day on which the shop was open, over twelve months."""
    year = year_of(look)
    hours = look.calendar.working_h(year.since, year.until)
    days = [
        one for one in days_between(year.first, look.calendar.day_of(look.now))
        if one <= year.last and look.calendar.shifts_of(one)
    ]  # fmt: skip
    return divided(hours, len(days)) or 0.0
