"""A hire that runs, or is to come, with who needs its kit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from store.sums.hires.terms import House, Terms
from store.views.parts_values import HireOut
from store.views.tools.draws import Drawn, needed_after
from store.views.tools.money import Reckoning
from store.views.tools.words import when

TABLE = 7
"""Days in the table behind advice, at most."""
USUAL = House()
"""How a supplier counts of whom nothing is known: its cut-off alone is used."""


@dataclass(frozen=True, slots=True)
class Running:
    """A hire with who needs its kit.

    Attributes:
        needs: stretches that it serves, the first first.
        other: a stretch of another job that has no kit of its own and could use it first.
        came: when it came, or is to come.
        due: the local day agreed.
    """

    reckoning: Reckoning
    hire: HireOut
    terms: Terms | None
    needs: Sequence[Drawn]
    other: Drawn | None
    came: datetime
    due: date | None

    @property
    def days(self) -> Sequence[date]:
        """The next days on which it could go back."""
        known, shop = self.reckoning.known, self.reckoning.days
        first = shop.handed(max(known.now, self.came), self.house.cut_off)
        return shop.between(first, first + timedelta(days=2 * TABLE))[:TABLE]

    @property
    def house(self) -> House:
        """How its supplier counts."""
        return self.terms.house if self.terms is not None else USUAL

    def back_by(self, day: date) -> datetime:
        """The cut-off of a day."""
        return self.reckoning.days.cut_off(day, self.house.cut_off)

    def when(self, at: datetime) -> str:
        """An instant in words."""
        return when(at, self.reckoning.known.now, self.reckoning.known.calendar)

    def still(self, day: date) -> float:
        """Chance that it is needed after a day's cut-off."""
        return needed_after([one.need for one in self.needs], self.back_by(day))

    @property
    def picked(self) -> tuple[str, ...]:
        """The option that tells one hire of a kit from another."""
        if self.hire.job is not None:
            return ("--job", self.hire.job)
        several = len(self.reckoning.known.hires_of(self.hire.kit)) > 1
        return ("--job", "any") if several else ()
