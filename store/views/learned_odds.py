"""How often questions were answered one way here, and surprises came: beside the book's odds."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from store.file.learned import seen
from store.file.learned.kept import parts
from store.rules.book import ALWAYS, Phase, Surprise, WorkBook
from store.rules.forks import Question

DENOMINATORS = 20
"""The work book's odds are said as one in so many at most."""
FOUND = (
    "select phase.code, finding.code, operations, count(distinct job) from finding "
    "join phase using (job, phase) join job using (job) where finding.kind = 'surprise' "
    "and not withdrawn and finding.code is not null and phase.state = 'finished' and not small "
    "and job.not_teaching is null group by 1, 2, 3"
)
DONE = (
    "select phase.code, operations, count(distinct job) from phase join job using (job) "
    "where phase.state = 'finished' and not small and job.not_teaching is null group by 1, 2"
)


@dataclass(frozen=True, slots=True)
class Odds:
    """An answer to a decision, or a surprise.

    Attributes:
        step: code of the decision; None of a surprise.
        code: of the answer or the surprise.
        times, of: how often it was so, of how many.
        book: the work book's odds.
        chance: what is reckoned with now; None of a surprise, which hours hold already.
        rare: not what is taken for granted.
    """

    phase: str
    step: str | None
    code: str
    times: int
    of: int
    book: float
    chance: float | None
    rare: bool
    says: str

    @property
    def away(self) -> float:
        """How far from the book's odds, as a multiple of what luck does."""
        spread = sqrt(max(self.book * (1 - self.book), 1e-4) / self.of)
        return abs(self.times / self.of - self.book) / spread


def odds(db: sqlite3.Connection, book: WorkBook | None) -> tuple[Odds, ...]:
    """Return what was seen at least once, by phase; nothing where there is no work book."""
    if book is None:
        return ()
    part = parts(db, {seen.NAME: seen.VERSION}, whole=True).get(seen.NAME)
    decided = _decided(book, seen.read(part))
    found = [*decided, *_surprises(db, book)]
    return tuple(sorted(found, key=lambda one: (one.phase, one.step or "~")))


def _decided(book: WorkBook, known: seen.Seen) -> Iterator[Odds]:
    for code, phase in book.phases.items():
        for step in phase.steps:
            given: Mapping[str, int] = known.answers.get(code, {}).get(step.code, {})
            if step.kind == "decision" and any(given.values()):
                asked = Question(code, step.code, step.text, step.answers)
                yield from _answers(asked, phase, given, known)


def _answers(
    asked: Question, phase: Phase, given: Mapping[str, int], known: seen.Seen
) -> Iterator[Odds]:
    whole, prior = sum(given.values()), sum(one.odds for one in asked.answers) or 1.0
    usual = max(asked.answers, key=lambda one: one.odds)
    for one, chance in zip(asked.answers, known.chances(asked), strict=True):
        times, book = given.get(one.code, 0), one.odds / prior
        yield Odds(
            asked.phase, asked.step, one.code, times, whole, book, chance, one != usual,
            _says(one.text, phase.name, times, whole, book),
        )  # fmt: skip


def _says(text: str, phase: str, times: int, of: int, book: float) -> str:
    return f"{text} ({phase}): {times} of {of}, the book says {in_so_many(book)}."


def in_so_many(chance: float) -> str:
    """`3 in 20`, `1 in 8`"""
    part = Fraction(chance).limit_denominator(DENOMINATORS)
    return f"{part.numerator} in {part.denominator}"


def _surprises(db: sqlite3.Connection, book: WorkBook) -> Iterator[Odds]:
    """Of those that may come in every job: of the others nobody knows in how many they could."""
    came: dict[tuple[str, str], dict[str, int]] = defaultdict(dict)
    for phase, code, operations, jobs in db.execute(FOUND):
        came[phase, code][operations] = jobs
    done: dict[str, dict[str, int]] = defaultdict(dict)
    for phase, operations, jobs in db.execute(DONE):
        done[phase][operations] = jobs
    for (phase, code), where in in_book(book).items():
        whole = _jobs(done[phase], where)
        if whole:
            one = next(iter(where.values()))
            times = _jobs(came[phase, code], where)
            name = book.phases[phase].name if phase in book.phases else phase
            yield Odds(
                phase, None, code, times, whole, one.odds, None, True,
                _says(one.text, name, times, whole, one.odds),
            )  # fmt: skip


def in_book(book: WorkBook) -> dict[tuple[str, str], dict[str, Surprise]]:
    """Return the surprises that may come in every job, by phase and code, by operation; one with
    other odds elsewhere is not the same."""
    found: dict[tuple[str, str], dict[str, Surprise]] = defaultdict(dict)
    for operation in book.operations.values():
        for one in operation.surprises:
            known = found[one.phase, one.code]
            if one.when == ALWAYS and all(one.odds == other.odds for other in known.values()):
                known[operation.code] = one
    return {key: where for key, where in found.items() if where}


def _jobs(counts: Mapping[str, int], where: Mapping[str, Surprise]) -> int:
    """Jobs that hold one of these operations at least."""
    return sum(
        jobs
        for operations, jobs in counts.items()
        if not where.keys().isdisjoint(json.loads(operations))
    )
