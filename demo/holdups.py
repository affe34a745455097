"""What will hold a job up: drawn when a phase begins, at the rates that workshops see.

Shares and lengths are common practice, no source.
"""

from __future__ import annotations

from demo.chance import around, one_in
from demo.hours import SURPRISES
from demo.world import Job, Phase, Stop, World
from store.rules.book import Surprise
from store.rules.routes import holds

LENGTHS = {
    "parts": (7.0, 32.0), "person": (2.0, 10.0), "tool": (8.0, 24.0), "place": (4.0, 16.0),
    "other": (2.0, 8.0),
}  # fmt: skip
"""Working hours of a hold: half are shorter than the first, one in ten longer than the second."""
LONGEST_H = 40.0
PER_JOB = {"parts": 0.35, "person": 0.33, "tool": 0.0, "place": 0.07, "other": 0.03}
"""How many holds of a kind a job meets on average."""
PHASES_OF_A_JOB = 11.0
SURPRISE_ODDS = 1.0
"""The book's odds are for vehicles as they come; half of them are better than that."""
ADVICE_ODDS = 0.03
AWAY_ODDS = 0.12


def holdups(world: World, job: Job, phase: Phase, hours: float) -> list[Stop]:
    """Return what happens in a phase of so many hours, by hours left."""
    if job.small:
        return []
    found = _surprises(world, job, phase, hours)
    found += _holds(world, job, phase, hours)
    dice = world.chance("advice")
    if phase.phase_class != "refit" and one_in(dice, ADVICE_ODDS):
        found.append(Stop(hours * dice.uniform(0.2, 0.8), "advice"))
    dice = world.chance("away")
    if one_in(dice, AWAY_ODDS * min(hours, 3.0)):
        reason = "silent" if one_in(dice, 0.7) else "said"
        stop = Stop(hours * dice.uniform(0.1, 0.9), "away", reason=reason)
        stop.hours = dice.uniform(10, 40) / 60
        found.append(stop)
    return found


def _surprises(world: World, job: Job, phase: Phase, hours: float) -> list[Stop]:
    dice = world.chance("surprises")
    found: list[Stop] = []
    seen: set[str] = set()
    for surprise in _possible(world, job, phase):
        if surprise.code in seen:
            continue
        seen.add(surprise.code)
        odds = min(0.9, surprise.odds * SURPRISES[job.grade] * SURPRISE_ODDS)
        if one_in(dice, odds) and not world.calm(world.pen.now):
            stop = Stop(hours * dice.uniform(0.15, 0.75), "surprise", surprise=surprise)
            found.append(stop)
    return found[:2]


def _possible(world: World, job: Job, phase: Phase) -> list[Surprise]:
    return [
        surprise
        for code in job.operations
        for surprise in world.book.operations[code].surprises
        if surprise.phase == phase.code
        and holds(surprise.when, family=job.family, grade=job.grade, options=job.options)
    ]


def _holds(world: World, job: Job, phase: Phase, hours: float) -> list[Stop]:
    dice = world.chance("holds")
    found: list[Stop] = []
    for reason, per_job in PER_JOB.items():
        odds = per_job / PHASES_OF_A_JOB * _weight(reason, phase)
        if one_in(dice, odds):
            middle, tenth = LENGTHS[reason]
            stop = Stop(hours * dice.uniform(0.0, 0.98), "hold", reason=reason)
            stop.hours = min(LONGEST_H, around(dice, middle, tenth))
            found.append(stop)
    return found


def _weight(reason: str, phase: Phase) -> float:
    """Parts lack where something is put together, tools where a kit is needed."""
    if reason == "parts":
        return {"strip": 0.6, "work": 1.2, "refit": 1.3}[phase.phase_class]
    if reason == "tool":
        return 3.5 if phase.kits else 0.2
    return 1.0
