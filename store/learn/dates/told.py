"""What was learned of waiting, as facts that can be put into plain words."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

from store.learn.dates.hands import SHOP_WORTH_H
from store.learn.dates.learned import MISS, Learned
from store.learn.dates.lengths import Law, Lengths
from store.learn.dates.priors import TENTH


@dataclass(frozen=True, slots=True)
class HoldTold:
    """How long a job is held for one reason, in open hours of the shop.

    Attributes:
        count: how many are over.
        apart_h: hours of labour from one to the next; None where none was begun in what teaches.
        middle_h, tenth_h: half of them are over by then; one in ten lasts longer.
        said: of how many somebody had said the end.
        times, tenth_times: how many times as long as said they last: half no longer; one in ten
            longer.
    """

    reason: str
    count: int
    apart_h: float | None
    middle_h: float
    tenth_h: float
    said: int
    times: float
    tenth_times: float


@dataclass(frozen=True, slots=True)
class PaceTold:
    """How fast a job that could go on gets on.

    Attributes:
        worked_h: open hours with somebody on a job, all that were seen.
        in_hands: share of the open hours, neither held nor away, in which somebody is on it.
        labour_h: hours of labour in an open hour then.
    """

    worked_h: float
    in_hands: float
    labour_h: float


@dataclass(frozen=True, slots=True)
class Told:
    """Everything; holds that kept jobs longest, all together, come first."""

    holds: tuple[HoldTold, ...]
    pace: PaceTold


def told(learned: Learned) -> Told:
    """Return what is known after the last hold that taught."""
    reading = max((one.reading for one in learned.lengths.values()), default=0.0)
    begun: Counter[str] = Counter()
    for reasons in learned.holds.reasons.values():
        begun.update({reason: round(holds) for reason, holds in reasons.items()})
    worked_h = learned.waits.labour_h
    kept = {
        reason: one.seen * learned.length_law(reason, reading).mean()
        for reason, one in learned.lengths.items()
    }
    return Told(
        tuple(
            _hold(learned, reason, worked_h / begun[reason] if begun[reason] else None, reading)
            for reason in sorted(kept, key=lambda reason: (-kept[reason], reason))
        ),
        _pace(learned, worked_h),
    )


def _hold(learned: Learned, reason: str, apart_h: float | None, reading: float) -> HoldTold:
    lengths = learned.length_law(reason, reading)
    misses = learned.misses.get(reason, Lengths())
    miss = misses.law(MISS, reading)
    return HoldTold(
        reason, learned.lengths[reason].seen, apart_h, math.exp(lengths.m), _tenth(lengths),
        misses.seen, math.exp(miss.m), _tenth(miss),
    )  # fmt: skip


def _tenth(law: Law) -> float:
    """What one new case in ten exceeds."""
    return math.exp(law.m + TENTH * law.wide)


def _pace(learned: Learned, worked_h: float) -> PaceTold:
    hands = learned.hands
    labour = (SHOP_WORTH_H + hands.labour_h) / (SHOP_WORTH_H + hands.open_h)
    in_hands = 1 / (1 + learned.waits.usual())
    return PaceTold(worked_h, in_hands, in_hands * labour)
