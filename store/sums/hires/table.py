"""Expected costs of a hire for every day on which it may come and every day it may go back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from store.sums.hires.charge import Hiring
from store.sums.hires.days import ShopDays
from store.sums.hires.ground import Ground
from store.sums.hires.needs import Need
from store.sums.hires.terms import NOON, Terms

ON_TIME = (1.0,)
"""Chances that a kit comes 0, 1, 2 ... working days late: see `lateness.arrivals`."""
LIFT_DAY = 150.0
"""What a waiting lift costs a shop day, in hours not sold. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What all windows of one shop and one supplier share.

    Attributes:
        days: the shop's days; terms: of the supplier for this kit.
        arrivals: chances that the kit comes 0, 1, 2 ... working days after its day; sum 1.
        lift_day: what a waiting lift costs a shop day.
    """

    days: ShopDays
    terms: Terms
    arrivals: Sequence[float] = ON_TIME
    lift_day: float = LIFT_DAY


@dataclass(frozen=True, slots=True)
class Cost:
    """Expected money: `waiting` of lifts that wait for the kit."""

    hire: float
    carriage: float
    late: float
    waiting: float

    @property
    def total(self) -> float:
        """All four."""
        return self.hire + self.carriage + self.late + self.waiting

    def plus(self, other: Cost) -> Cost:
        """Both together."""
        return Cost(
            self.hire + other.hire, self.carriage + other.carriage, self.late + other.late,
            self.waiting + other.waiting,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Arrival:
    """Expected costs of a kit that came on one day, by the place of the return day: (days,) each.

    Attributes:
        needed: chance that it is still needed after that day's cut-off.
        hire, late: money. A day before it came counts as the day it came.
        waiting: money, whatever the return day; waited: shop days, of jobs on no lift too.
    """

    needed: Sequence[float]
    hire: Sequence[float]
    late: Sequence[float]
    waiting: float
    waited: float


class Table:
    """Expected costs by places of days in `ground.days`."""

    def __init__(self, asked: Asked, ground: Ground, here: datetime | None = None) -> None:
        """Nothing is summed before it is asked for.

        Args:
            here: when the kit came, if it is here: it comes on no other day, and nobody waits.
        """
        self.ground = ground
        self._asked, self._here = asked, here
        self._hiring = Hiring(asked.terms, asked.days)
        self._came: dict[int, Arrival] = {}
        self._ordinals = [day.toordinal() for day in ground.days]

    def totals(self, delivery: int) -> list[float]:
        """(days,) expected money of each return day, without carriage, for a delivery day."""
        found = [0.0] * len(self._ordinals)
        for chance, came in self._arrivals(delivery):
            found = [
                so_far + chance * (hire + late + came.waiting)
                for so_far, hire, late in zip(found, came.hire, came.late, strict=True)
            ]
        return found

    def waited(self, delivery: int) -> float:
        """Shop days for which jobs are expected to wait, on a lift or not."""
        return sum(chance * came.waited for chance, came in self._arrivals(delivery))

    def cost(self, delivery: int, back: int) -> tuple[Cost, float]:
        """Expected cost of a pair of days, and the chance that it is still needed after it."""
        arrivals = self._arrivals(delivery)
        cost = Cost(
            sum(chance * came.hire[back] for chance, came in arrivals),
            2 * self._asked.terms.rates.carriage,
            sum(chance * came.late[back] for chance, came in arrivals),
            sum(chance * came.waiting for chance, came in arrivals),
        )
        return cost, sum(chance * came.needed[back] for chance, came in arrivals)

    def _arrivals(self, delivery: int) -> list[tuple[float, Arrival]]:
        if self._here is not None:
            return [(1.0, self._at(0))]
        last = len(self._ordinals) - 1
        return [
            (chance, self._at(min(delivery + late, last)))
            for late, chance in enumerate(self._asked.arrivals)
            if chance > 0
        ]

    def _at(self, place: int) -> Arrival:
        found = self._came.get(place)
        if found is None:
            found = self._came[place] = self._summed(place)
        return found

    def _summed(self, first: int) -> Arrival:
        """Sums over the days on which it is over, from the last one back to its coming.

        hire(R) = P(H <= R) C(R) + sum over h > R of P(H = h) C(h), C what the days come to; and
        late(R) = fee sum over h > R of P(H = h) (h - R), in days of the calendar.
        """
        over = self.ground.over_by(None if self._here else first)
        money = self._money(first)
        hire, late, needed = [0.0] * len(over), [0.0] * len(over), [0.0] * len(over)
        rest_hire = rest_late = 0.0
        fee = self._asked.terms.house.late * self._asked.terms.rates.day
        for day in range(len(over) - 1, first - 1, -1):
            needed[day] = 1 - over[day]
            hire[day] = over[day] * money[day - first] + rest_hire
            late[day] = rest_late
            if day > first:
                chance = over[day] - over[day - 1]
                rest_hire += chance * money[day - first]
                rest_late += fee * (1 - over[day - 1]) * self._ahead(day)
        for day in range(first):
            hire[day], late[day], needed[day] = hire[first], late[first], self.ground.needed
        place = None if self._here else first
        waiting = self.ground.waits(place, on_lift=True) * self._asked.lift_day
        return Arrival(needed, hire, late, waiting, self.ground.waits(place, on_lift=False))

    def _ahead(self, day: int) -> int:
        """Days of the calendar from the working day before to this one."""
        return self._ordinals[day] - self._ordinals[day - 1]

    def _money(self, first: int) -> list[float]:
        """What the days come to, handed over on each day from the one on which it came."""
        came, after_noon = self._came_on(first)
        return [
            self._hiring.money(came, handed, after_noon=after_noon)
            for handed in self.ground.days[first:]
        ]

    def _came_on(self, first: int) -> tuple[date, bool]:
        """A kit that is to come comes in the morning."""
        if self._here is None:
            return self.ground.days[first], False
        local = self._here.astimezone(self._asked.days.calendar.zone)
        return local.date(), local.time() >= NOON


def laid(
    asked: Asked, needs: Sequence[Need], first: date, latest: date, here: datetime | None = None
) -> Table:
    """The table of needs from a first day on; `latest`: the last one on which the kit may come."""
    ground = Ground(asked.days, needs, first, asked.terms.house.cut_off, latest)
    return Table(asked, ground, here)
