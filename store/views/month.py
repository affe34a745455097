"""The owner's month: whether estimates hold, what is signal, where hours and money went, and what
to change. Each part has its own module and reads in the same look."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from store.file.shop import Shop
from store.views.month_values import Month, MonthListed

__all__ = ["Month", "MonthListed", "month", "months"]

Reader = Literal["technician", "foreman", "owner"]


def month(
    shop: Shop, month: str, now: datetime, *, by: str | None = None, of: str | None = None
) -> Month:
    """Return a month of the shop's, up to now where it still runs.

    Args:
        month: `2026-09`.
        by: badge of whoever reads; None is whoever can open the file, who sees all. A technician
            sees what the shop came to and of people only their own figures.
        of: only the jobs that this badge led.

    Raises:
        Trouble: no such month, before the shop's first entry, not begun yet; or the reader asks
            for another's figures without being the owner.
    """
    raise NotImplementedError


def months(shop: Shop, now: datetime) -> tuple[MonthListed, ...]:
    """Return every month from the shop's first entry to now, the newest first.

    Raises:
        Trouble: the file cannot be read.
    """
    raise NotImplementedError
