"""Marsh Lane Works is founded: calendar, lifts, people, work book."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from importlib.resources import files
from pathlib import Path

from demo.days_off import holidays
from demo.pen import Pen
from demo.people import EVERYBODY, OWNER, PIN, QUALIFIED, Person
from demo.suppliers import make_known
from store.actions import books, people, places, settings
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.shop import Demo, WeekSpan
from store.edges.instants import to_text
from store.file.shop import Shop

LIFTS = (
    LiftPlan("1", "two-post", 4000.0),
    LiftPlan("2", "two-post", 4000.0),
    LiftPlan("3", "two-post", 5500.0),
    LiftPlan("4", "four-post", 5000.0),
    LiftPlan("5", "low scissor", 3000.0),
)
INSPECTED = {"1": (3, 9), "2": (10, 27), "3": (3, 9), "4": (6, 16), "5": (1, 20)}
"""Month and day of each lift's yearly inspection: that of lift 2 runs out soon."""
EVERY_MONTHS = 12
INTERVAL_SOURCE = "lift maker's manual, yearly"
INSPECTOR = "Hollander lift inspections"
RATE = 92.0
SHIFTS = [
    WeekSpan(days=[1, 2, 3, 4], start="07:30", end="16:30"),
    WeekSpan(days=[5], start="07:30", end="15:00"),
]
BREAKS = [
    WeekSpan(days=[1, 2, 3, 4, 5], start="09:30", end="09:45"),
    WeekSpan(days=[1, 2, 3, 4, 5], start="12:00", end="12:45"),
]


def workbook_text() -> str:
    """Return the demo's work book as it is written."""
    return files("demo").joinpath("workbook.toml").read_text("utf-8")


def found(
    path: Path, pen: Pen, now: datetime, demo: Demo, last_year: int, then: Callable[[Shop], object]
) -> Shop:
    """Make the shop file with everything that stands before the first job.

    Args:
        last_year: public holidays are known up to its end.
        then: writes the rest; only a whole demo shop takes its name.
    """
    plan = ShopPlan(
        "Marsh Lane Works", "Europe/Amsterdam", "EUR", SHIFTS, BREAKS, LIFTS,
        OWNER.badge, OWNER.name, PIN, rate_per_hour=RATE,
    )  # fmt: skip

    def begin(shop: Shop) -> None:
        _furnish(shop, pen, now, last_year)
        then(shop)

    act = pen.by(OWNER.badge, now, "office")
    return found_shop(path, act, plan, demo=demo, secret=pen.secret, then=begin)


def _furnish(shop: Shop, pen: Pen, now: datetime, last_year: int) -> None:
    with shop.bulk():
        _people(shop, pen, now)
        _places(shop, pen, now)
        _days_off(shop, pen, now, last_year)
        books.load_workbook(
            shop, pen.by(OWNER.badge, now, "office"), source=workbook_text(), routes_tried=True
        )
        make_known(shop, pen, now)


def _people(shop: Shop, pen: Pen, now: datetime) -> None:
    here = [one for one in EVERYBODY if one is not OWNER and employed_on(one, now.date())]
    for person in here:
        add(shop, pen, person, now)
    for person, what, until in QUALIFIED:
        act = pen.by(OWNER.badge, now, "office")
        people.qualify(shop, act, badge=person.badge, what=what, until=until)


def employed_on(person: Person, day: date) -> bool:
    """Tell whether somebody works here on a day."""
    return person.from_day <= day and (person.until_day is None or day <= person.until_day)


def add(shop: Shop, pen: Pen, person: Person, now: datetime) -> None:
    """Put somebody on the roll, with a badge and a PIN."""
    people.add_person(
        shop, pen.by(OWNER.badge, now, "office"), badge=person.badge, name=person.name,
        role=person.role, experience=person.experience, from_day=person.from_day,
    )  # fmt: skip
    act = pen.by(OWNER.badge, now, "office")
    people.set_pin(shop, act, badge=person.badge, pin=PIN, secret=pen.secret)


def _places(shop: Shop, pen: Pen, now: datetime) -> None:
    for code, kind in (("W1", "bench"), ("W2", "bench"), ("S", "stand"), ("Y", "yard")):
        act = pen.by(OWNER.badge, now, "office")
        places.add_place(shop, act, code=code, kind=kind)  # type: ignore[arg-type]  # a pair
    for lift in LIFTS:
        inspect(shop, pen, lift.code, last_inspection(lift.code, now.date()), now)


def last_inspection(code: str, day: date) -> date:
    """Return the day of a lift's last inspection up to a day."""
    month, of_month = INSPECTED[code]
    found = date(day.year, month, of_month)
    return found if found <= day else date(day.year - 1, month, of_month)


def inspect(shop: Shop, pen: Pen, code: str, day: date, now: datetime) -> None:
    """Record a lift's inspection."""
    places.inspect_lift(
        shop, pen.by(OWNER.badge, now, "office"), code=code, day=day, months=EVERY_MONTHS,
        source=INTERVAL_SOURCE, inspector=INSPECTOR,
    )  # fmt: skip


def _days_off(shop: Shop, pen: Pen, now: datetime, last_year: int) -> None:
    for year in range(now.year, last_year + 1):
        for day, name in holidays(year):
            if day > now.date():
                act = pen.by(OWNER.badge, now, "office")
                settings.set_holiday(shop, act, day=day, name=name)


def made_for(seed: int, months: int, opens_at: datetime) -> Demo:
    """Return the mark that the shop's first event carries."""
    return Demo(seed=seed, months=months, opens_at=to_text(opens_at))


def working_days(first: date, last: date) -> list[date]:
    """Return the days from one to another, both included."""
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]
