"""Finished phases as arrays that grow: levels by number, weights, logs of hours."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.labour.rows import (
    Entry,
    Facts,
    Key,
    Row,
    Seen,
    experience_offset,
    hands_of,
    revision_of,
    row_of,
)
from store.learn.records import CLASSES, Record

NO_CLASS = len(CLASSES)
"""Stands for a phase whose class is not known: it feels the vehicle's condition as usual."""
CLASS_NUMBER = {name: number for number, name in enumerate(CLASSES)}
HOURS, AT_LEAST, TOLD, LUMPED = range(4)
"""What a row says: hours; at least these hours; hours less its recorded surprises; those of two
phases together."""
LEAST_SHARE = 0.05
"""Of a phase's hours that stay when the hours of its surprises are taken off."""


def facts_of(record: Record) -> Facts:
    """Return what was known of a phase before it was done."""
    return Facts(
        record.template, record.variant, record.phase, record.book_h, record.grade,
        record.phase_class, record.serves,
    )  # fmt: skip


@dataclass(slots=True)
class Reals:
    """A row of numbers that grows in place."""

    data: Floats = field(default_factory=lambda: np.zeros(256))
    size: int = 0

    def extend(self, values: Sequence[float]) -> None:
        """Append values."""
        need = self.size + len(values)
        if need > len(self.data):
            self.data = np.concatenate([self.data, np.zeros(need)])
        self.data[self.size : need] = values
        self.size = need

    @property
    def view(self) -> Floats:
        """What is there."""
        return self.data[: self.size]


@dataclass(slots=True)
class Wholes:
    """A row of whole numbers that grows in place."""

    data: Ints = field(default_factory=lambda: np.zeros(256, np.int64))
    size: int = 0

    def extend(self, values: Sequence[int]) -> None:
        """Append values."""
        need = self.size + len(values)
        if need > len(self.data):
            self.data = np.concatenate([self.data, np.zeros(need, np.int64)])
        self.data[self.size : need] = values
        self.size = need

    @property
    def view(self) -> Ints:
        """What is there."""
        return self.data[: self.size]


