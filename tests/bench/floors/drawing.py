"""One shop drawn from a kind."""

from __future__ import annotations

import random
from datetime import date, time, timedelta

from store.learn.records import PhaseClass
from store.sums.working_time import Span, WeekPlan
from tests.bench.floors.draws import Dice, Range
from tests.bench.floors.hands import workers
from tests.bench.floors.kinds import KINDS, Kind
from tests.bench.floors.open_time import LAST_YEAR, OpenTime, laid_out
from tests.bench.floors.routes import operations
from tests.bench.floors.shop import (
    Appointments,
    Faults,
    Firm,
    Operation,
    Reason,
    Shop,
    Small,
    Supplier,
    Worker,
)

FIRST_DAY = date(2024, 1, 1)
WEEK, FRIDAY = (1, 2, 3, 4), (5,)
ON_JOBS = 0.66
"""Share of attended hours that goes into deep jobs and small ones, roughly; the rest is lost."""


def drawn(name: str, seed: int) -> Shop:
    """Draw a shop of a kind; the same seed gives the same shop."""
    kind, dice = KINDS[name], Dice(random.Random(f"{name} {seed}"))
    opened = _time(kind, dice)
    routes = operations(dice, kind.routes)
    hands = workers(dice, kind, opened)
    small = _small(dice, hands, opened)
    return Shop(
        name=f"{name}-{seed}", rule=kind.rule, time=opened,
        lifts=max(2, round(sum(one.since == 0 for one in hands) * dice.of(kind.lifts_each))),
        workers=hands, operations=routes,
        families={f"{e}-{g}": dice.about(0.12) for e in ("E1", "E2", "E3") for g in ("G1", "G2")},
        grades=_four(dice.shares((2, 4, 2, 1), 20)), grade_factor=_grade_factor(dice),
        natures=_natures(dice), nature_labour=_nature_labour(dice),
        nature_trouble=(dice.of((0.3, 0.7)), 1.0, dice.of((1.5, 2.8))),
        reasons=_reasons(dice, kind), says=_says(dice),
        suppliers=tuple(_supplier(dice, kind) for _ in range(dice.whole((2, 4)))),
        kit_supplier=_supplier(dice, kind), firms=_firms(dice, kind),
        appointments=_appointments(dice), small=small,
        faults=Faults(dice.of((0, 0.1)), dice.of((0.5, 4)), dice.of((0, 0.08))),
        per_day=dice.of(kind.load) * _jobs_a_day(hands, routes, opened, small),
        busy_sd=dice.of((0.15, 0.5)), busy_keeps=dice.of((0.3, 0.9)),
        patience=dice.whole((4, 14)), stay_factor=dice.of((1.8, 3.0)),
        ill=dice.of((0.004, 0.015)), ill_ends=dice.of((0.25, 0.6)),
        notice_h=dice.of((0.2, 1.5)), sticks=dice.of(kind.sticks),
        small_first=dice.of(kind.small_first),
    )  # fmt: skip


def _time(kind: Kind, dice: Dice) -> OpenTime:
    shifts: tuple[Span, ...]
    breaks: tuple[Span, ...]
    zone = dice.rng.choice(("Europe/Berlin", "Europe/London", "America/New_York"))
    if kind.shift == "two":
        shifts = (Span(WEEK, time(6), time(22)), Span(FRIDAY, time(6), time(20)))
        breaks = (Span((1, 2, 3, 4, 5), time(10), time(10, 30)), Span(WEEK, time(18), time(18, 30)))
    elif kind.shift == "part":
        shifts = (Span(WEEK, time(8), time(17)), Span(FRIDAY, time(8), time(13)))
        breaks = (Span(WEEK, time(12), time(13)),)
    else:
        ends, friday = dice.whole((16, 17)), dice.whole((14, 16))
        shifts = (Span(WEEK, time(7, 30), time(ends)), Span(FRIDAY, time(7, 30), time(friday)))
        breaks = (Span((1, 2, 3, 4, 5), time(12), time(12, dice.rng.choice((30, 45)))),)
    if kind.shift == "day" and dice.rng.random() < 0.25:
        shifts += (Span((6,), time(8), time(12)),)
    return laid_out(zone, WeekPlan(FIRST_DAY, shifts, breaks), _holidays(dice))


def _holidays(dice: Dice) -> set[date]:
    return {
        FIRST_DAY + timedelta(days=365 * year + dice.whole((1, 364)))
        for year in range(LAST_YEAR)
        for _ in range(9)
    }


def _four(shares: list[float]) -> tuple[float, float, float, float]:
    return shares[0], shares[1], shares[2], shares[3]


def _grade_factor(dice: Dice) -> dict[PhaseClass, tuple[float, float, float, float]]:
    return {
        "strip": (0.85, 1.0, dice.of((1.2, 1.6)), dice.of((1.05, 1.25))),
        "work": (0.95, 1.0, dice.of((1.0, 1.15)), dice.of((1.05, 1.25))),
        "refit": (0.95, 1.0, dice.of((1.0, 1.2)), dice.of((1.05, 1.25))),
    }


