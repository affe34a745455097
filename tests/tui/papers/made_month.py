"""Owner's months for the papers: one that happened in a plain shop, and the same with everything
that a page may hold, also texts that mean ill."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from store.views.month.page import Month, month
from store.views.month.told_values import (
    Chart,
    ChartPoint,
    Costs,
    Earned,
    Level,
    Prices,
    PriceWay,
    ShouldSay,
    Signal,
)
from store.views.month.values import Way
from store.views.month.way import Share
from tests.store.actions.made import World
from tests.store.made_jobs import closed_job, plain_shop
from tests.tui.papers.made import EVIL, LONG, WIDE

MENDS = (1.0, 4.0, 0.3, 1.1, 0.8, 1.0, 2.0, 0.9, 1.6, 1.2)
CHANGED = date(2026, 5, 4)


def month_shop(folder: Path) -> World:
    """A plain shop that closed ten jobs in October: from a third to three times as long."""
    world = plain_shop(folder)
    day = 0
    for n, mend_h in enumerate(MENDS):
        while world.at(12, day=day).weekday() >= 5:
            day += 1
        closed_job(world, day, mend_h=mend_h, worn=n == 3, parts_h=3.0 if n == 5 else None)
        day += 1
    return world


def october(world: World, by: str | None = None) -> Month:
    """Its October, of what its reader may see."""
    return month(world.shop, "2026-10", world.now, by=by)


def full(world: World) -> Month:
    """The same with signals, a book to change, prices: invented, and with ugly texts."""
    found = october(world)
    job = found.jobs[0].job
    way = (Way(EVIL, 1.0, job=job, phase="1", badge="T1", at=found.at, events=(7, 8)),)
    signal = Signal(
        "phase", "E2", EVIL, CHANGED, f"{EVIL} {LONG}", 1.33, 1.0, 9, 8, way, "change", CHANGED
    )
    late = replace(signal, what="supplier", name=WIDE, says="late", before=0.08, after=0.37)
    return replace(
        found,
        signals=replace(
            found.signals, found=(signal,), old=(late,), watched=124, says="Two things changed.",
            charts=(by_month(), days_late(), *found.signals.charts),
        ),
        should_say=(_should(EVIL, sure=True), _should("covers off", sure=False)),
        prices=Prices(
            date(2025, 11, 1), date(2026, 10, 31),
            (PriceWay("cautious", 95.0, 10, 9500.0, 1200.0, Share(2, 10, 0.05, 0.5), EVIL, way),
             PriceWay("learned", None, 10, None, None, None, "no rate")),
            (Earned("EZ", EVIL, 10, 31.0, 88.0, 61.5, 7.5, None, "in words", way),),
            (Costs("2026-10", 21_000.0, 9000.5, 612.25, None),), "As if they had said yes.",
        ),
    )  # fmt: skip


def by_month() -> Chart:
    """Twelve months with a change in May, one outside its limits."""
    values = (1.12, 1.1, 1.14, 1.12, 1.3, 1.11, 1.04, 1.02, 1.05, 1.04, 1.03, 1.04)
    points = tuple(
        ChartPoint(day, f"{day:%Y-%m}", value, 14, value == 1.3)
        for n, value in enumerate(values)
        for day in [date(2025 + (n + 10) // 12, (n + 10) % 12 + 1, 1 if n < 6 else 5)]
    )
    levels = (
        Level(points[0].at, CHANGED, 1.12, 1.02, 1.22),
        Level(CHANGED, points[-1].at, 1.04, 0.98, 1.1),
    )
    return Chart("shop", "", EVIL, points, levels, "May was a real change.")


def days_late() -> Chart:
    """A supplier's deliveries: many points, no limits."""
    points = tuple(
        ChartPoint(date(2026, 1 + n // 25, 1 + n % 25), f"2026-{1 + n // 25:02d}-{1 + n % 25:02d}",
                   float(n % 4 == 0), 1, n % 4 == 0)
        for n in range(60)
    )  # fmt: skip
    return Chart("supplier", WIDE, WIDE, points, (), "Days late of each delivery.")


def _should(name: str, *, sure: bool) -> ShouldSay:
    return ShouldSay(
        "EZ", "E2", name, None if sure else "B4-M-F", 2.5, 4.4, 3.9, 5.0, 9 if sure else 3, sure,
        17.0, f"{name} takes 4.4 h.", ("workbook", "adopt", "EZ", "E2") if sure else None,
        ("1001", "1002"),
    )  # fmt: skip
