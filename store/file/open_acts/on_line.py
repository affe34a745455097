"""Acts about the order of the line that waits: a job comes in before the one ahead of it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from store.edges.instants import from_text
from store.file.learned.kept import forecasts
from store.file.open_acts.going import Gathered, Going
from store.file.open_acts.people import able, named
from store.file.ready_now import facts_of
from store.rules.acts import MINUTES, Act
from store.rules.readiness import lacking
from store.sums import moving

SAFE = 0.85
"""A promise that is kept with this chance is at no risk worth another order: its gain would be no
more than a tenth of a promise, since no chance is ever told above .95."""
MOST = 6
"""So many are looked at, those at the head of the line first."""


def acts_on_line(every: Gathered) -> Iterator[Act]:
    """Yield neighbours of the line that could change places: the one behind has a promise at risk.

    It is ready but for a lift, so that it could use an earlier place.
    """
    line = [
        one for one in every.jobs.values()
        if one.state == "waiting" and not one.small and one.lift is None
    ]  # fmt: skip
    behind = [two for _, two in pairwise(line) if not two.holds and not two.asked]
    wanted = _ready(every, _at_risk(every, behind))
    for one, two in pairwise(line):
        if two.job in wanted:
            yield _act(every, two, one)


def _at_risk(every: Gathered, jobs: list[Going]) -> list[str]:
    """Of some jobs those whose promise is likely enough to be broken, as it was forecast last."""
    if not jobs:
        return []
    marks = ", ".join("?" * len(jobs))
    promised = {
        row[0]: from_text(row[1])
        for row in every.db.execute(
            f"select job, promise from job where promise is not null and job in ({marks})",
            [one.job for one in jobs],
        )
    }
    known, hours = forecasts(every.db, list(promised)), every.calendar.working_h
    found: list[str] = []
    for job, promise in promised.items():
        finish = known[job].finish if job in known else None
        if finish is None:
            continue
        passed = hours(min(known[job].made_at, every.now), every.now)
        due_h = hours(every.now, promise) if promise > every.now else 0.0
        if moving.chance(moving.left(finish.quantiles, passed), due_h) < SAFE:
            found.append(job)
    return [one.job for one in jobs if one.job in found]


def _ready(every: Gathered, jobs: list[str]) -> list[str]:
    """Of some jobs those that lack nothing but a lift."""
    if not jobs:
        return []
    facts, zone = facts_of(every.db, jobs, every.now, every.calendar), every.calendar.zone
    return [
        one for one in jobs if one not in facts or not lacking(facts[one], every.now, zone)
    ][:MOST]  # fmt: skip


def _act(every: Gathered, going: Going, ahead: Going) -> Act:
    people = able(every.people, "order line")
    badge = people[0].badge if people else None
    return Act(
        "line", going.job, None, None, None, None, badge, named(people, "foreman or owner"), None,
        None, MINUTES["line"], f"{going.job} comes in before {ahead.job}",
        ("line", going.job, "--before", ahead.job, "--as", badge or "-BADGE"), line=ahead.job,
    )  # fmt: skip
