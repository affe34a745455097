"""Hold points in phases under way that wait for another person's name, and since when."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence

from store.edges.instants import from_text
from store.file.route_now import STEP, StepRow, step_row
from store.rules.blocking import blocking_step


def wants_another(step: StepRow, gates: Sequence[StepRow]) -> bool:
    """Tell whether a hold point waits for a name that whoever does the work cannot give.

    Args:
        gates: the hold points and decisions of its job.
    """
    if step.kind != "hold point" or step.state not in ("half", "open"):
        return False
    if step.state == "half":
        return True
    other = step.spec.by == "foreman" or step.spec.not_by_fitter
    before = blocking_step([one.gate() for one in gates], step.phase, step.position)
    return other and before is None


def owed_names(
    db: sqlite3.Connection, marks: str, jobs: Sequence[str]
) -> Mapping[tuple[str, str], float]:
    """Return since when (POSIX seconds) a name is owed, by job and phase.

    From the first name of two on; where it has none yet, since the last clock on the job stopped.
    """
    gates: dict[str, list[StepRow]] = defaultdict(list)
    for row in db.execute(
        f"select {STEP} where step.job in ({marks}) and step.kind != 'step' and "
        "step.state in ('half', 'open') and phase.state = 'under way' "
        "order by step.job, step.position",
        list(jobs),
    ):
        gates[row["job"]].append(step_row(row))
    owed = {
        (job, one.phase): one.step
        for job, each in gates.items()
        for one in reversed(each)
        if wants_another(one, each)
    }
    return _since(db, owed) if owed else {}


def _since(
    db: sqlite3.Connection, owed: Mapping[tuple[str, str], str]
) -> Mapping[tuple[str, str], float]:
    marks = ", ".join("?" * len(owed))
    jobs = [job for job, _ in owed]
    rested = {
        row[0]: row[1]
        for row in db.execute(
            f"select job, max(until) from clock where job in ({marks}) group by job", jobs
        )
    }
    named = {
        (row[0], row[1], row[2]): row[3]
        for row in db.execute(
            "select job, phase, step, max(at) from signature "
            f"where job in ({marks}) and not void group by job, phase, step",
            jobs,
        )
    }
    found = {
        (job, phase): named.get((job, phase, step)) or rested.get(job)
        for (job, phase), step in owed.items()
    }
    return {key: from_text(at).timestamp() for key, at in found.items() if at is not None}
