"""By whose terms a kit is reckoned, how punctual they were, and what a waiting lift costs here."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from store.file.facts import setting
from store.file.kits.hires_past import suppliers_seen
from store.file.kits.terms import Offer
from store.sums.hires.days import ShopDays
from store.sums.hires.lateness import Seen, arrivals
from store.sums.hires.terms import Terms
from store.sums.hires.window import Asked
from store.views.parts_values import HireOut
from store.views.tools.kept import shop_days
from store.views.tools.read import Known


@dataclass(frozen=True, slots=True)
class Reckoning:
    """What all sums of one look share.

    Attributes:
        seen: by supplier, how punctual and how complete their kits came.
        lift_day: what a waiting lift costs a shop day.
    """

    known: Known
    days: ShopDays
    seen: Mapping[str, Seen]
    lift_day: float
    cautious: float

    def asked(self, terms: Terms, supplier: str, *, here: bool = False) -> Asked:
        """What windows need; a kit that is `here` comes no more."""
        if here:
            return Asked(self.days, terms, lift_day=self.lift_day)
        seen = self.seen.get(supplier, Seen())
        return Asked(self.days, terms, arrivals(seen, terms.house.lead_days), self.lift_day)

    def terms(self, hire: HireOut) -> Terms | None:
        """The terms of an open hire: as frozen when it was asked for, else its supplier's now."""
        if hire.terms is not None:
            return hire.terms
        offers = self.known.offers.get(hire.kit, ())
        return next((one.terms for one in offers if one.supplier == hire.supplier), None)

    def offers(self, kit: str) -> Sequence[Offer]:
        """What stands on offer for a kit."""
        return self.known.offers.get(kit, ())


def reckoning(db: sqlite3.Connection, known: Known) -> Reckoning:
    """Return what sums share, out of one look."""
    days = shop_days(known.calendar)
    return Reckoning(
        known,
        days,
        suppliers_seen(db, days, known.now),
        setting(db, "lift day cost"),
        setting(db, "cautious"),
    )
