"""What a terminal knows before anybody has signed in: whose shop, who may come in, which places."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from store.edges.instants import from_text
from store.file.change import newest
from store.file.facts import calendar_of, setting
from store.file.shop import Shop
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class Known:
    """Somebody who may sign in today."""

    badge: str
    name: str
    role: str


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """A place of the shop; `job` stands on it."""

    code: str
    kind: str
    job: str | None
    in_service: bool


@dataclass(frozen=True, slots=True)
class Door:
    """The shop as it looks from outside. `sign_off_s`: seconds without a key, then it signs off."""

    shop: str
    zone: str
    sign_off_s: float
    people: tuple[Known, ...]
    at: datetime = field(compare=False)

    def who(self, badge: str) -> Known:
        """Return who carries a badge.

        Raises:
            Refused: nobody of today's roll does.
        """
        wanted = badge.strip().upper()
        for one in self.people:
            if one.badge == wanted:
                return one
        raise Refused(f"Nobody here has the badge {wanted[:20]}. Scan it again, or ask the owner.")


def door(shop: Shop, now: datetime) -> Door:
    """Return what a terminal shows before anybody has signed in.

    Raises:
        Refused: the file holds no shop yet.
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        row = db.execute("select name from shop").fetchone()
        if row is None:
            raise Refused(f"{shop.path} holds no shop yet. Make one: hoistbook init.")
        calendar = calendar_of(db)
        newest_at = from_text(newest(db).recorded_at)  # a machine's clock may be set back
        day = calendar.day_of(max(now, newest_at)).isoformat()
        people = db.execute(
            "select badge, name, role from person where from_day <= ? "
            "and (until_day is null or until_day >= ?) order by from_day, badge",
            [day, day],
        )
        return Door(
            shop=row["name"], zone=str(calendar.zone),
            sign_off_s=float(setting(db, "sign off after seconds")),
            people=tuple(Known(*one) for one in people), at=now,
        )  # fmt: skip


def places(shop: Shop) -> tuple[PlaceLine, ...]:
    """Return every place in the shop's order, and what stands on it.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        rows = db.execute(
            "select code, kind, in_service, (select min(job) from job_place "
            "where job_place.place = place.place) as job from place order by position"
        )
        return tuple(
            PlaceLine(row["code"], row["kind"], row["job"], bool(row["in_service"])) for row in rows
        )
