"""What is known beforehand of a day that is entered from paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from store.file.facts import calendar_of
from store.file.shop import Shop
from store.sums.working_time import Calendar
from store.views.day import day as day_sheet
from store.views.values import Day


@dataclass(frozen=True, slots=True)
class PaperView:
    """A person's day as the file has it, the shop's calendar, and the phases there are.

    Attributes:
        phases: name and vehicle by `2417.3`, of every job that goes on.
    """

    sheet: Day
    phases: Mapping[str, tuple[str, str]]
    calendar: Calendar = field(compare=False)


def paper_view(shop: Shop, badge: str, on: date, now: datetime) -> PaperView:
    """Return what a day from paper is entered beside.

    Raises:
        Refused: nobody here has that badge.
    """
    sheet = day_sheet(shop, badge, on, now)
    with shop.reading() as db:
        rows = db.execute(
            "select phase.job || '.' || phase as place, name, label from phase "
            "join job using (job) join vehicle using (vehicle) where kind = 'labour' "
            "and phase.state <> 'skipped' "
            "and job.state not in ('closed', 'declined', 'turned-away')"
        )
        phases = {row["place"]: (row["name"], row["label"]) for row in rows}
        return PaperView(sheet, phases, calendar_of(db))
