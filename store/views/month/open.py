"""Which month, and who may see whose figures."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from store.file.month.facts import Facts, began_at
from store.sums.month.jobs import JobJudged, PhaseJudged
from store.sums.month.span import MonthSpan, is_month, month_of, month_span
from store.trouble import Refused
from store.views.month.look import Reader


@dataclass(frozen=True, slots=True)
class Asked:
    """Who reads: the owner, or whoever can open the file, where `badge` is None.

    Attributes:
        of: whose jobs alone are judged.
    """

    role: Reader
    badge: str | None
    of: str | None

    def sees(self, badge: str | None) -> bool:
        """Whether this person's figures are shown."""
        return self.role == "owner" or badge == self.badge


def reader_of(db: sqlite3.Connection, by: str | None, of: str | None) -> Asked:
    """Return who reads, and about whom.

    Raises:
        Refused: there is no such badge; or another's figures are asked for by no owner.
    """
    about = None if of is None else _person(db, of)[1]
    found = Asked("owner", None, about) if by is None else Asked(*_person(db, by), about)
    badge = found.badge
    if about is not None and not found.sees(about):
        raise Refused(
            f"{badge} may see the figures of the shop and their own. Those of {about} only the "
            "owner sees."
        )
    return found


def _person(db: sqlite3.Connection, badge: str) -> tuple[Reader, str]:
    row = db.execute("select role, badge from person where badge = ?", [badge.upper()]).fetchone()
    if row is None:
        raise Refused(f"There is no badge {badge}. Look: hoistbook people.")
    return row["role"], row["badge"]


def opened(db: sqlite3.Connection, month: str, now: datetime, zone: ZoneInfo) -> MonthSpan:
    """Return a month of the shop's.

    Raises:
        Refused: it is no month, before the shop's first entry, or has not begun.
    """
    newest, first = month_of(now.astimezone(zone).date()), first_month(db, zone)
    if not is_month(month):
        raise Refused(f"{month!r} is no month. Say it as year and month, {newest}.")
    if month > newest:
        raise Refused(f"{month} has not begun yet. The newest month is {newest}.")
    if month < first:
        raise Refused(f"The shop's entries begin in {first}: nothing is known of {month}.")
    return month_span(month, now, zone)


def first_month(db: sqlite3.Connection, zone: ZoneInfo) -> str:
    """Return the month of the first thing that happened: late entries may lie before the file."""
    return month_of(began_at(db).astimezone(zone).date())


def seen_by(facts: Facts, reader: Asked) -> Facts:
    """Leave out who led which job and did which phase, where the reader may not know it."""
    if reader.role == "owner":
        return facts

    def shown(one: PhaseJudged) -> PhaseJudged:
        return replace(
            one, badge=one.badge if reader.sees(one.badge) else None,
            clocks=tuple(each for each in one.clocks if reader.sees(each.badge)),
        )  # fmt: skip

    def seen(one: JobJudged) -> JobJudged:
        lead = one.lead if reader.sees(one.lead) else None
        return replace(one, lead=lead, phases=tuple(shown(each) for each in one.phases))

    return replace(
        facts, jobs=tuple(seen(one) for one in facts.jobs),
        phases=tuple(shown(one) for one in facts.phases),
    )  # fmt: skip
