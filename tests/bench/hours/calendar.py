"""When things happen in an invented shop: open Monday to Friday, 7:30 to 16:30 with an hour out."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np

from store.learn.scores import Floats

FIRST_DAY = datetime(2021, 1, 4, tzinfo=UTC).timestamp()
"""A Monday."""
OPEN_H = 8.0
OPENS_AT_H = 7.5
BREAK_AT_H = 4.5
DAY = 86_400.0


def instant(open_hours: float) -> float:
    """POSIX seconds, to the second, when so many open hours have gone since the first opening."""
    day, hour = divmod(open_hours, OPEN_H)
    week, weekday = divmod(int(day), 5)
    clock = OPENS_AT_H + hour + (1.0 if hour >= BREAK_AT_H else 0.0)
    return float(round(FIRST_DAY + (7 * week + weekday) * DAY + clock * 3600))


def arrivals(dice: np.random.Generator, jobs: int) -> Floats:
    """(jobs,) open hours at which each job begins: 8 to 40 jobs a month, at random."""
    per_month = float(dice.uniform(8, 40))
    gaps: Floats = dice.exponential(21 * OPEN_H / per_month, jobs)
    return np.cumsum(gaps) + 0.1


def stays(dice: np.random.Generator, hours: Floats, begin: float) -> Floats:
    """When each phase of a job starts and closes.

    A technician on a phase gives it most of the time; between phases there is a moment, sometimes
    some hours, sometimes days of waiting. One phase in forty begins before the last one ends.

    Args:
        dice: of the shop.
        hours: (n,) labour hours.
        begin: open hours at which the job begins.

    Returns:
        (n, 2) open hours; starts rising, each close after its start.
    """
    n = len(hours)
    spans = hours / dice.uniform(0.55, 0.95, n)
    kind = dice.random(n)
    gaps = np.where(kind < 0.6, 0.05, np.where(kind < 0.9, 4.0, 24.0)) * dice.exponential(1, n)
    gaps = np.where(dice.random(n) < 0.025, -0.3 * np.roll(spans, 1), gaps + 0.02)
    times = np.empty((n, 2))
    now = begin
    for i in range(n):
        now = max(now + gaps[i], times[i - 1, 0] + 0.02) if i else begin
        times[i] = now, now + spans[i]
        now = times[i, 1]
    return times
