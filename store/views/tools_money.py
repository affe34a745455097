"""By whose terms a kit is reckoned, how punctual they were, and what a waiting lift costs here."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from store.edges.instants import from_text
from store.file.facts import setting
from store.file.kit_terms import Offer
from store.sums.hire_days import ShopDays
from store.sums.hire_lateness import Seen, arrivals
from store.sums.hire_terms import Terms
from store.sums.hire_window import Asked
from store.views.parts_values import HireOut
from store.views.tools_kept import shop_days
from store.views.tools_read import Known

MOST_LATE = 20
"""Working days late at most; what is later was forgotten, or never came."""


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
        known, days, _seen(db, known, days), setting(db, "lift day cost"), setting(db, "cautious")
    )


def _seen(db: sqlite3.Connection, known: Known, days: ShopDays) -> dict[str, Seen]:
    """Deliveries of each supplier, counted by whole working days."""
    found: dict[str, list[tuple[int, bool | None]]] = defaultdict(list)
    for row in db.execute(
        "select supplier, expected, received_at, came_complete, wrong from hire "
        "where expected is not null order by asked_at"
    ):
        late = _late(known, days, row["expected"], row["received_at"])
        came = row["received_at"] is not None
        if came or late:
            whole = row["came_complete"] != 0 and not row["wrong"] if came else None
            found[row["supplier"]].append((late, whole))
    return {name: _counted(rows) for name, rows in found.items()}


def _late(known: Known, days: ShopDays, expected: str, received: str | None) -> int:
    """Working days by which a delivery was late, or is by now."""
    came = known.now if received is None else from_text(received)
    due, day = known.calendar.day_of(from_text(expected)), known.calendar.day_of(came)
    return min(MOST_LATE, len(days.between(due, day)) - days.works(due)) if day > due else 0


def _counted(rows: Sequence[tuple[int, bool | None]]) -> Seen:
    late = [days for days, _ in rows if days > 0]
    looked = [whole for _, whole in rows if whole is not None]
    return Seen(len(rows), len(late), sum(late), len(looked), sum(not one for one in looked))
