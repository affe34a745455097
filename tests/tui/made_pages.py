"""A day from paper half typed, and the work book, as values: for whoever paints them."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from functools import lru_cache
from pathlib import Path

from store.edges.tables.paper_rows import PaperPage
from store.edges.workbook.model import load
from store.sums.working_time import Calendar, Span, WeekPlan
from store.views.book_seen import BookSeen, OperationSeen
from store.views.paper import PaperView
from store.views.values import Day, DayClock
from tui.book.state import BookState
from tui.paper.state import Grid
from tui.parts.prompt import Field

DAY = date(2026, 10, 14)
WEEK = (1, 2, 3, 4, 5)
CALENDAR = Calendar(
    "Europe/Amsterdam",
    [WeekPlan(date(2020, 1, 1), (Span(WEEK, time(7, 30), time(16, 30)),),
              (Span(WEEK, time(12), time(12, 45)),))],
)  # fmt: skip
REASONS = ("tidying", "parts", "helping", "customers", "other")
BOOK = Path(__file__).parents[2] / "demo" / "workbook.toml"
TOOK_H = {"G0": 0.6, "GB-off": 2.9, "GB-on": 3.2, "CL3": 0.8}


def _at(hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 10, 14, hour - 2, minute, tzinfo=UTC)


def grid() -> Grid:
    """Three rows, the second refused by the shop, a fourth being typed."""
    clocks = (
        DayClock(512, None, None, "helping", "helping", "lead", _at(15), _at(15, 30), 0.5, False,
                 False),
    )  # fmt: skip
    sheet = Day(
        "B12", "Ines", DAY, "Europe/Amsterdam", 8.25, tuple(CALENDAR.shifts_of(DAY)),
        tuple(CALENDAR.breaks_of(DAY)), clocks, (), (), False, _at(17),
    )  # fmt: skip
    phases = {
        "2417.3": ("clutch, flywheel", "panel van, long"), "2417.4": ("gearbox in", "panel van"),
        "2420.2": ("bearings", "farm pick-up"),
    }  # fmt: skip
    typed = ("2417.3 1000", "2420.2 1200", "t 1300")
    return Grid(
        PaperView(sheet, phases, CALENDAR), PaperPage(DAY, CALENDAR, REASONS), typed, 3,
        Field("", "2417.4 14", 9), {2: "2420.2 bearings waits for hold point 2.4."},
    )  # fmt: skip


def refused_grid() -> Grid:
    """The same, standing on the row that was refused."""
    made = grid()
    return Grid(made.view, made.page, made.typed, 1, Field("", made.typed[1], 11), made.refused)


@lru_cache(maxsize=1)
def seen() -> BookSeen:
    """The demo's book, of which some was learned."""
    source = BOOK.read_text("utf-8")
    book = load(source, routes_tried=True)
    operations = tuple(
        OperationSeen(one.code, one.name, len(one.route), 9.9 + n, 10.4 + n if n % 2 else None,
                      7 * n)
        for n, one in enumerate(book.operations.values())
    )  # fmt: skip
    return BookSeen(3, DAY, source, book, operations, dict(TOOK_H), "Europe/Amsterdam")


def book_list() -> BookState:
    """All operations."""
    return BookState(seen(), None, 2)


def book_opened() -> BookState:
    """One of them, with a surprise chosen."""
    return BookState(seen(), "CL", 20)


def book_none() -> BookState:
    """A shop without a book."""
    return BookState(BookSeen(0, DAY, "", None, (), {}, "Europe/Amsterdam"))
