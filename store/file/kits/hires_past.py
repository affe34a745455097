"""What each supplier did so far: how punctual and how complete the kits came."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime

from store.edges.instants import from_text
from store.sums.hires.days import ShopDays
from store.sums.hires.lateness import LATEST, Seen


@dataclass(slots=True)
class _Counts:
    """Of one supplier: working days late of each delivery; of each kit looked through, if whole."""

    late: list[int] = field(default_factory=list[int])
    whole: list[bool] = field(default_factory=list[bool])

    def seen(self) -> Seen:
        return Seen(
            len(self.late), sum(days > 0 for days in self.late), sum(self.late), len(self.whole),
            self.whole.count(False),
        )  # fmt: skip


def suppliers_seen(db: sqlite3.Connection, days: ShopDays, now: datetime) -> dict[str, Seen]:
    """Return what is to be learned of suppliers from all hires, by their names.

    A kit that was to come by now and has not is late already. One of which nobody said when it was
    to come says nothing of punctuality, but whether it came complete.

    Args:
        days: the shop's working days, by which lateness is counted.
    """
    found: dict[str, _Counts] = defaultdict(_Counts)
    for row in db.execute(
        "select supplier, expected, received_at, came_complete, wrong from hire "
        "order by asked_at, hire"
    ):
        counts, came = found[row["supplier"]], row["received_at"]
        if row["expected"] is not None:
            late = days_late(days, row["expected"], now if came is None else from_text(came))
            if late or came is not None:
                counts.late.append(late)
        if came is not None and row["came_complete"] is not None:
            counts.whole.append(bool(row["came_complete"]) and not row["wrong"])
    return {supplier: counts.seen() for supplier, counts in found.items()}


def days_late(days: ShopDays, expected: str, came: datetime) -> int:
    """Return working days after the one on which a kit was to come; 10 at most."""
    due, day = days.calendar.day_of(from_text(expected)), days.calendar.day_of(came)
    after = [one for one in days.between(due, day) if one > due] if day > due else []
    return min(LATEST, len(after))
