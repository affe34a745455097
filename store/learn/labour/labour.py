"""The learner of labour with all that its forecasts need, fed in the order of closing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from store.learn.labour.ahead import Ready, ready
from store.learn.labour.crew import Crew
from store.learn.labour.gathered import facts_of
from store.learn.labour.learner import Learner
from store.learn.records import AtHand, People, Planned, Record

EACH_UP_TO = 300
"""Records up to which every new one is worth a fit of its own."""
LATE_FROM = 2500
SHARE_NEW, SHARE_NEW_LATE = 0.005, 0.015
"""Share of new records that is worth a fit, before and after so many."""


@dataclass(slots=True)
class Labour:
    """The learner, who does which work, and who is employed."""

    people: People = field(default_factory=People)
    crew: Crew = field(default_factory=Crew)
    learner: Learner = field(init=False)

    def __post_init__(self) -> None:
        self.learner = Learner(self.people.experience)

    def add(self, record: Record) -> None:
        """Take in a finished phase; it teaches from the next fit on."""
        self.learner.add(record)
        self.crew.learn(record, self.learner.past.seen.owners(facts_of(record)))

    def keep_up(self, at: float) -> None:
        """Fit anew where enough was finished since the last fit."""
        rows = self.learner.past.rows
        new = rows - self.learner.fitted_rows
        share = SHARE_NEW if rows < LATE_FROM else SHARE_NEW_LATE
        if new and (rows <= EACH_UP_TO or new >= share * rows):
            self.learner.refit(at)

    def ready(self, job: AtHand, phases: Sequence[Planned]) -> Ready:
        """Gather what a job's phases hang on; `draw`, `phase_hours`, `total_hours` go on."""
        return ready(self.learner, self.crew, job, phases)


def in_order(records: Sequence[Record]) -> list[Record]:
    """Return records in the order of closing, whatever order they came in."""
    return sorted(records, key=lambda one: (one.closed, one.job, one.seq))


def learned(records: Sequence[Record], people: People, at: float) -> Labour:
    """Learn from the beginning: the same records teach the same, whatever their order.

    Args:
        at: POSIX seconds; drift is reckoned back from here.
    """
    labour = Labour(people)
    for record in in_order(records):
        labour.add(record)
    labour.learner.fit(at)
    return labour
