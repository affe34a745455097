"""How often surprises came and questions were answered one way, out of the finished phases."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text, to_text

DONE = (
    "select job, phase, code, operations, phase.finished_at from phase join job using (job) "
    "where phase.state = 'finished' and phase.finished_at < ? and not small "
    "and job.not_teaching is null and phase.not_teaching is null order by phase.finished_at"
)
FOUND = (
    "select job, phase, finding.code, seq from finding where kind = 'surprise' and not withdrawn "
    "and finding.code is not null order by seq"
)
ANSWERED = (
    "select job, phase, step.code, answer, max(seq) as seq from signature "
    "join step using (job, phase, step) where step.kind = 'decision' and answer is not null "
    "and not void and step.state != 'gone' group by 1, 2, 3"
)


@dataclass(frozen=True, slots=True)
class DonePhase:
    """A finished phase that teaches.

    Attributes:
        operations: JSON list of its job's.
        surprises: codes of what was found in it, with the entries.
        answers: to its decisions, by step: the answer and its entry.
    """

    job: str
    phase: str
    code: str
    operations: str
    finished_at: datetime
    surprises: tuple[tuple[str, int], ...]
    answers: tuple[tuple[str, str, int], ...]


def done_phases(db: sqlite3.Connection, until: datetime) -> Iterator[DonePhase]:
    """Yield the phases finished before an instant that teach, in the order in which they ended."""
    found: dict[tuple[str, str], list[tuple[str, int]]] = {}
    for job, phase, code, seq in db.execute(FOUND):
        found.setdefault((job, phase), []).append((code, seq))
    answers: dict[tuple[str, str], list[tuple[str, str, int]]] = {}
    for job, phase, step, answer, seq in db.execute(ANSWERED):
        answers.setdefault((job, phase), []).append((step, answer, seq))
    for job, phase, code, operations, at in db.execute(DONE, [to_text(until)]):
        key = (job, phase)
        yield DonePhase(
            job, phase, code, operations, from_text(at), tuple(found.get(key, ())),
            tuple(answers.get(key, ())),
        )  # fmt: skip
