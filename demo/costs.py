"""What each month cost Marsh Lane Works, as its owner types it early in the next one.

Figures lie where shops of five to six people see them: common practice, no source.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from demo.founding import employed_on
from demo.people import EVERYBODY, FOREMAN, INES, KAREL, NOOR, OWNER, RUBEN, SECOND_YEAR, TOMAS
from demo.world import World
from store.actions.month_costs import set_costs

MONTHLY = {
    OWNER.badge: 3600.0, FOREMAN.badge: 4900.0, INES.badge: 4300.0, KAREL.badge: 4200.0,
    RUBEN.badge: 3700.0, TOMAS.badge: 3600.0, NOOR.badge: 1250.0,
}  # fmt: skip
"""Pay by badge, with what goes to others on top."""
SECOND_YEAR_MORE = 230.0
HOLIDAY_PAY, HOLIDAY_MONTH = 0.08, 5
"""Of a year's pay, paid out in May."""
RENT, INSURANCE, WEAR = 2850.0, 640.0, 1150.0
POWER = (1180, 1120, 930, 720, 560, 500, 480, 500, 560, 720, 930, 1120)
"""Power and heat by month."""
OFFICE = (780.0, 1450.0)
"""All the rest: telephone, waste, small things; from and to."""
TYPED_FROM = 4
"""Day of the month from which on the bills of the last one are together."""


def type_costs(world: World, day: date, first: date, now: datetime) -> None:
    """On its first open day with all bills there, type what the last month cost."""
    if not world.calendar.shifts_of(day) or not _is_the_day(world, day):
        return
    last = day.replace(day=1) - timedelta(days=1)
    if last.replace(day=1) < first:  # half a month's hours would not fit a month's costs
        return
    set_costs(
        world.shop, world.pen.by(OWNER.badge, now, "office"), month=f"{last:%Y-%m}",
        wages=wages(last), overheads=_overheads(world, last),
    )  # fmt: skip


def _is_the_day(world: World, day: date) -> bool:
    earlier = range(TYPED_FROM, day.day)
    return day.day >= TYPED_FROM and not any(
        world.calendar.shifts_of(day.replace(day=one)) for one in earlier
    )


def wages(last: date) -> float:
    """Return the wages of a month, given by its last day."""
    middle = last.replace(day=15)
    pay = sum(MONTHLY[one.badge] for one in EVERYBODY if employed_on(one, middle))
    if middle >= SECOND_YEAR:
        pay += SECOND_YEAR_MORE
    return round(pay * (1 + 12 * HOLIDAY_PAY * (last.month == HOLIDAY_MONTH)), 2)


def _overheads(world: World, last: date) -> float:
    dice = world.chance("costs")
    power = POWER[last.month - 1] * dice.uniform(0.92, 1.08)
    return round(RENT + INSURANCE + WEAR + power + dice.uniform(*OFFICE), 2)
