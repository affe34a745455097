"""An act made of what is known of it, its people looked up."""

from __future__ import annotations

from datetime import datetime

from store.file.open_acts.going import Gathered
from store.file.open_acts.people import able, named
from store.rules.acts import MINUTES, Act, ActKind
from store.rules.roles import Act as Deed


def act(
    every: Gathered, kind: ActKind, deed: Deed, job: str | None, says: str, *,
    since: datetime | None, command: tuple[str, ...], by: datetime | None = None,
    phase: str | None = None, line: str | None = None,
) -> Act:  # fmt: skip
    """Return an act that foreman or owner does, or whoever may do the deed."""
    people = able(every.people, deed)
    badge = people[0].badge if people else None
    going = every.jobs.get(job) if job is not None else None
    return Act(
        kind, job, phase, None, going.lift if going else None, None, badge,
        named(people, "foreman or owner"), by, since, MINUTES[kind], says,
        (*command, "--as", badge or "-BADGE"), line=line,
        stuck=going is not None and going.stuck,
    )  # fmt: skip
