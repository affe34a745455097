"""The technicians of one shop: rates, skills, days, coming and going."""

from __future__ import annotations

from store.learn.records import PhaseClass
from tests.bench.floors.draws import Dice
from tests.bench.floors.kinds import Kind
from tests.bench.floors.open_time import HOUR, OpenTime
from tests.bench.floors.shop import Worker

EVER = 10**6
DAYS = range(6)
Hours = dict[int, tuple[int, int]]
ALL_DAY: tuple[int, int] = (0, 24 * HOUR)


def workers(dice: Dice, kind: Kind, opened: OpenTime) -> tuple[Worker, ...]:
    """Draw them; every skill has one who stays, and some others leave and are followed."""
    found: list[Worker] = []
    for i in range(dice.whole(kind.people)):
        hours = _hours(dice, kind, i)
        skills = _skills(dice, kind, i)
        leaves = dice.whole((60, 500)) if i >= 3 and dice.rng.random() < 0.35 else EVER
        found.append(_worker(dice, f"T{i + 1}", hours, skills, 0, leaves, opened))
        if leaves < EVER:
            since = leaves + dice.whole((0, 25))
            found.append(_worker(dice, f"T{i + 1}b", hours, skills, since, EVER, opened))
    return tuple(found)


def _worker(
    dice: Dice, badge: str, hours: Hours, skills: frozenset[int], since: int, until: int,
    opened: OpenTime,
) -> Worker:  # fmt: skip
    pace = dice.about(0.15) * (0.65 if dice.rng.random() < 0.12 else 1.0)
    classes: tuple[PhaseClass, ...] = ("strip", "work", "refit")
    rate: dict[PhaseClass, float] = {one: pace * dice.about(0.07) for one in classes}
    return Worker(badge, rate, skills, hours, since, until, _leave(dice, opened))


def _hours(dice: Dice, kind: Kind, i: int) -> Hours:
    if kind.shift == "two":
        early = i % 2 == 0
        span = (0, int(8.0 * HOUR)) if early else (int(7.0 * HOUR), int(15 * HOUR))
        return dict.fromkeys(DAYS, span)
    if kind.shift == "part":
        return _part_time(dice, i)
    hours = dict.fromkeys(DAYS, ALL_DAY)
    if i >= 2 and dice.rng.random() < 0.15:
        del hours[dice.whole((0, 4))]
    return hours


def _part_time(dice: Dice, i: int) -> Hours:
    """One is there every day, the others some days or half days."""
    if i == 0:
        return dict.fromkeys(DAYS, ALL_DAY)
    if dice.rng.random() < 0.5:
        return dict.fromkeys(DAYS, (0, dice.whole((3, 5)) * HOUR))
    return dict.fromkeys(dice.rng.sample(range(5), dice.whole((2, 4))), ALL_DAY)


def _skills(dice: Dice, kind: Kind, i: int) -> frozenset[int]:
    every = range(1, kind.routes.skills + 1)
    own = {1 + i % kind.routes.skills} if i < 2 * kind.routes.skills else set[int]()
    return frozenset(own | {one for one in every if dice.rng.random() < 0.25})


def _leave(dice: Dice, opened: OpenTime) -> frozenset[int]:
    """Some two weeks at a time, some single days."""
    off: set[int] = set()
    for year in range(len(opened.days) // 250):
        for length in (10, 8, 3, 1, 1, 1):
            first = 250 * year + dice.whole((0, 249))
            off.update(range(first, first + length))
    return frozenset(off)
