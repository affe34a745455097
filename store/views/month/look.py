"""What every part of an owner's month is given: one look at the file and what was read in it."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from store.file.month.facts import Facts
from store.rules.book import WorkBook
from store.sums.month.span import MonthSpan
from store.sums.working_time import Calendar

Reader = Literal["technician", "foreman", "owner"]


@dataclass(frozen=True, slots=True)
class Look:
    """One look at the shop.

    Attributes:
        db: the file, inside the look: the same entries for every part.
        span: the month; `now`: to which running clocks count.
        facts: all closed jobs and finished phases up to the month's end, read once.
        book: the work book of the month's last day; None where there is none.
        reader: who reads; `badge` whose own figures a technician may see.
    """

    db: sqlite3.Connection
    span: MonthSpan
    now: datetime
    calendar: Calendar
    facts: Facts
    book: WorkBook | None
    reader: Reader = "owner"
    badge: str | None = None

    def sees(self, badge: str) -> bool:
        """Whether the reader may see this person's figures."""
        return self.reader == "owner" or badge == self.badge
