"""The months behind today, lived through day by day."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from demo.chance import Chance, one_in
from demo.costs import type_costs
from demo.flow import after_phase, free_lift, goes_on
from demo.founding import INSPECTED, LIFTS, add, employed_on, inspect, working_days
from demo.hands import choose
from demo.intake import bring_in, promised, small_job, usual_ceiling
from demo.pen import Pen, minutes
from demo.people import EVERYBODY, FOREMAN, NOOR, OWNER, QUALIFIED, RUBEN, SECOND_YEAR, TERMS
from demo.shifts import open_day, set_off
from demo.stops import happen
from demo.story import Story
from demo.suppliers import DATES, inspect_kit, next_date
from demo.world import Hooks, Worker, World
from store.actions import people
from store.file.books import book_on
from store.file.facts import calendar_of
from store.file.learned.own import ShopLearner
from store.file.learned.turns import teach
from store.file.shop import Shop
from store.sums.hires.days import ShopDays
from store.sums.working_time import Calendar, at_zone

SICK_ODDS = 0.018
HOLIDAYS_A_YEAR = ((2, 5), (7, 12), (8, 5), (10, 4))
"""Month, and how many working days somebody is away in it."""


LESSONS = (200,)
"""Days after which the shop learns from what was finished by then, and estimates by it: as seldom
as a demo that is to be there soon allows."""
BEFORE_THE_DESK = 90
"""Days of the past, at least, in which all jobs come the short way."""
DESK_DAYS = 130
"""So long the shop has kept its desk here: every call, what is quoted, what is declined."""
FOLLOWED_DAYS = 270
"""So long the shop has written down what is to be done after a job."""
CLOSED_DAYS, CALM_DAYS = 16, 9
"""Before the past ends: no new deep jobs, then none on a lift, so that all of them end."""


def new_world(shop: Shop, pen: Pen, chance: Chance, story: Story, first: date, last: date) -> World:
    """Return the workshop on its first morning."""
    with shop.reading() as db:
        calendar = calendar_of(db)
        _, book = book_on(db, first)
    workers = {
        one.badge: Worker(one) for one in EVERYBODY if one is not RUBEN or employed_on(one, first)
    }
    world = World(
        shop, pen, chance, calendar, book, _hooks(), workers,
        {lift.code: lift.rated_kg for lift in LIFTS}, _midnight(calendar, last, CALM_DAYS),
        _midnight(calendar, last, CLOSED_DAYS), last, _desk_from(calendar, first, last),
        _midnight(calendar, last, FOLLOWED_DAYS), ShopDays(calendar), story,
    )  # fmt: skip
    world.on = {lift.code: None for lift in LIFTS}
    for person, what, _ in QUALIFIED:
        world.qualified.setdefault(person.badge, set()).add(what)
    return world


def _hooks() -> Hooks:
    return Hooks(
        choose, happen, after_phase, bring_in, goes_on, free_lift, promised,
        usual_ceiling, small_job,
    )  # fmt: skip


def _desk_from(calendar: Calendar, first: date, last: date) -> datetime:
    """A long past begins the short way; a short one has its desk from the first day."""
    day = max(last - timedelta(days=DESK_DAYS), first + timedelta(days=BEFORE_THE_DESK))
    return at_zone(first if day > last else day, time(), calendar.zone)


def _midnight(calendar: Calendar, last: date, days: int) -> datetime:
    return at_zone(last - timedelta(days=days), time(), calendar.zone)


def live_through(world: World, first: date, last: date) -> None:
    """Let every day from the first to the last happen."""
    leave = _holidays(world, first, last)
    for day in working_days(first, last):
        morning = at_zone(day, time(7, 0), world.calendar.zone)
        world.run(morning)
        if (day - first).days in LESSONS:
            teach(world.shop, ShopLearner())
        _staff(world, day, first, morning)
        _inspections(world, day, first, morning)
        if world.calendar.shifts_of(day):
            _absences(world, day, leave, morning)
        type_costs(world, day, first, morning + minutes(4))
        open_day(world, day)
    world.run(at_zone(last + timedelta(days=1), time(), world.calendar.zone))


def _staff(world: World, day: date, first: date, now: datetime) -> None:
    """Somebody comes, somebody goes, a year of learning begins."""
    for person in EVERYBODY:
        if first < day == person.from_day - timedelta(days=7) or (
            day == first and first < person.from_day < first + timedelta(days=7)
        ):
            add(world.shop, world.pen, person, now)
    if day > first and RUBEN.until_day is not None and day == RUBEN.until_day - timedelta(days=45):
        people.change_person(
            world.shop, world.pen.by(OWNER.badge, now, "office"), badge=RUBEN.badge,
            until_day=RUBEN.until_day,
        )  # fmt: skip
    if day == SECOND_YEAR and day > first:
        people.change_person(
            world.shop, world.pen.by(OWNER.badge, now, "office"), badge=NOOR.badge,
            experience="apprentice 2",
        )  # fmt: skip


def _inspections(world: World, day: date, first: date, now: datetime) -> None:
    for code, (month, of_month) in INSPECTED.items():
        if day > first and (day.month, day.day) == (month, of_month):
            inspect(world.shop, world.pen, code, day, now)
    for kit, (month, of_month) in DATES.items():
        if day > first and (day.month, day.day) == (month, of_month):
            inspect_kit(world.shop, world.pen, kit, next_date(kit, day), now)


def _holidays(world: World, first: date, last: date) -> dict[date, list[str]]:
    """Who is on holiday on which day: never two technicians of a kind at once."""
    dice = world.chance("holidays")
    found: dict[date, list[str]] = {}
    badges = [one.badge for one in EVERYBODY if one is not OWNER]
    for year in range(first.year, last.year + 1):
        for month, days in HOLIDAYS_A_YEAR:
            for place, badge in enumerate(badges):
                start = date(year, month, 1) + timedelta(days=place * 6 % 27 + dice.randrange(3))
                if start > last - timedelta(days=25):
                    continue
                for day in working_days(start, start + timedelta(days=round(days * 1.4))):
                    if len(found.get(day, [])) < 2:
                        found.setdefault(day, []).append(badge)
    return found


def _absences(world: World, day: date, leave: dict[date, list[str]], now: datetime) -> None:
    """Holidays and illness, written down when the day begins."""
    dice = world.chance("absence")
    for badge, worker in world.workers.items():
        person = worker.person
        if person is OWNER or day < person.from_day or day in worker.off:
            continue
        if person.until_day is not None and day > person.until_day:
            continue
        if badge in leave.get(day, []):
            last = day
            while badge in leave.get(last + timedelta(days=1), []):
                last += timedelta(days=1)
            set_off(world, worker, day, last, "holiday", now + minutes(5))
        elif one_in(dice, SICK_ODDS) and badge != FOREMAN.badge and not world.calm(now):
            set_off(world, worker, day, day + timedelta(days=dice.choice((0, 0, 1, 3))), "ill", now)
        elif person.school == day.isoweekday() and any(a <= day <= b for a, b in TERMS):
            set_off(world, worker, day, day, "school", now)
