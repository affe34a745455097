"""What is hidden in a vehicle, and what all that has been seen of it says of that.

Sweet, usual or sour: drawn by grade at arrival. Content of phases and everything that goes wrong
depend on it; Bayes' rule over the three is exact.
"""

from __future__ import annotations

import math
import random

from tests.bench.floors.shop import NATURES, Shop, Step
from tests.bench.floors.world import Job


def usual_s(shop: Shop, job: Job, step: Step) -> float:
    """Mean content of a phase on a vehicle of the usual nature."""
    graded = shop.grade_factor[step.phase_class][job.grade - 1]
    return step.content_s * shop.families[job.family] * graded


def trouble(shop: Shop, job: Job) -> float:
    """Factor on all that goes wrong with it."""
    return shop.nature_trouble[job.nature]


def chance(shop: Shop, job: Job, rng: random.Random, rate: float) -> bool:
    """Whether something that is looked for once goes wrong; what comes out is told."""
    if rate <= 0:
        return False
    happens = rng.random() < -math.expm1(-rate * trouble(shop, job))
    for c, factor in enumerate(shop.nature_trouble):
        job.told[c] += math.log(-math.expm1(-rate * factor)) if happens else -rate * factor
    return happens


def met_mishap(shop: Shop, job: Job) -> None:
    """One mishap inside a phase: it speaks for sour."""
    for c, factor in enumerate(shop.nature_trouble):
        job.told[c] += math.log(factor)


def phase_done(shop: Shop, job: Job, step: Step) -> None:
    """A phase's content is known now: gamma likelihood, and no mishap since the last."""
    ratio = job.base / usual_s(shop, job, step)
    for c, factor in enumerate(shop.nature_labour[step.phase_class]):
        job.told[c] -= step.shape * (math.log(factor) + ratio / factor)
        job.told[c] -= step.inside * job.base * shop.nature_trouble[c]


def content(shop: Shop, job: Job, step: Step, rng: random.Random) -> float:
    """Draw the content of a phase."""
    mean = usual_s(shop, job, step) * shop.nature_labour[step.phase_class][job.nature]
    return max(120.0, rng.gammavariate(step.shape, mean / step.shape))


def drawn(shop: Shop, grade: int, rng: random.Random) -> int:
    """The nature of a vehicle of which nothing but its grade is known."""
    return rng.choices(range(NATURES), shop.natures[grade - 1])[0]


def draw_anew(shop: Shop, job: Job, rng: random.Random) -> None:
    """Draw nature and the content of the phase begun, given all that has been seen.

    Both together, until the content is longer than what is done: exact, whatever the law.
    """
    step = job.steps[job.idx]
    seen = step.inside * min(job.done, job.base) if job.base >= 0 else 0.0
    logs = [
        math.log(prior) + told - seen * factor
        for prior, told, factor in zip(
            shop.natures[job.grade - 1], job.told, shop.nature_trouble, strict=True
        )
    ]
    top = max(logs)
    weights = [math.exp(one - top) for one in logs]
    for _ in range(400):
        job.nature = rng.choices(range(NATURES), weights)[0]
        if job.base < 0:
            return
        base = content(shop, job, step, rng)
        if base + job.extra > job.done:
            job.base = base
            return
    job.base = job.done - job.extra + rng.expovariate(1 / (0.3 * step.content_s))
