"""Months' costs in the demo: typed early in the next month, of people who work there then."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

from demo.costs import MONTHLY, wages
from demo.people import NOOR, RUBEN, TOMAS


def test_whoever_left_or_is_not_here_yet_is_not_paid() -> None:
    december, january = wages(date(2025, 12, 31)), wages(date(2026, 1, 31))
    assert december - january == MONTHLY[RUBEN.badge]
    assert wages(date(2026, 2, 28)) - january == MONTHLY[TOMAS.badge]
    assert wages(date(2025, 9, 30)) - wages(date(2025, 8, 31)) == MONTHLY[NOOR.badge]


def test_every_whole_month_of_the_past_has_its_costs_typed_in_the_next(demo_file: Path) -> None:
    with closing(sqlite3.connect(f"file:{demo_file}?mode=ro", uri=True)) as db:
        rows = db.execute(
            "select month, substr(recorded_at, 1, 10), wages, overheads from month_cost "
            "join ledger using (seq) order by month"
        ).fetchall()
    assert [row[0] for row in rows] == [
        *(f"2025-{month:02d}" for month in range(5, 13)),
        *(f"2026-{month:02d}" for month in range(1, 10)),
    ]
    for month, typed, paid, overheads in rows:
        following = date.fromisoformat(typed)
        assert 4 <= following.day <= 9
        assert (following.year * 12 + following.month) - 1 == int(month[:4]) * 12 + int(month[5:])
        assert 15_000 < paid < 45_000
        assert 5_000 < overheads < 10_000
