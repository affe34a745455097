"""Finished phases laid out as one regression: y = ln(labour / today's book), its levels, its rows
by subject."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.labour.terms import LEARNING_JOBS, LOADING
from store.learn.records import Record
from store.learn.signals.found import OWN, STRIP, What

LEAST_LEFT = 0.2
"""Of a phase's hours, at least so much is its own however much was found in it."""
FREE = 1.0
"""Sd of what is as good as unknown."""
SDS: dict[str, float] = {
    "operation": FREE, "phase": FREE, "joined": 0.2, "family": FREE, "felt": 0.3,
    "person": FREE, "grade": 0.5, "fresh": 0.3, "mean": 3.0,
}  # fmt: skip
"""Of the levels of each kind, on the log scale: wide, so that a level is what its phases say."""

Name = tuple[Hashable, ...]


@dataclass(frozen=True, slots=True)
class Subject:
    """What may have changed.

    Attributes:
        rows: of its phases, by time of closing.
    """

    what: What
    code: str
    part: str
    rows: Ints


@dataclass(frozen=True, slots=True)
class Laid:
    """All phases.

    Attributes:
        y: (rows,) ln of labour over today's book, by time of closing; `book` ln of that book.
        at: (rows,) POSIX seconds.
        job: (rows,) place of its job; `jobs` how many.
        loads: (rows,) how much of the vehicle's condition each feels.
        code: (rows,) place of its phase, for its own noise.
        names, columns: levels, and (rows, levels) their weights.
    """

    y: Floats
    book: Floats
    at: Floats
    job: Ints
    jobs: int
    loads: Floats
    code: Ints
    names: tuple[Name, ...]
    columns: Floats
    subjects: tuple[Subject, ...]

    def sds(self) -> Floats:
        """(levels,) how widely each is believed to lie."""
        return np.array([SDS[str(name[0])] for name in self.names])


def laid(records: Iterable[Record]) -> Laid | None:
    """Lay out what can be judged: whole phases with clocks of their own; None where none can be."""
    rows = sorted(
        (one for one in records if not one.cut_off and one.lumped_with is None),
        key=lambda one: (one.closed, one.job, one.seq),
    )
    if not rows:
        return None
    today = {_booked(one): one.book_h for one in rows}
    book = np.log([today[_booked(one)] for one in rows])
    entries = _entries(rows)
    names = tuple(dict.fromkeys(name for each in entries for name in each))
    jobs = list(dict.fromkeys(one.job for one in rows))
    return Laid(
        np.log([_own_h(one) for one in rows]) - book, book,
        np.array([one.closed for one in rows]),
        _places([one.job for one in rows]), len(jobs),
        np.array([LOADING[one.phase_class or "work"] for one in rows]),
        _places([one.phase for one in rows]), names, _columns(entries, names), _subjects(rows),
    )  # fmt: skip


def _own_h(one: Record) -> float:
    """Hours without those of what was found and written down."""
    return max(one.actual_h - (one.surprise_h or 0.0), LEAST_LEFT * one.actual_h)


def _booked(one: Record) -> tuple[str, str, str]:
    return one.template, one.phase, one.variant


def _places(values: Sequence[Hashable]) -> Ints:
    place = {value: number for number, value in enumerate(dict.fromkeys(values))}
    return np.array([place[value] for value in values], np.int64)


def _owners(one: Record) -> tuple[str, ...]:
    return one.serves or tuple(one.template.split("+"))


def _users(rows: Sequence[Record]) -> dict[str, set[str]]:
    """Operations that have each phase: one, or several where it is access."""
    users: dict[str, set[str]] = defaultdict(set)
    for one in rows:
        users[one.phase].update(_owners(one))
    return users


def _entries(rows: Sequence[Record]) -> list[dict[Name, float]]:
    """Levels of each row with their weights."""
    users = _users(rows)
    done: dict[tuple[str, str], set[str]] = defaultdict(set)
    found: list[dict[Name, float]] = []
    for one in rows:
        found.append(_levels(one, shared=len(users[one.phase]) > 1, done=done))
        for operation in _owners(one):
            done[one.technician, operation].add(one.job)
    return found


def _levels(
    one: Record, *, shared: bool, done: dict[tuple[str, str], set[str]]
) -> dict[Name, float]:
    owners, felt = _owners(one), one.phase_class or "work"
    levels: dict[Name, float] = {
        ("mean",): 1.0, ("phase", one.phase): 1.0, ("family", one.variant): 1.0,
        ("felt", one.variant, felt): 1.0, ("person", one.technician): 1.0,
    }  # fmt: skip
    if one.grade is not None:
        levels["grade", one.grade, felt] = 1.0
    for operation in owners:
        levels["operation", operation] = 1 / len(owners)
        if shared:
            levels["joined", operation, one.phase] = 1 / len(owners)
    earlier = [len(done[one.technician, each] - {one.job}) for each in owners]
    levels["fresh",] = sum(math.exp(-each / LEARNING_JOBS) for each in earlier) / len(owners)
    return levels


def _columns(entries: Sequence[dict[Name, float]], names: Sequence[Name]) -> Floats:
    place = {name: number for number, name in enumerate(names)}
    columns = np.zeros((len(entries), len(names)))
    for row, each in enumerate(entries):
        for name, weight in each.items():
            columns[row, place[name]] = weight
    return columns


def _subjects(rows: Sequence[Record]) -> tuple[Subject, ...]:
    members: dict[tuple[What, str, str], list[int]] = defaultdict(list)
    users = _users(rows)
    for row, one in enumerate(rows):
        members["shop", "", ""].append(row)
        members["phase", one.phase, ""].append(row)
        members["family", one.variant, ""].append(row)
        if one.phase_class == "strip":
            members["family", one.variant, STRIP].append(row)
        members["person", one.technician, ""].append(row)
        for operation in _owners(one):
            members["operation", operation, ""].append(row)
            if len(users[one.phase]) == 1:
                members["operation", operation, OWN].append(row)
    return tuple(Subject(*key, np.array(each, np.int64)) for key, each in sorted(members.items()))