def _natures(dice: Dice) -> tuple[tuple[float, float, float], ...]:
    sour = dice.of((0.1, 0.2))
    by_grade = (0.5 * sour, sour, 2 * sour, 2 * sour)
    return tuple((0.5 * (1 - one), 0.5 * (1 - one), one) for one in by_grade)


def _nature_labour(dice: Dice) -> dict[PhaseClass, tuple[float, float, float]]:
    sweet, sour = dice.of((0.75, 0.95)), dice.of((1.15, 1.5))
    return {
        "strip": (sweet, 1.0, sour),
        "work": (sweet**0.5, 1.0, sour**0.6),
        "refit": (sweet**0.4, 1.0, sour**0.4),
    }


def _reasons(dice: Dice, kind: Kind) -> dict[PhaseClass, list[float]]:
    return {
        "strip": dice.shares(kind.reasons, 25),
        "work": dice.shares(kind.reasons, 25),
        "refit": dice.shares(kind.reasons, 25),
    }


def _says(dice: Dice) -> dict[Reason, float]:
    return {
        "parts": dice.of((0.6, 1)), "tool": dice.of((0.5, 1)), "approval": dice.of((0.2, 0.7)),
        "person": dice.of((0.3, 0.9)), "reading": dice.of((0.1, 0.6)), "place": dice.of((0.1, 0.7)),
    }  # fmt: skip


def _supplier(dice: Dice, kind: Kind) -> Supplier:
    special, late = dice.of(kind.special), dice.of(kind.late)
    shelf = dice.of((0.25, 0.6)) * (1 - special)
    drifts = dice.rng.random() < kind.drifts
    return Supplier(
        shelf, 1 - special - shelf, (2, dice.whole((4, 9))), late,
        dice.whole((40, 300)) if drifts else 10**9, min(0.7, late + dice.of((0.1, 0.4))),
        dice.whole((0, 3)),
    )  # fmt: skip


def _firms(dice: Dice, kind: Kind) -> tuple[Firm, ...]:
    least, more = kind.firm_days
    return tuple(
        Firm(
            f"firm {i}", dice.whole(least), dice.of((1, 4)), dice.of(more),
            dice.whole((40, 300)) if dice.rng.random() < kind.drifts else 10**9,
            dice.of((1.2, 2.0)),
        )
        for i in range(1, 1 + dice.whole((1, 3)))
    )  # fmt: skip


def _appointments(dice: Dice) -> dict[Reason, Appointments]:
    def about(hours: tuple[float, ...], usual: tuple[float, ...], keeps: Range) -> Appointments:
        return Appointments(hours, tuple(dice.shares(usual, 15)), dice.of(keeps), dice.of((0.4, 1)))

    return {
        "approval": about((2, 4, 8, 16, 32), (3, 3, 3, 2, 1), (0.4, 0.75)),
        "person": about((1, 2, 4, 10), (3, 3, 2, 1), (0.5, 0.85)),
        "reading": about((1, 3, 8), (3, 3, 1), (0.5, 0.85)),
        "place": about((2, 4, 10, 20), (2, 3, 2, 1), (0.4, 0.8)),
    }


def _small(dice: Dice, hands: tuple[Worker, ...], opened: OpenTime) -> Small:
    """Small jobs enough to take the drawn share of the hours on jobs."""
    mean_h, share = dice.of((0.4, 1.1)), dice.of((0.15, 0.35))
    per_h = share * 0.75 * _attended_h(hands, opened) / _open_h(opened) / (mean_h + 0.3)
    return Small(
        per_h, mean_h, dice.of((0.1, 0.6)), dice.of((0.06, 0.25)), dice.of((0.2, 0.6))
    )  # fmt: skip


def _jobs_a_day(
    hands: tuple[Worker, ...], routes: tuple[Operation, ...], opened: OpenTime, small: Small
) -> float:
    weights = sum(one.weight for one in routes)
    mean_h = sum(one.weight * one.content_s for one in routes) / weights / 3600
    small_h = small.per_h * (small.mean_h + 0.3) * _open_h(opened) / 5
    deep_h = 0.85 * _attended_h(hands, opened) / 5 - small_h
    return max(0.1, ON_JOBS / 0.75 * deep_h / (1.15 * mean_h))


def _attended_h(hands: tuple[Worker, ...], opened: OpenTime) -> float:
    """Hours that the people are in, in a usual week."""
    days = range(8, 8 + len(set(opened.weekdays)))
    here = [one for one in hands if one.since == 0]
    spans = [span for one in here for day in days if (span := one.span(opened, day))]
    return sum(until - since for since, until in spans) / 3600


def _open_h(opened: OpenTime) -> float:
    days = range(8, 8 + len(set(opened.weekdays)))
    return sum(opened.length(day) for day in days) / 3600
