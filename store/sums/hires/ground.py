"""Needs in draws laid on the shop's days: when each would be over, if the kit came on some day."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta

from store.sums.hires.days import ONE, ShopDays
from store.sums.hires.needs import NOT, Need, by_job, draws_of
from store.sums.spans import Layout

FARTHEST = 366
"""Days that are looked ahead at most; what lasts longer ends on the last of them."""
SPARE_S = 10 * 86_400.0
"""Laid out beyond: waiting through a working day may end after a week-end or two."""
ROUNDING_S = 1e-3
SHORTEST = 5
"""Working days at least, so that there is a table to be looked at."""
NEVER = -1.0
"""An end in open seconds, of a draw in which nobody needs the kit."""


class Ground:
    """Working days in a row, and needs as open seconds on them.

    Attributes:
        days: working days, rising, until every need is over wherever the kit comes.
        day_s: open seconds of one of them, on the average.
        draws: how many.
        needed: share of them in which anybody needs the kit.
    """

    def __init__(
        self, shop: ShopDays, needs: Sequence[Need], first: date, cut_off: time, latest: date
    ) -> None:
        """Lay out what is needed.

        Args:
            first: the first working day of interest.
            cut_off: local time until which a hand-over counts for its day.
            latest: the latest day on which the kit may come.
        """
        self._shop = shop
        self.draws = draws_of(needs)
        self._jobs = by_job(needs)
        self.days, laid = self._cover(first, latest)
        self._opens = [laid.upto(shop.opens(day).timestamp()) for day in self.days]
        self._cuts = [laid.upto(shop.cut_off(day, cut_off).timestamp()) for day in self.days]
        self._starts = [_upto(laid, job.start, NOT) for job in self._jobs]
        self._ends = [_upto(laid, job.end, NEVER) for job in self._jobs]
        self._lifts = [job.on_lift for job in self._jobs]
        self.needed = sum(end > NEVER for end in self._moved(None)) / self.draws
        self.day_s = shop.shop_day_h(first) * 3600

    def over_by(self, day: int | None) -> list[float]:
        """Share of draws in which all is over by the cut-off of each day: (days,), rising to 1.

        Args:
            day: place in `days` of the day on which the kit comes; None: it is here.
        """
        ends = sorted(self._moved(None if day is None else self._opens[day]))
        shares = [bisect_right(ends, cut + ROUNDING_S) / self.draws for cut in self._cuts]
        return [*shares[:-1], 1.0]

    def waits(self, day: int | None, *, on_lift: bool) -> float:
        """Shop days for which jobs wait on the average, if the kit comes on a day.

        Args:
            on_lift: only jobs are counted whose lift waits with them.
        """
        if day is None:
            return 0.0
        at = self._opens[day]
        waited = (
            sum(at - start for start in starts if start < at)
            for starts, lift in zip(self._starts, self._lifts, strict=True)
            if lift or not on_lift
        )
        return sum(waited) / self.draws / self.day_s

    def starts_between(self) -> tuple[int, int]:
        """Places in `days` of the first and of the last start; there must be one."""
        starts = [start for each in self._starts for start in each if start < NOT]
        low = max(0, bisect_right(self._opens, min(starts)) - 1)
        return low, min(len(self.days) - 1, bisect_left(self._opens, max(starts)))

    def _moved(self, at: float | None) -> list[float]:
        """(draws,) open seconds of the end of the last job, if the kit comes at an instant."""
        every = [
            ends if at is None else _waited(starts, ends, at)
            for starts, ends in zip(self._starts, self._ends, strict=True)
        ]
        if not every:
            return [NEVER] * self.draws
        return every[0] if len(every) == 1 else list(map(max, *every))

    def _cover(self, first: date, latest: date) -> tuple[list[date], Layout]:
        """Working days until all needs are over, and the open time of all."""
        shop = self._shop
        begin = shop.opens(first).timestamp()
        since = min([begin, *(start for job in self._jobs for start in job.start)])
        until = max([begin, *(end for job in self._jobs for end in job.end if end < NOT)])
        moved = until + max(0.0, shop.opens(latest).timestamp() - since) + SPARE_S
        farthest = first + timedelta(days=FARTHEST)
        last = min(farthest, max(latest, datetime.fromtimestamp(moved, UTC).date()))
        days = shop.between(first, last)
        while len(days) < SHORTEST:
            days.append(shop.on_or_after(days[-1] + ONE))
        end = shop.opens(days[-1]) + ONE
        return days, shop.open_time(since, end.timestamp())


def _upto(laid: Layout, instants: Sequence[float], never: float) -> list[float]:
    return [laid.upto(at) if at < NOT else never for at in instants]


def _waited(starts: Sequence[float], ends: Sequence[float], at: float) -> list[float]:
    """Ends of needs that begin at an instant at the earliest; what is never needed stays so."""
    return [
        end + at - start if start < at else end for start, end in zip(starts, ends, strict=True)
    ]
