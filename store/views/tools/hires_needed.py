"""Until when the kits that go back today are likely to be needed, by the middle forecast."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from datetime import datetime

from store.file.kits.wanted import Wanted, kits_wanted
from store.views.loading import Loaded
from store.views.parts_values import HireOut
from store.views.tools.hired import goes_back_today
from store.views.values import Job


def needed_till(
    db: sqlite3.Connection, loaded: Loaded, jobs: Mapping[str, Job]
) -> Mapping[str, datetime]:
    """Return it by hire; hires whose kit nobody needs are left out, and all that go back later."""
    due = [one for one in loaded.hires if goes_back_today(one, loaded.now, loaded.calendar)]
    if not due:
        return {}
    wanted = kits_wanted(db)
    found = {one.hire: list(_ends(one, wanted, jobs)) for one in due}
    return {hire: max(ends) for hire, ends in found.items() if ends}


def _ends(
    hire: HireOut, wanted: Mapping[str, tuple[Wanted, ...]], jobs: Mapping[str, Job]
) -> Iterator[datetime]:
    for job, stretches in wanted.items():
        if job not in jobs or hire.job not in (None, job):
            continue
        frees = {phase for one in stretches if one.kit == hire.kit for phase in one.frees}
        yield from (one.until for one in jobs[job].ahead if one.phase in frees)
