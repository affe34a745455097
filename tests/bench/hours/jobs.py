"""One job of an invented shop, as it is known when it begins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

import numpy as np

from store.learn.scores import Floats
from tests.bench.hours.dice import Indices, picked
from tests.bench.hours.routes import Phase


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """What is true of a job before a spanner is lifted.

    Attributes:
        operations: one, or two joined.
        grade: 1 to 4, also where no column tells it.
        grade_known: whether the history says the grade.
        start: POSIX seconds of the first phase.
        route: n phases.
        book: (n,) hours.
        odds: (people,) of getting the job, and of each change of hands.
        stay: chance that the next phase stays with the same person.
        experience: (people, n) jobs of the phase's operation that each had finished at the start.
    """

    number: str
    operations: tuple[str, ...]
    family: str
    grade: int
    grade_known: bool
    start: float
    route: tuple[Phase, ...]
    book: Floats
    odds: Floats
    stay: float
    experience: Floats

    @property
    def template(self) -> str:
        return "+".join(self.operations)

    def shares(self) -> Iterator[tuple[int, float]]:
        """Everybody with their odds, 0 for who is not here."""
        return ((k, float(odds)) for k, odds in enumerate(self.odds))

    def hands(self, dice: np.random.Generator, draws: int, first: int, holder: int = -1) -> Indices:
        """Who does the phases from index `first` on: a chain that mostly stays with one person.

        Args:
            dice: of whoever asks.
            draws: how many chains.
            first: index of the first phase.
            holder: who does that one; -1 where it is not known.

        Returns:
            (n - first, draws) indices of people.
        """
        n = len(self.route) - first
        fresh = np.searchsorted(np.cumsum(self.odds)[:-1], dice.random((n, draws)), side="right")
        fresh[0] = picked(self.odds, draws, dice)
        if holder >= 0:
            fresh[0] = holder
        leaves = dice.random((n, draws)) >= self.stay
        for i in range(1, n):
            fresh[i] = np.where(leaves[i], fresh[i], fresh[i - 1])
        return fresh


class Experience:
    """Counts the jobs each person has finished of each operation, phases as fractions."""

    def __init__(self, people: int, operations: Sequence[str]) -> None:
        self._index = {code: n for n, code in enumerate(operations)}
        self._done = np.zeros((people, len(operations)))
        self._waiting: list[tuple[float, int, int, float]] = []

    def closes(self, at: float, person: int, phase: Phase, fractions: dict[str, float]) -> None:
        """A phase will be closed then; it counts for every operation it serves."""
        for code in phase.serves:
            heappush(self._waiting, (at, person, self._index[code], fractions[code]))

    def before(self, at: float, route: tuple[Phase, ...]) -> Floats:
        """(people, n) of the phases of a route, of what was closed before an instant."""
        while self._waiting and self._waiting[0][0] < at:
            _, person, operation, fraction = heappop(self._waiting)
            self._done[person, operation] += fraction
        columns = [
            self._done[:, [self._index[one] for one in phase.serves]].mean(axis=1)
            for phase in route
        ]
        return np.stack(columns, axis=1)
