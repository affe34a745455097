"""Months as the screen shows them: one that happened in a plain shop, and what is said of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

from store.sums.accuracy import accuracy
from store.views.month.told_values import ShouldSay, Signal
from store.views.month.values import Month, MonthListed, Way
from store.views.month.way import Share
from tests.tui.papers.made_month import CHANGED, by_month, full, month_shop, october
from tui.month.state import Shown

MONTHS = (
    MonthListed("2026-11", date(2026, 11, 1), 0, True),
    MonthListed("2026-10", date(2026, 10, 1), 10, False),
    MonthListed("2026-09", date(2026, 9, 1), 8, False),
)


def shown(found: Month | None) -> Shown:
    """A month between two others."""
    return Shown("2026-10", MONTHS, "Marsh Lane Works", found, 3, 400)


@lru_cache
def _months() -> tuple[Month, Month]:
    with TemporaryDirectory() as folder:
        world = month_shop(Path(folder))
        found = october(world), full(world)
        world.shop.close()
    return found


def ugly() -> Shown:
    """Everything that a page may hold, with texts that mean ill."""
    return shown(_months()[1])


def plain() -> Shown:
    """As the shop was: nothing was learned, nothing changed."""
    return shown(_months()[0])


def told() -> Shown:
    """A month of which much is said."""
    found, rich = _months()
    signal = Signal(
        "phase", "E2", "mend", CHANGED,
        "Since 4 May mend takes 1.0 h where it took 1.3 (9 jobs before, 8 after).", 1.33, 1.0, 9, 8,
        rich.signals.found[0].ways and (Way("mend", 1.0, job="1001", phase="2"),),
        "change", CHANGED, CHANGED,
    )  # fmt: skip
    chart = replace(by_month(), name="all jobs")
    return shown(
        replace(
            found,
            said=("Estimates ran 4 % short; in September it was 6 %. Truer since May.",
                  *found.said[1:]),
            signals=replace(found.signals, found=(signal,), charts=(chart,), watched=24,
                            says="One thing that luck hardly explains."),
            should_say=SHOULD_SAY,
            prices=replace(
                rich.prices, earned=(),
                ways=(replace(rich.prices.ways[0], says="More would have come in.",
                              below=Share(2, 10, 0.05, 0.5)),),
            ),
        )
    )  # fmt: skip


def _should(
    phase: str, name: str, hours: tuple[float, float], times: int, **more: object
) -> ShouldSay:
    book, takes = hours
    sure = times >= 8
    return ShouldSay(
        "EZ", phase, name, None, book, takes, 0.7 * takes, 1.5 * takes, times, sure,
        (takes - book) * times, f"{name} takes {takes:g} h.",
        ("workbook", "adopt", "EZ", phase) if sure else None, ("1001", "1002"),
    )  # fmt: skip


SHOULD_SAY = (
    _should("E2", "mend", (1.0, 1.4), 22),
    replace(_should("E4", "close", (0.8, 0.5), 9), family="B4-M-F"),
    _should("E1", "open", (0.6, 0.7), 6),
)


def empty() -> Shown:
    """A month in which nothing was closed."""
    found = _months()[0]
    return shown(
        replace(
            found, empty="No job was closed in October 2026: nothing to judge.", jobs=(), ways=(),
            said=("No job was closed in October 2026: nothing to judge.",),
            accuracy=accuracy([]), should_say=(), kinds=(), operations=(), families=(),
            by_phase=(), leads=(), phases=(),
        )
    )  # fmt: skip
