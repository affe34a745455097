"""The rows of dates.csv as the floor knows them: what is asked, and what came of it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from store.learn.records import Record
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.past import Past

Key = tuple[str, int, str]
"""Job, seq and moment of a row."""


@dataclass(frozen=True, slots=True)
class Case:
    """One row. `open_h`: until the job's last phase is finished; `book_h`: the book's, still left.

    Attributes:
        as_of, ends: POSIX seconds of the moment and of the finish.
        phase: code of the phase that begins.
    """

    key: Key
    as_of: float
    ends: float
    open_h: float
    book_h: float
    template: str
    phase: str


def cases(past: Past) -> list[Case]:
    """All rows of a past in the order of their moments."""
    jobs: dict[str, list[Record]] = defaultdict(list)
    for one in sorted(past.records, key=lambda one: one.seq):
        jobs[one.job].append(one)
    found: list[Case] = []
    for job, phases in jobs.items():
        left = [(one, phases[i:]) for i, one in enumerate(phases)]
        found.append(_case(past, (job, 0, "booked"), phases[0], phases))
        found += [_case(past, (job, one.seq, "started"), one, rest) for one, rest in left]
    return sorted(found, key=lambda one: (one.as_of, one.key))


def _case(past: Past, key: Key, first: Record, left: list[Record]) -> Case:
    time, ends = past.shop.time, max(one.closed for one in left)
    open_s = time.reading(int(ends)) - time.reading(int(first.started))
    return Case(
        key, first.started, ends, open_s / HOUR, sum(one.book_h for one in left),
        first.template, first.phase,
    )  # fmt: skip
