"""Stretches of jobs that need a kit, in joint draws: draw k of every one is the same dice."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from store.sums.hires.days import ShopDays
from store.sums.spans import Layout

NOT = math.inf
"""Start and end of a stretch in a draw in which the job does not need the kit."""

DAY_S = 86_400.0
SPARE_S = 20 * DAY_S
"""Laid out beyond what is known, for what moves across closed days."""


@dataclass(frozen=True, slots=True)
class Need:
    """A stretch of phases of one job that needs a kit.

    Attributes:
        job: its number.
        start, end: (draws,) epoch seconds, end not before start; `NOT` in both where the route
            goes another way in that draw.
        begun: the kit is in use there now.
        captive: fixed on the open unit from the first phase to the last.
        on_lift: a lift waits where the job waits.

    Raises:
        ValueError: the draws do not fit each other.
    """

    job: str
    start: Sequence[float]
    end: Sequence[float]
    begun: bool = False
    captive: bool = False
    on_lift: bool = True

    def __post_init__(self) -> None:
        if not self.start or len(self.start) != len(self.end):
            raise ValueError(f"{len(self.start)} starts and {len(self.end)} ends are no draws")
        if any(not start <= end for start, end in zip(self.start, self.end, strict=True)):
            raise ValueError(f"the need of {self.job} ends before it starts in a draw")

    @property
    def fixed(self) -> bool:
        """It is on an open unit now: no swap, no sending back."""
        return self.begun and self.captive


def need_of(
    job: str,
    draws: Iterable[tuple[datetime, datetime]],
    *,
    begun: bool = False,
    captive: bool = False,
    on_lift: bool = True,
) -> Need:
    """A need from pairs of instants; where both are the same the kit is not needed."""
    pairs = [
        (since.timestamp(), until.timestamp()) if since < until else (NOT, NOT)
        for since, until in draws
    ]
    return Need(job, [since for since, _ in pairs], [until for _, until in pairs],
                begun, captive, on_lift)  # fmt: skip


def draws_of(needs: Sequence[Need]) -> int:
    """How many draws there are.

    Raises:
        ValueError: they differ in number.
    """
    sizes = {len(need.start) for need in needs}
    if len(sizes) > 1:
        raise ValueError(f"needs are drawn alike, not {sorted(sizes)} times")
    return sizes.pop() if sizes else 1


def from_now(need: Need, now: float) -> Need:
    """What is left of a need from an instant (epoch seconds) on."""
    end = [each if each > now else NOT for each in need.end]
    start = [
        max(begin, now) if each < NOT else NOT for begin, each in zip(need.start, end, strict=True)
    ]
    return replace(need, start=start, end=end)


def by_job(needs: Sequence[Need]) -> list[Need]:
    """One need for each job, from the start of its first stretch to the end of its last.

    What waits for its kit once does not wait for it again: all later stretches move by as much.
    """
    jobs: dict[str, list[Need]] = {}
    for need in needs:
        jobs.setdefault(need.job, []).append(need)
    return [each[0] if len(each) == 1 else _joined(each) for each in jobs.values()]


def moved(shop: ShopDays, need: Need, shift_s: Sequence[float]) -> Need:
    """A need that starts and ends so many open seconds later, in each draw."""
    if not any(shift_s):
        return need
    known = [at for at in (*need.start, *need.end) if at < NOT]
    longest = SPARE_S + 4 * max(shift_s)
    laid = shop.open_time(min(known), max(known) + longest)
    later = [
        [_later(laid, at, shift) for at, shift in zip(side, shift_s, strict=True)]
        for side in (need.start, need.end)
    ]
    return replace(need, start=later[0], end=later[1])


def _later(laid: Layout, at: float, shift_s: float) -> float:
    """What is never needed, or waits for nothing, stays where it is."""
    if shift_s <= 0 or at >= NOT:
        return at
    return laid.when(min(laid.upto(at) + shift_s, laid.reach))


def waits(shop: ShopDays, need: Need, before: Need) -> list[float]:
    """(draws,) open seconds for which a need waits until another is over that uses the kit first.

    Nothing, where it is over before the other starts.
    """
    until = [
        over if begin < end and over < NOT else -NOT
        for end, begin, over in zip(need.end, before.start, before.end, strict=True)
    ]
    return waits_until(shop, need, until)


def waits_until(shop: ShopDays, need: Need, until: Sequence[float]) -> list[float]:
    """(draws,) open seconds from the start of a need until an instant (epoch seconds) after it."""
    pairs = list(zip(need.start, until, strict=True))
    known = [at for pair in pairs if pair[0] < pair[1] < NOT for at in pair]
    if not known:
        return [0.0] * len(pairs)
    laid = shop.open_time(min(known), max(known))
    return [laid.upto(end) - laid.upto(start) if start < end < NOT else 0.0 for start, end in pairs]


def is_needed(need: Need) -> bool:
    """Whether the kit is needed in any draw."""
    return min(need.start) < NOT


def _joined(needs: Sequence[Need]) -> Need:
    start = [min(each) for each in zip(*(need.start for need in needs), strict=True)]
    end = [_last(each) for each in zip(*(need.end for need in needs), strict=True)]
    return Need(
        needs[0].job, start, end, any(need.begun for need in needs),
        any(need.captive for need in needs), any(need.on_lift for need in needs),
    )  # fmt: skip


def _last(ends: Sequence[float]) -> float:
    return max((end for end in ends if end < NOT), default=NOT)
