"""One long hire or two short ones; a running hire: extend, hire again, let another use it first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from store.sums.hires.needs import (
    Need,
    by_job,
    draws_of,
    from_now,
    is_needed,
    moved,
    waits,
    waits_until,
)
from store.sums.hires.window import (
    Asked,
    Cost,
    Pair,
    Window,
    best_window,
    by_return_day,
    with_waiting,
)

Way = Literal["extend", "return and hire again", "use first", "wait"]
"""How to go on; `wait`: the other job waits for the kit and uses it next."""


@dataclass(frozen=True, slots=True)
class LongOrShort:
    """Two stretches of need: one hire over both, or one for each."""

    long: Window
    short: tuple[Window, Window]

    @property
    def short_total(self) -> float:
        """Expected money of both short ones."""
        return sum(each.best.cost.total for each in self.short)

    @property
    def saved(self) -> float:
        """What two short ones save against the long one; below 0 they cost more."""
        return self.long.best.cost.total - self.short_total


@dataclass(frozen=True, slots=True)
class Option:
    """One way to go on with a hire that runs.

    Attributes:
        cost: expected money of all hires and waits that it leads to, from the delivery on, the
            other job's own hire taken in where the way leaves it to hire for itself.
        back: the day to hand it over.
        again: the next delivery day, where it is hired again.
        shift_h: open hours by which the job's need moves on the average.
    """

    way: Way
    cost: Cost
    back: date
    again: date | None = None
    shift_h: float = 0.0


def long_or_short(asked: Asked, first: Need, second: Need, ready: date) -> LongOrShort:
    """Weigh one hire over two stretches of a job, or of two, against one for each.

    Args:
        first, second: in the order of their use. Of one job: where the first would wait for a kit
            that comes on its day, the second moves by as much. Of two jobs: with one kit the second
            waits until the first has done with it, and its lift with it; with two it does not.
        ready: the first day on which a kit can come.

    Raises:
        ValueError: a stretch that is needed in no draw, or draws that differ in number.
    """
    one = best_window(asked, [first], ready)
    if first.job == second.job:
        long = best_window(asked, [first, second], ready)
        opens = asked.days.opens(one.best.delivery).timestamp()
        late = waits_until(asked.days, first, [opens] * len(first.start))
        second = moved(asked.days, second, late)
    else:
        long = _one_after_another(asked, first, second, ready)
    return LongOrShort(long, (one, best_window(asked, [second], ready)))


def _one_after_another(asked: Asked, first: Need, second: Need, ready: date) -> Window:
    """One hire for two jobs, of which one waits for the other."""
    shift_s = waits(asked.days, second, first)
    found = best_window(asked, [first, moved(asked.days, second, shift_s)], ready)
    return with_waiting(found, _lost(asked, second, shift_s, found.best.delivery))


def _lost(asked: Asked, need: Need, shift_s: Sequence[float], day: date) -> float:
    """Money of a lift that waits for so many open seconds, in each draw."""
    if not need.on_lift:
        return 0.0
    mean_h = sum(shift_s) / len(shift_s) / 3600
    return mean_h / asked.days.shop_day_h(day) * asked.lift_day


def going_on(
    asked: Asked,
    needs: Sequence[Need],
    came: datetime,
    now: datetime,
    *,
    due: date | None = None,
    other: Need | None = None,
) -> tuple[Option, ...]:
    """Ways to go on with a hire that is here, the cheapest first.

    A kit that is fixed on an open unit can only be extended, and used by another afterwards.

    Args:
        needs: stretches of the job that has it, still ahead or running; none: it has done with it.
        came, due: as `by_return_day` takes them.
        other: a stretch of another job that could use it too, and hires one of its own otherwise.

    Raises:
        ValueError: draws that differ in number.
    """
    draws_of([*needs, other] if other else needs)
    if other is not None and not is_needed(other):
        other = None
    here = _Here(asked, _ahead(needs, now), came, now, due)
    alone = NOTHING if other is None else best_window(asked, [other], here.ready).best.cost
    found = [here.extended(alone)]
    if here.needs and not here.fixed:
        found.append(here.again(alone))
    if other is not None:
        found += here.shared(other)
    return tuple(sorted(found, key=lambda one: one.cost.total))


NOTHING = Cost(0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class _Here:
    """A hire that is here."""

    asked: Asked
    needs: tuple[Need, ...]
    came: datetime
    now: datetime
    due: date | None

    @property
    def fixed(self) -> bool:
        """It cannot leave the job that has it."""
        return any(need.fixed for need in self.needs)

    @property
    def ready(self) -> date:
        """The first day on which one that is asked for now can come."""
        days = self.asked.days
        return days.after(days.calendar.day_of(self.now), self.asked.terms.house.lead_days)

    def returned(self, needs: Sequence[Need]) -> Pair:
        """The best return day."""
        return by_return_day(self.asked, needs, self.came, self.now, self.due).best

    def extended(self, alone: Cost) -> Option:
        """It stays as long as the job needs it."""
        best = self.returned(self.needs)
        return Option("extend", best.cost.plus(alone), best.back)

    def again(self, alone: Cost) -> Option:
        """It goes back now, and another one comes when it pays."""
        gone = self.returned(())
        new = best_window(self.asked, self.needs, self.ready).best
        cost = gone.cost.plus(new.cost).plus(alone)
        return Option("return and hire again", cost, gone.back, new.delivery)

    def shared(self, other: Need) -> list[Option]:
        """The other job uses it too, before or afterwards."""
        if not self.needs:
            best = self.returned([other])
            return [Option("use first", best.cost, best.back)]
        own, *rest = self.needs
        after = self._turn("wait", other, own, rest)
        return [after] if self.fixed else [after, self._turn("use first", own, other, rest)]

    def _turn(self, way: Way, waiting: Need, before: Need, rest: Sequence[Need]) -> Option:
        """One waits until the other has done with it."""
        days, house = self.asked.days, self.asked.terms.house
        shift_s = waits(days, waiting, before)
        best = self.returned([before, moved(days, waiting, shift_s), *rest])
        lost = _lost(self.asked, waiting, shift_s, days.handed(self.now, house.cut_off))
        cost = best.cost.plus(Cost(0.0, 0.0, 0.0, lost))
        return Option(way, cost, best.back, shift_h=sum(shift_s) / len(shift_s) / 3600)


def _ahead(needs: Sequence[Need], now: datetime) -> tuple[Need, ...]:
    """What is left of each job's need from now on."""
    left = (from_now(need, now.timestamp()) for need in by_job(needs))
    return tuple(need for need in left if is_needed(need))
