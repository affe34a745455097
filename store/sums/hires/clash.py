"""Two jobs and one kit, in open hours: how likely they clash, and what each way out costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from statistics import median
from typing import Literal

from store.sums.hires.days import ShopDays
from store.sums.hires.needs import NOT, Need, draws_of, waits
from store.sums.spans import Layout

ROUNDING_S = 1e-3

Out = Literal["wait", "swap order", "second kit"]


@dataclass(frozen=True, slots=True)
class Ends:
    """When a job is finished, in the draws of its need, and what was promised.

    Attributes:
        finish: (draws,) epoch seconds.
        promise: epoch seconds; None: nothing was promised.
    """

    finish: Sequence[float]
    promise: float | None = None


@dataclass(frozen=True, slots=True)
class Overlap:
    """Where two needs lie over each other.

    Attributes:
        chance: that both want the kit at one time.
        hours: open hours for which they do, on the average over all draws.
        since, until: epoch seconds, medians of the draws in which they do; None: in none.
    """

    chance: float
    hours: float
    since: float | None = None
    until: float | None = None


@dataclass(frozen=True, slots=True)
class WayOut:
    """One way out of a clash.

    Attributes:
        waits: number of the job that waits; None: nobody does.
        shift_h: open hours by which its finish moves on the average.
        cost: expected money: its lift that waits, or the second kit.
        kept: chance that the promise is kept, of the first and of the second job; None where
            nothing was promised.
        free_at: epoch seconds, the middle of when the other has done with the kit.
    """

    out: Out
    waits: str | None
    shift_h: float
    cost: float
    kept: tuple[float | None, float | None]
    free_at: float | None = None


def overlap(days: ShopDays, first: Need, second: Need) -> Overlap:
    """How likely two needs lie over each other, and for how long.

    Raises:
        ValueError: draws that differ in number.
    """
    draws = draws_of([first, second])
    laid = _laid(days, (first, second))
    both = [
        (max(starts), min(ends))
        for starts, ends in zip(
            zip(first.start, second.start, strict=True),
            zip(first.end, second.end, strict=True),
            strict=True,
        )
        if max(starts) < min(ends)
    ]
    open_s = [laid.upto(until) - laid.upto(since) for since, until in both]
    clash = [pair for pair, shared in zip(both, open_s, strict=True) if shared > ROUNDING_S]
    if not clash:
        return Overlap(0.0, 0.0)
    since, until = (median(side) for side in zip(*clash, strict=True))
    return Overlap(len(clash) / draws, sum(open_s) / draws / 3600, since, until)


def ways_out(
    days: ShopDays,
    needs: tuple[Need, Need],
    ends: tuple[Ends, Ends],
    *,
    lift_day: float,
    second_kit: float | None = None,
) -> tuple[WayOut, ...]:
    """Ways out, the cheapest first.

    Args:
        needs: of the job that has the kit or is to have it first, and of the other.
        lift_day: what a waiting lift costs a shop day.
        second_kit: expected cost of a kit for the second alone (`window.best_window`); None:
            nobody hires it out.

    Returns:
        No swapped order where the first has begun.

    Raises:
        ValueError: draws that differ in number.
    """
    for need, end in zip(needs, ends, strict=True):
        if len(end.finish) != draws_of(needs):
            raise ValueError(f"{need.job} has {len(end.finish)} finishes, and other draws")
    found = [_waiting(days, "wait", needs, ends, 1, lift_day)]
    if not needs[0].begun:
        found.append(_waiting(days, "swap order", needs, ends, 0, lift_day))
    if second_kit is not None:
        kept = _kept(days, ends[0], ()), _kept(days, ends[1], ())
        found.append(WayOut("second kit", None, 0.0, second_kit, kept))
    return tuple(sorted(found, key=lambda way: way.cost))


def _waiting(
    days: ShopDays,
    out: Out,
    needs: tuple[Need, Need],
    ends: tuple[Ends, Ends],
    who: int,
    lift_day: float,
) -> WayOut:
    """One of the two, by its place, waits until the other has done with the kit."""
    need, before = needs[who], needs[1 - who]
    shift_s = waits(days, need, before)
    shift_h = sum(shift_s) / len(shift_s) / 3600
    kept = [_kept(days, end, shift_s if place == who else ()) for place, end in enumerate(ends)]
    waits_at_lift = need.on_lift and shift_h > 0
    cost = shift_h / _shop_day_h(days, before) * lift_day if waits_at_lift else 0.0
    free = [end for end in before.end if end < NOT]
    return WayOut(out, need.job, shift_h, cost, (kept[0], kept[1]), median(free) if free else None)


def _kept(days: ShopDays, end: Ends, shift_s: Sequence[float]) -> float | None:
    """Chance that a job is finished by its promise, its finish moved by open seconds."""
    if end.promise is None:
        return None
    if not any(shift_s):
        return sum(finish <= end.promise for finish in end.finish) / len(end.finish)
    since, until = min(*end.finish, end.promise), max(*end.finish, end.promise)
    laid = days.open_time(since, until)
    latest = laid.upto(end.promise) + ROUNDING_S
    moved = (laid.upto(at) + shift for at, shift in zip(end.finish, shift_s, strict=True))
    in_time = [
        finish <= end.promise and at <= latest for finish, at in zip(end.finish, moved, strict=True)
    ]
    return sum(in_time) / len(in_time)


def _laid(days: ShopDays, needs: Sequence[Need]) -> Layout:
    known = [at for need in needs for at in (*need.start, *need.end) if at < NOT]
    return days.open_time(min(known, default=0.0), max(known, default=0.0))


def _shop_day_h(days: ShopDays, need: Need) -> float:
    """Open hours of a shop day when a need begins."""
    first = min(start for start in need.start if start < NOT)
    return days.shop_day_h(days.calendar.day_of(datetime.fromtimestamp(first, UTC)))
