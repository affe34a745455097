"""What the shop's past taught, for people: phases, persons, clocks in doubt, waiting, odds."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from store.file.books import NoBook, book_on
from store.file.facts import calendar_of
from store.file.learned.kept import parts
from store.file.learned.labour_part import TOLD, TOLD_VERSION
from store.file.shop import Shop
from store.rules.book import Phase, WorkBook
from store.rules.family_hours import learned_for
from store.rules.roles import sees_days, sees_paces
from store.views.learned_odds import Odds, odds
from store.views.learned_waits import Waits, waits

NO_DIFFERENCE = 0.05
"""A share from which a difference from the book is worth a word."""
SURE = {"sure": "sure", "likely": "likely", "open": "may be chance"}


@dataclass(frozen=True, slots=True)
class PhaseTold:
    """What a phase takes here; `family` None is the average over families. Hours of labour."""

    operation: str
    phase: str
    name: str
    family: str | None
    book_h: float
    middle_h: float
    q10_h: float
    q90_h: float
    finished: int
    ratio: float
    sure: str
    says: str


@dataclass(frozen=True, slots=True)
class PersonTold:
    """Somebody's hours per hour that the same work takes here on average."""

    badge: str
    name: str
    ratio: float
    q10: float
    q90: float
    finished: int
    says: str


@dataclass(frozen=True, slots=True)
class Doubted:
    """Hours that did not teach as they stand, and why."""

    job: str
    phase: str
    name: str
    badge: str
    hours: float
    why: str
    lumped: bool


@dataclass(frozen=True, slots=True)
class Learned:
    """Everything; `as_of_seq` is the newest entry that it knows."""

    as_of_seq: int
    finished: int
    phases: tuple[PhaseTold, ...]
    people: tuple[PersonTold, ...]
    doubted: tuple[Doubted, ...]
    waits: Waits
    odds: tuple[Odds, ...]


def learned(shop: Shop, now: datetime, *, by: str | None = None) -> Learned:
    """Return what was learned last; nothing where nothing was.

    Args:
        by: badge of whoever reads; None is whoever can open the file, who sees all. Others see of
            people only what is their own.
    """
    with shop.reading() as db:
        book = _book(db, now)
        known = waits(db, now), odds(db, book)
        found = parts(db, {TOLD: TOLD_VERSION}, whole=True).get(TOLD)
        if found is None or found.content is None:
            return Learned(0, 0, (), (), (), *known)
        told: dict[str, Any] = json.loads(found.content)
        names = dict(tuple(row) for row in db.execute("select badge, name from person"))
        paces, days = _sees(db, by, sees_paces), _sees(db, by, sees_days)
        phases: Mapping[str, Phase] = {} if book is None else book.phases
        return Learned(
            found.at.seq, found.cases, tuple(_phases(told["phases"], phases)),
            tuple(_person(one, names) for one in told["people"] if paces(one["badge"])),
            tuple(_doubted(one, phases) for one in told["doubted"] if days(one["badge"])), *known,
        )  # fmt: skip


def _sees(
    db: sqlite3.Connection, by: str | None, rule: Callable[[str], bool]
) -> Callable[[str], bool]:
    """Whose figures a reader sees."""
    if by is None:
        return lambda badge: True
    row = db.execute("select role from person where badge = ?", [by.upper()]).fetchone()
    every = row is not None and rule(row["role"])
    return lambda badge: every or badge == by.upper()


def _book(db: sqlite3.Connection, now: datetime) -> WorkBook | None:
    try:
        return book_on(db, calendar_of(db).day_of(now))[1]
    except NoBook:
        return None


def _phases(rows: Iterable[dict[str, Any]], book: Mapping[str, Phase]) -> list[PhaseTold]:
    """Each phase once: one that gives access to several operations under its access."""
    found: dict[tuple[str, str, str], PhaseTold] = {}
    for row in rows:
        phase = book.get(row["phase"])
        operation = (phase.access if phase is not None else None) or row["operation"]
        one = _phase(_as_now(row, phase), operation, phase.name if phase else row["phase"])
        key = operation, one.phase, one.family or ""
        if key not in found or found[key].finished < one.finished:
            found[key] = one
    return [found[key] for key in sorted(found)]


def _as_now(row: dict[str, Any], phase: Phase | None) -> dict[str, Any]:
    """The row beside the book that took over what was learned, where it did: what it took over is
    no difference any more."""
    family = row["family"]
    if phase is None:
        return row
    times = phase.learned if family is None else learned_for(phase, family)
    return {**row, "book_h": row["book_h"] * times, "ratio": row["ratio"] / times}


def _phase(row: dict[str, Any], operation: str, name: str) -> PhaseTold:
    return PhaseTold(
        operation, row["phase"], name, row["family"], row["book_h"], row["middle"], row["low"],
        row["high"], row["finished"], row["ratio"], row["sure"], _phase_says(row, name),
    )  # fmt: skip


def _phase_says(row: dict[str, Any], name: str) -> str:
    where = f" on {row['family']}" if row["family"] else ""
    times = f"{row['finished']} time{'' if row['finished'] == 1 else 's'}"
    more = row["ratio"] - 1
    if abs(more) < NO_DIFFERENCE:
        return f"{name}{where} takes what the book says, seen {times}."
    word = "more" if more > 0 else "less"
    return (
        f"{name}{where} takes {round(abs(more) * 100)} % {word} than the book, seen {times}: "
        f"{SURE[row['sure']]}."
    )


def _person(row: dict[str, Any], names: Mapping[str, str]) -> PersonTold:
    name = names.get(row["badge"], row["badge"])
    return PersonTold(
        row["badge"], name, row["ratio"], row["low"], row["high"], row["finished"],
        _person_says(row, name),
    )  # fmt: skip


def _person_says(row: dict[str, Any], name: str) -> str:
    more, count = row["ratio"] - 1, row["finished"]
    times = f"{count} phase{'' if count == 1 else 's'}"
    if abs(more) < NO_DIFFERENCE:
        says = f"{name} takes as long as the same work takes here on average, from {times}"
    else:
        word = "longer" if more > 0 else "less time"
        says = (
            f"{name} takes {round(abs(more) * 100)} % {word} than the same work takes here on "
            f"average, from {times}: {SURE[row['sure']]}"
        )
    if row["first"] >= NO_DIFFERENCE and row["first_sure"] != "open":
        says += f"; a first job of its kind costs {round(row['first'] * 100)} % on top"
    return f"{says}."


def _doubted(row: dict[str, Any], book: Mapping[str, Phase]) -> Doubted:
    phase = book.get(row["phase"])
    return Doubted(
        row["job"], row["phase"], phase.name if phase is not None else row["phase"], row["badge"],
        row["hours"], _why(row, book), row["doubt"] == "lumped",
    )  # fmt: skip


def _why(row: dict[str, Any], book: Mapping[str, Phase]) -> str:
    usual = f"others take {row['low']:.1f} to {row['high']:.1f} h"
    if row["doubt"] == "forgotten":
        return f"a forgotten clock? {usual}"
    if row["doubt"] == "mispunch":
        return f"a key pressed by mistake? {usual}"
    neighbour = book.get(row["neighbour"] or "")
    with_what = neighbour.name if neighbour is not None else row["neighbour"]
    return f"one clock for this and {with_what}? {usual}; only their sum taught"