@dataclass(slots=True)
class Gathered:
    """The past, phase by phase, as rows of a sparse matrix over levels.

    Row i has the levels `key[first[i]:first[i + 1]]` with `weight` of the same places. `revised`
    marks entries that count only where the book was rewritten; `chain` rows likewise hold the
    phases of operations, for drift and noise.
    """

    seen: Seen = field(default_factory=Seen)
    experience: Mapping[str, str] = field(default_factory=dict[str, str])
    keys: dict[Key, int] = field(default_factory=dict[Key, int])
    key_term: Wholes = field(default_factory=Wholes)
    key_jobs: Wholes = field(default_factory=Wholes)
    """In how many jobs a level was seen."""
    jobs: dict[str, int] = field(default_factory=dict[str, int])
    records: list[tuple[Record, ...]] = field(default_factory=list[tuple[Record, ...]])
    """What each row was made of: one phase, or the two that cannot be told apart."""
    of_job: dict[str, list[int]] = field(default_factory=lambda: defaultdict(list))
    """Rows of each job."""
    row_at: dict[tuple[str, int], int] = field(default_factory=dict[tuple[str, int], int])
    waiting: dict[tuple[str, int], Record] = field(default_factory=dict[tuple[str, int], Record])
    """Lumped phases whose neighbour has not been finished yet."""
    first: Wholes = field(default_factory=Wholes)
    key: Wholes = field(default_factory=Wholes)
    weight: Reals = field(default_factory=Reals)
    chain_first: Wholes = field(default_factory=Wholes)
    chain: Wholes = field(default_factory=Wholes)
    chain_weight: Reals = field(default_factory=Reals)
    log_book: Reals = field(default_factory=Reals)
    y: Reals = field(default_factory=Reals)
    offset: Reals = field(default_factory=Reals)
    job: Wholes = field(default_factory=Wholes)
    phase_class: Wholes = field(default_factory=Wholes)
    closed: Reals = field(default_factory=Reals)
    kind: Wholes = field(default_factory=Wholes)
    """`HOURS`, `AT_LEAST`, `TOLD` or `LUMPED`."""
    active: Wholes = field(default_factory=Wholes)
    found: Reals = field(default_factory=Reals)
    """ln of one and surprises' hours per other hours; -1 where nobody tells of surprises."""
    rewritten: set[Key] = field(default_factory=set[Key])
    _seen_in: dict[int, set[int]] = field(default_factory=dict[int, set[int]])

    def __post_init__(self) -> None:
        self.first.extend([0])
        self.chain_first.extend([0])

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return self.y.size

    def add(self, record: Record) -> None:
        """Take in a finished phase. In the order of closing."""
        self.seen.learn(facts_of(record), record.technician, record.closed)
        partner = self._partner(record)
        if partner is not None:
            self.merge(partner, record)
        elif record.lumped_with is not None and not self._has(record.job, record.lumped_with):
            self.waiting[(record.job, record.seq)] = record
        elif record.lumped_with is not None:
            row = self.row_at[(record.job, record.lumped_with)]
            self.active.data[row] = 0
            self.merge(self.records[row][0], record)
        else:
            self._put((record,), (1.0,))

    def _has(self, job: str, seq: int) -> bool:
        return (job, seq) in self.row_at and len(self.records[self.row_at[(job, seq)]]) == 1

    def _partner(self, record: Record) -> Record | None:
        if record.lumped_with is not None:
            found = self.waiting.pop((record.job, record.lumped_with), None)
            if found is not None:
                return found
        for key, other in self.waiting.items():
            if other.job == record.job and other.lumped_with == record.seq:
                return self.waiting.pop(key)
        return None

    def merge(self, one: Record, other: Record) -> int:
        """Let two phases teach through their sum only; return the new row."""
        for record in (one, other):
            row = self.row_at.get((record.job, record.seq))
            if row is not None:
                self.active.data[row] = 0
        whole = one.book_h + other.book_h
        return self._put((one, other), (one.book_h / whole, other.book_h / whole))

    def _put(self, records: tuple[Record, ...], shares: tuple[float, ...]) -> int:
        entries: list[Entry] = []
        chains: list[tuple[Key, float]] = []
        offset = 0.0
        for record, share in zip(records, shares, strict=True):
            row, hands = self._levels(record)
            entries += [(key, share * weight) for key, weight in (*row.entries, *hands)]
            entries += [(key, share * weight) for key, weight in revision_of(row)]
            chains += [(key, share * weight) for key, weight in row.chains]
            offset += share * (row.offset + self.offset_of(record.technician))
            if abs(row.log_revision) > 1e-9:
                self.rewritten.update(key for key, _ in row.chains)
        self._append(records, entries, chains, offset)
        return self.rows - 1

    def _levels(self, record: Record) -> tuple[Row, list[Entry]]:
        facts = facts_of(record)
        row = row_of(facts, self.seen)
        owners = self.seen.owners(facts)
        return row, hands_of(record.technician, owners, self.seen, record.started)

    def offset_of(self, technician: str | None) -> float:
        """Return what somebody's experience is known to add to the log."""
        if technician is None:
            return 0.0
        return experience_offset(self.experience.get(technician))

    def _append(
        self,
        records: tuple[Record, ...],
        entries: Sequence[Entry],
        chains: Sequence[tuple[Key, float]],
        offset: float,
    ) -> None:
        job = self.jobs.setdefault(records[0].job, len(self.jobs))
        ids = [self._id(key, job) for key, _ in entries]
        self.key.extend(ids)
        self.weight.extend([weight for _, weight in entries])
        self.first.extend([self.key.size])
        self.chain.extend([self._id(key, job) for key, _ in chains])
        self.chain_weight.extend([weight for _, weight in chains])
        self.chain_first.extend([self.chain.size])
        self.log_book.extend([math.log(sum(one.book_h for one in records))])
        surprises = [one.surprise_h for one in records]
        told = [hours for hours in surprises if hours is not None]
        known = len(told) == len(records)
        actual = sum(one.actual_h for one in records)
        usual = max(actual - sum(told), LEAST_SHARE * actual) if known else actual
        self.y.extend([math.log(usual / sum(one.book_h for one in records))])
        self.found.extend([math.log(actual / usual) if known else -1.0])
        self.offset.extend([offset])
        self.job.extend([job])
        self.phase_class.extend([_class_of(records)])
        self.closed.extend([max(one.closed for one in records)])
        self.kind.extend([_kind(records, known)])
        self.active.extend([1])
        for one in records:
            self.row_at[(one.job, one.seq)] = self.rows - 1
        self.of_job[records[0].job].append(self.rows - 1)
        self.records.append(records)

    def _id(self, key: Key, job: int) -> int:
        number = self.keys.get(key)
        if number is None:
            number = self.keys[key] = len(self.keys)
            self.key_term.extend([int(key[0])])
            self.key_jobs.extend([0])
            self._seen_in[number] = set()
        if job not in self._seen_in[number]:
            self._seen_in[number].add(job)
            self.key_jobs.data[number] += 1
        return number


def _class_of(records: Sequence[Record]) -> int:
    names = {one.phase_class for one in records}
    name = names.pop() if len(names) == 1 else None
    return NO_CLASS if name is None else CLASS_NUMBER[name]


def _kind(records: Sequence[Record], known: bool) -> int:
    if any(one.cut_off for one in records):
        return AT_LEAST
    if len(records) > 1:
        return LUMPED
    return TOLD if known else HOURS
