"""What all parts of one forecast share: the draws of labour and of the factors on everything."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates.ahead import Ahead
from store.learn.dates.dice import Dice
from store.learn.dates.lately import TO_COME_SD
from store.learn.dates.learned import Learned
from store.learn.dates.pooled import Pooled
from store.learn.dates.spans import OpenHours
from store.learn.dates.waits import Pace

JOB_SD, JOB_WORTH_H = 0.25, 25.0
"""Log standard deviation of a job's own factor on waits before it has seen any; expected hours of
waits at which it stands half-way between 1 and what was seen."""


@dataclass(frozen=True, slots=True)
class Scene:
    """One forecast being made.

    Attributes:
        now: POSIX seconds; `reading`: the same in open hours.
        open_h: (draws, phases) open hours with somebody on each phase; 0 without labour.
        slow: (draws, phases) factor on all waits.
        trouble: (draws, phases) factor on all holds.
        shop: (draws,) of `slow` how the shop is to get on: standard normal, the same numbers for
            every job, each job's in an order of its own.
    """

    learned: Learned
    hours: OpenHours
    ahead: Ahead
    now: float
    reading: float
    dice: Dice
    pooled: Pooled
    pace: Pace
    open_h: Floats
    slow: Floats
    trouble: Floats
    shop: Floats

    @property
    def shape(self) -> tuple[int, int]:
        """Draws and phases."""
        return self.open_h.shape[0], self.open_h.shape[1]


def scene(learned: Learned, hours: OpenHours, ahead: Ahead, labour: Floats, now: float) -> Scene:
    """Draw what is drawn once for the whole stay.

    Args:
        labour: (draws, labour phases ahead) labour hours still to do, drawn together.
        now: POSIX seconds.
    """
    dice = Dice(len(labour), ahead.job, ahead.steps[0].seq)
    reading = hours.upto(now)
    open_h = np.zeros((len(labour), len(ahead.steps)))
    working = [i for i, step in enumerate(ahead.steps) if step.kind == "labour"]
    open_h[:, working] = labour * [learned.hands.share(ahead.steps[i]) for i in working]
    pooled, pace = Pooled(learned.holds), learned.waits.pace()
    to_come = dice.normal()
    slow = _slow(learned, pace, ahead, reading, (to_come, dice.normal()))
    trouble = _trouble(pooled, ahead, dice)
    return Scene(
        learned, hours, ahead, now, reading, dice, pooled, pace, open_h, slow, trouble, to_come
    )


def _slow(
    learned: Learned, pace: Pace, ahead: Ahead, reading: float, drawn: tuple[Floats, Floats]
) -> Floats:
    """Factors on waits: the shop's now, the job's, both uncertain (as drawn), and the phase's."""
    shop = learned.lately.factor(reading, learned.waits.usual(), learned.waits.longest_h)
    factor = {step.phase: learned.waits.factor(step, pace) for step, _ in ahead.waits}
    expected = sum(pace.expected_h(own) * factor[step.phase] for step, own in ahead.waits)
    seen = sum(own.waited_h for _, own in ahead.waits)
    job = (JOB_WORTH_H + seen) / (JOB_WORTH_H + expected)
    job_sd = JOB_SD * math.sqrt(JOB_WORTH_H / (JOB_WORTH_H + expected))
    spread = TO_COME_SD * drawn[0] + job_sd * drawn[1]
    own = shop * job * np.exp(spread - (TO_COME_SD**2 + job_sd**2) / 2)
    return np.outer(own, [learned.waits.factor(step, pace) for step in ahead.steps])


def _trouble(pooled: Pooled, ahead: Ahead, dice: Dice) -> Floats:
    """The factors of job, operation and phase on holds, all uncertain: (draws, phases)."""
    operations = sorted({step.operation for step in ahead.steps})
    factors = [pooled.job(ahead.own), *(pooled.operation(one) for one in operations)]
    factors += [pooled.phase(step) for step in ahead.steps]
    drawn = dice.gamma([one.seen for one in factors]) / [one.expected for one in factors]
    above = drawn[:, [1 + operations.index(step.operation) for step in ahead.steps]]
    trouble: Floats = drawn[:, :1] * above * drawn[:, 1 + len(operations) :]
    return trouble
