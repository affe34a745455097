"""Charts of individual values: the shop by month, and each signal by job or by month."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date
from math import exp, log
from statistics import fmean

from store.sums.individuals import ENOUGH_FOR_LIMITS, ENOUGH_FOR_RUNS, limits, loud
from store.sums.month.span import month_of
from store.views.month.look import Look
from store.views.month.said import percent
from store.views.month.told_values import Chart, ChartPoint, Level, Signal

BY_JOB = 60
"""More jobs than these are charted by month."""
Point = tuple[date, str, float]


def shop_chart(look: Look) -> Chart | None:
    """Return labour / estimates of all jobs closed, month by month; None before the first job."""
    sums: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for one in look.facts.jobs:
        if one.estimate_h and one.labour_h > 0 and one.closed_at < look.span.until:
            month = month_of(one.closed_at.astimezone(look.calendar.zone).date())
            sums[month].append((one.labour_h, one.estimate_h))
    if not sums:
        return None
    points = [
        ChartPoint(_first(month), month, _over(each), len(each))
        for month, each in sorted(sums.items())
    ]
    values = [one.value for one in points]
    return Chart(
        "shop", "", "all jobs", _marked(points, values), _levels(points, values),
        _shop_says(values),
    )  # fmt: skip


def _over(pairs: Sequence[tuple[float, float]]) -> float:
    return sum(labour for labour, _ in pairs) / sum(estimate for _, estimate in pairs)


def _shop_says(values: Sequence[float]) -> str:
    if len(values) < ENOUGH_FOR_LIMITS:
        return (
            f"Labour / estimate of each month's jobs. Limits from {ENOUGH_FOR_LIMITS} months on; "
            f"there are {len(values)}."
        )
    known = limits(values)
    runs = "" if len(values) >= ENOUGH_FOR_RUNS else f" Runs count from {ENOUGH_FOR_RUNS} on."
    return (
        f"Labour / estimate of each month's jobs: luck keeps it from {percent(known.low)} to "
        f"{percent(known.high)} %.{runs}"
    )


def work_chart(signal: Signal, values: Sequence[Point]) -> Chart:
    """Return labour / book of what a signal is about: each job, or each month of many.

    Args:
        values: day, job, labour / book, in order of time.
    """
    points = (
        _by_month(values) if len(values) > BY_JOB
        else [ChartPoint(day, job, value, 1) for day, job, value in values]
    )  # fmt: skip
    told = _pieces(signal, points)
    return Chart(
        signal.what, signal.code, signal.name, tuple(points), told,
        "Labour / hours of the book that held.",
    )  # fmt: skip


def rows_chart(signal: Signal, values: Sequence[tuple[date, float, bool]]) -> Chart:
    """Return days late of each delivery, or the share of each month's jobs.

    Args:
        values: day, value, yes or no, in order of time.
    """
    if signal.what == "supplier":
        points = [ChartPoint(day, day.isoformat(), value, 1, yes) for day, value, yes in values]
        return Chart(
            signal.what, signal.code, signal.name, tuple(points), (), "Days late of each delivery."
        )
    points = _by_month([(day, "", value) for day, value, _ in values])
    return Chart(
        signal.what, signal.code, signal.name, tuple(points), (), "Share of each month's jobs."
    )


def _by_month(values: Sequence[Point]) -> list[ChartPoint]:
    months: dict[str, list[float]] = defaultdict(list)
    for day, _, value in values:
        months[month_of(day)].append(value)
    return [
        ChartPoint(_first(month), month, fmean(each), len(each)) for month, each in months.items()
    ]


def _first(month: str) -> date:
    return date(int(month[:4]), int(month[5:]), 1)


def _marked(points: Sequence[ChartPoint], values: Sequence[float]) -> tuple[ChartPoint, ...]:
    """Loud ones marked, where there are enough for limits."""
    if len(values) < ENOUGH_FOR_LIMITS:
        return tuple(points)
    outside = loud(values, limits(values))
    return tuple(
        ChartPoint(one.at, one.label, one.value, one.count, place in outside)
        for place, one in enumerate(points)
    )


def _levels(points: Sequence[ChartPoint], values: Sequence[float]) -> tuple[Level, ...]:
    if len(values) < ENOUGH_FOR_LIMITS:
        return ()
    known = limits(values)
    return (Level(points[0].at, points[-1].at, known.middle, max(0.0, known.low), known.high),)


def _pieces(signal: Signal, points: Sequence[ChartPoint]) -> tuple[Level, ...]:
    """Before and after, each with the limits of its own ranges; on the scale of factors."""
    if signal.kind == "change":
        cut = next((n for n, one in enumerate(points) if one.at >= signal.since), len(points))
        parts = [points[:cut], points[cut:]]
    else:
        parts = [points] if signal.kind == "level" else []
    return tuple(_piece(each) for each in parts if len(each) >= 2)


def _piece(points: Sequence[ChartPoint]) -> Level:
    known = limits([log(max(one.value, 1e-3)) for one in points])
    return Level(points[0].at, points[-1].at, exp(known.middle), exp(known.low), exp(known.high))
