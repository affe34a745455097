"""Acts about the owner's month that can be taken back: another work book, what a month cost."""

from __future__ import annotations

from collections.abc import Callable

from store.actions import adopting, books, month_costs
from tests.store.actions.made import BOOK, World
from tests.store.actions.undone_kits import OWNED, waiting
from tests.store.made_told import told_of

Made = Callable[[World], str]
Act = Callable[[World, str], object]


def _told(w: World) -> str:
    job = waiting(w)
    told_of(w, ("TC", "B1", None, 0.6, 1.1, 12), ("TC", "B1", "B4-M-F", 0.6, 1.1, 12))
    return job


def _costs(w: World) -> str:
    job = waiting(w)
    month_costs.set_costs(w.shop, w.by("OWN"), month="2026-10", wages=9000, overheads=4000)
    return job


OF_THE_MONTH: dict[str, tuple[Made, str, Act]] = {
    "book-loaded": (
        waiting, "FOR",
        lambda w, j: books.load_workbook(
            w.shop, w.by("FOR"), source=BOOK.replace("Small shop", "Other shop")
        ),
    ),
    "book-loaded, a kit is another's": (
        waiting, "FOR", lambda w, j: books.load_workbook(w.shop, w.by("FOR"), source=OWNED)
    ),
    "book-loaded, what was learned": (
        _told, "OWN", lambda w, j: adopting.adopt(w.shop, w.by("OWN"))
    ),
    "month-costs": (
        waiting, "OWN",
        lambda w, j: month_costs.set_costs(
            w.shop, w.by("OWN"), month="2026-10", wages=9000, overheads=0
        ),
    ),
    "month-costs, said anew": (
        _costs, "OWN",
        lambda w, j: month_costs.set_costs(
            w.shop, w.by("OWN"), month="2026-10", wages=9500, overheads=4000
        ),
    ),
}  # fmt: skip
