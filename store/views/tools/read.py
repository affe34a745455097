"""What one look reads of special tools: a fixed number of queries, however many kits there are."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.kits.now import LIVE, Use, uses_of
from store.file.kits.terms import Offer, Price, offers_now, prices_now, valid_until
from store.sums.working_time import Calendar
from store.views.parts_values import HireOut
from store.views.tools.hired import hires_out

SEEN_BACK = timedelta(days=21)
"""So long back the time line shows what was here."""


@dataclass(frozen=True, slots=True)
class KitRow:
    """A kit as the newest work book names it."""

    code: str
    name: str
    owned: bool
    size: str = "small"
    contains: tuple[str, ...] = ()


Had = Mapping[str, tuple[tuple[datetime, datetime], ...]]


@dataclass(frozen=True, slots=True)
class Known:
    """Everything at one look.

    Attributes:
        uses: phases that have a kit in use now.
        offers: by kit, what it costs where, the cheapest day first.
        dates: until when kits may be used.
        had: by kit, when it was here or in use.
    """

    now: datetime
    calendar: Calendar
    kits: Sequence[KitRow]
    uses: Sequence[Use]
    hires: Sequence[HireOut]
    offers: Mapping[str, tuple[Offer, ...]]
    prices: Mapping[str, Price]
    dates: Mapping[str, date]
    had: Had

    @property
    def today(self) -> date:
        """The local day."""
        return self.calendar.day_of(self.now)

    def hires_of(self, kit: str) -> list[HireOut]:
        """Its open hires, what is here first, then the first to go back."""
        own = [one for one in self.hires if one.kit == kit]
        return sorted(own, key=lambda one: (not one.here, one.due or one.asked_at, one.hire))

    def offer(self, kit: str) -> Offer | None:
        """The offer with the lowest rate a day, carriage and minimum counted for three days."""
        there = self.offers.get(kit, ())
        return min(there, key=_three_days, default=None)


def _three_days(offer: Offer) -> tuple[float, int]:
    rates = offer.terms.rates
    return rates.day * max(3, rates.minimum_days) + 2 * rates.carriage, -offer.since


def read(db: sqlite3.Connection, now: datetime, calendar: Calendar) -> Known:
    """Return what the file knows of kits and hires now."""
    kits = kit_rows(db)
    return Known(
        now, calendar, kits, uses_of(db, [one.code for one in kits]), hires_out(db),
        offers_now(db), prices_now(db), valid_until(db), _had(db, now),
    )  # fmt: skip


def kit_rows(db: sqlite3.Connection) -> list[KitRow]:
    """Return the kits of the newest work book, in the order of their codes."""
    said = _said(db)
    return [
        KitRow(row["code"], row["name"], bool(row["owned"]), *said.get(row["code"], ("small", ())))
        for row in db.execute("select code, name, owned from kit order by code")
    ]


def _said(db: sqlite3.Connection) -> dict[str, tuple[str, tuple[str, ...]]]:
    """Size and content of kits as the newest work book has them; the whole book is not built."""
    row = db.execute(
        "select json_extract(content, '$.kits') from book order by version desc limit 1"
    ).fetchone()
    if row is None or row[0] is None:
        return {}
    return {
        one["code"]: (one.get("size", "small"), tuple(one.get("contains", ())))
        for one in json.loads(row[0])
    }


def _had(db: sqlite3.Connection, now: datetime) -> Had:
    """When kits were here, by their hires, or in use, where the shop owns them."""
    since = to_text(now - SEEN_BACK)
    found: dict[str, list[tuple[datetime, datetime]]] = defaultdict(list)
    for row in db.execute(
        "select kit, received_at, sent_at from hire where received_at is not null "
        "and (sent_at is null or sent_at > ?) order by received_at",
        [since],
    ):
        found[row["kit"]].append(_span(row["received_at"], row["sent_at"], now))
    for row in db.execute(
        "select kit.value as kit, begun_at, finished_at from (select * from phase where "
        "finished_at > ? and state = 'finished' union all select phase.* from job cross join phase "
        f"using (job) where job.{LIVE} and phase.state = 'under way') as used, "
        "json_each(used.kits) as kit join kit as own on own.code = kit.value "
        "where own.owned and begun_at is not null order by begun_at",
        [since],
    ):
        found[row["kit"]].append(_span(row["begun_at"], row["finished_at"], now))
    return {kit: tuple(_joined(spans)) for kit, spans in found.items()}


def _span(since: str, until: str | None, now: datetime) -> tuple[datetime, datetime]:
    return from_text(since), now if until is None else from_text(until)


def _joined(spans: Sequence[tuple[datetime, datetime]]) -> list[tuple[datetime, datetime]]:
    """Spans in their order, those that touch made one."""
    made: list[tuple[datetime, datetime]] = []
    for since, until in spans:
        if made and since <= made[-1][1]:
            made[-1] = (made[-1][0], max(made[-1][1], until))
        else:
            made.append((since, until))
    return made
