"""Stories that a month is to find without being told, and shops without any."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from store.learn.records import Record
from store.learn.signals.found import Found, What
from store.learn.signals.search import search
from store.rules.oftener import Happened, suppliers
from tests.bench.signals.shop import BEGIN, YEAR, Doing, Shop

LATE_USUAL, LATE_STORY = 0.1, 0.5


@dataclass(frozen=True, slots=True)
class Planted:
    """What is to be found. `since`: years since the shop began; None: all along."""

    what: What
    code: str
    since: float | None
    found: tuple[Found, ...]
    jobs: int

    @property
    def heard(self) -> Found | None:
        """What tells it."""
        return next(
            (one for one in self.found if (one.what, one.code) == (self.what, self.code)), None
        )

    @property
    def days_off(self) -> float | None:
        """By how many days its date is off."""
        if self.heard is None or self.since is None or self.heard.kind != "change":
            return None
        return abs(self.heard.since - BEGIN - self.since * YEAR) / 86_400


def _usual(
    records: Sequence[Record], of: Callable[[Record], str], dice: np.random.Generator
) -> str:
    """One that is often met: of the commoner half."""
    often = [code for code, _ in Counter(of(one) for one in records).most_common()]
    return often[int(dice.integers(max(1, len(often) // 2)))]


def book(seed: int, years: float) -> Planted:
    """One operation takes 1.3 times what its book says, all along."""
    dice = np.random.default_rng([seed, 1])
    code = _usual(Shop(seed).worked(years), lambda one: one.template, dice)

    def story(doing: Doing) -> float:
        return math.log(1.3) * (doing.operation == code)

    return _told(seed, years, "operation", code, None, story)


def faster(seed: int, years: float) -> Planted:
    """One phase takes 0.7 of what it took, from a month on."""
    dice = np.random.default_rng([seed, 2])
    code = _usual(Shop(seed).worked(years), lambda one: one.phase, dice)
    since = float(dice.uniform(0.4, 0.8)) * years

    def story(doing: Doing) -> float:
        return math.log(0.7) * (doing.phase == code and doing.years > since)

    return _told(seed, years, "phase", code, since, story)


def rusty(seed: int, years: float) -> Planted:
    """One family's strip work takes 1.4 times, what goes back on 1.1 times."""
    dice = np.random.default_rng([seed, 3])
    code = _usual(Shop(seed).worked(years), lambda one: one.variant, dice)
    rust = {"strip": math.log(1.4), "refit": math.log(1.1), "work": 0.0}

    def story(doing: Doing) -> float:
        return rust[doing.phase_class] * (doing.family == code)

    return _told(seed, years, "family", code, None, story)


def apprentice(seed: int, years: float) -> Planted:
    """One of five begins at 1.8 times and is at 1.1 times a year and a half later."""

    def story(doing: Doing) -> float:
        return max(0.1, 0.6 - doing.years / 3) * (doing.person == "B1")

    return _told(seed, years, "person", "B1", None, story)


def late(seed: int, years: float) -> Planted:
    """One of four suppliers is late every second time, from a month on or all along."""
    dice = np.random.default_rng([seed, 4])
    since = float(dice.uniform(0.0, 0.6)) * years
    rows = {name: _deliveries(dice, years, since if name == "S1" else years) for name in SUPPLIERS}
    return Planted("supplier", "S1", since, tuple(suppliers(rows)), len(rows["S1"]))


SUPPLIERS = ("S1", "S2", "S3", "S4")
HIRES_A_YEAR = 20


def punctual(seed: int, years: float) -> tuple[Found, ...]:
    """Nobody is late more often than the others."""
    dice = np.random.default_rng([seed, 5])
    return tuple(suppliers({name: _deliveries(dice, years, years) for name in SUPPLIERS}))


def _deliveries(dice: np.random.Generator, years: float, since: float) -> list[Happened]:
    at = np.sort(dice.uniform(0, years, int(years * HIRES_A_YEAR)))
    return [
        Happened(
            BEGIN + float(one) * YEAR,
            bool(dice.random() < (LATE_STORY if one > since else LATE_USUAL)),
        )
        for one in at
    ]


def _told(
    seed: int,
    years: float,
    what: What,
    code: str,
    since: float | None,
    story: Callable[[Doing], float],
) -> Planted:
    records = Shop(seed).worked(years, story)
    of = {"operation": "template", "phase": "phase", "family": "variant", "person": "technician"}
    jobs = {one.job for one in records if getattr(one, of[what]) == code}
    return Planted(what, code, since, search(records).found, len(jobs))


STORIES: dict[str, Callable[[int, float], Planted]] = {
    "book wrong": book, "phase faster": faster, "family rusts": rusty,
    "apprentice": apprentice, "supplier late": late,
}  # fmt: skip
