"""What a month cost the shop, as its owner types it: wages, and what runs on without work."""

from __future__ import annotations

import math
from datetime import date

from store.actions.acting import Done, acting
from store.actions.words import money_words
from store.edges.events.month import MonthCosts
from store.file.change import By
from store.file.month.facts import began_at
from store.file.shop import Shop
from store.sums.month.span import is_month, month_of
from store.trouble import Refused

MOST = 1e9


def set_costs(shop: Shop, by: By, *, month: str, wages: float, overheads: float) -> Done:
    """Write down what a month cost; later months without costs of their own take it over.

    Args:
        month: `2026-09`, begun already.
        wages: of everybody, with what goes to others on top; more than 0.
        overheads: rent, power, insurance, wear: no parts, hires, outwork; 0 or more.

    Raises:
        Refused: no such month, one before the shop began or not begun yet, a figure that cannot
            be, or it is so already.
    """
    with acting(shop, by, "set costs") as doing:
        _refuse_month(month, began_at(doing.db).astimezone(doing.calendar.zone), doing.today)
        _refuse_figures(wages, overheads)
        before = doing.db.execute(
            "select wages, overheads from month_cost where month = ? order by seq desc limit 1",
            [month],
        ).fetchone()
        if before is not None and tuple(before) == (wages, overheads):
            raise Refused(f"The costs of {month} are so already: nothing was changed.")
        doing.record(MonthCosts(month=month, wages=wages, overheads=overheads))
        return doing.done(
            f"{month} cost {money_words(wages)} in wages and {money_words(overheads)} in overheads."
        )


def _refuse_month(month: str, began: date, today: date) -> None:
    if not is_month(month):
        raise Refused(f"{month[:20]!r} is no month: write it like 2026-09.")
    if month < month_of(began):
        raise Refused(f"The shop's entries begin in {month_of(began)}: say what a later one cost.")
    if month > month_of(today):
        raise Refused(f"{month} has not begun: its costs are typed when they are known.")


def _refuse_figures(wages: float, overheads: float) -> None:
    if not math.isfinite(wages) or not 0 < wages <= MOST:
        raise Refused("Wages are more than 0: what the month's pay came to, like 14200.")
    if not math.isfinite(overheads) or not 0 <= overheads <= MOST:
        raise Refused("Overheads are 0 or more: rent, power, insurance, wear, like 6100.")
