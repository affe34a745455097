"""The shop's past played event by event: stays that go on, and what was learned so far."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from store.learn.dates.ahead import Ahead
from store.learn.dates.events import Event
from store.learn.dates.learned import Learned
from store.learn.dates.plan import Plan
from store.learn.dates.rates import Counts, count
from store.learn.dates.route import Step
from store.learn.dates.seen import Begun, HoldBegan, Waited, Worked
from store.learn.dates.spans import OpenHours
from store.learn.dates.stay import Stay
from store.learn.dates.waits import OwnWaits


class Job:
    """A stay and what it has seen itself."""

    def __init__(self, stay: Stay) -> None:
        """Begin with nothing seen."""
        self.stay = stay
        self.own: dict[int, tuple[Step, Counts]] = {}
        self.waits: dict[int, tuple[Step, OwnWaits]] = {}

    def ahead(self, in_hands: int | None, now: float, left: Sequence[Step] = ()) -> Ahead:
        """The job from now on.

        Args:
            in_hands: `seq` of the phase that somebody is on from now; None: as the clocks say.
            now: open-hours reading.
            left: what is not finished, where somebody knows better than what was seen.
        """
        stay = self.stay
        here = in_hands if in_hands is not None else stay.in_hands
        steps = tuple(left) or stay.remaining
        if here is not None:
            steps = tuple(sorted(steps, key=lambda step: (step.seq != here, step.seq)))
        begun = stay.begun if here is None else stay.begun | {here}
        ahead = {step.seq for step in steps}
        running = tuple(one for one in stay.running if one.seq in ahead and one.seq != here)
        since = stay.waiting_since if here is None else None
        return Ahead(
            stay.job, steps, frozenset(begun), here is not None, running,
            None if since is None else max(0.0, now - since), stay.waiting_kind,
            tuple(self.own.values()), tuple(self.waits.values()),
        )  # fmt: skip

    def left_from(self, here: int, blocks: bool) -> list[Step]:
        """What is left when a phase begins, though nobody said yet what else is finished.

        Phases before it that were under way are over; so is what is away, if work waits for that.
        """
        stay = self.stay
        return [
            step
            for step in stay.remaining
            if step.seq >= here
            or step.seq not in stay.begun
            or (step.kind != "labour" and not blocks)
        ]


@dataclass(slots=True)
class Floor:
    """All jobs of a shop while time goes on."""

    hours: OpenHours
    learned: Learned
    plans: Mapping[str, Plan]
    jobs: dict[str, Job] = field(default_factory=dict[str, Job])

    def job(self, name: str) -> Job:
        """A job, from its first mention on."""
        if name not in self.jobs:
            self.jobs[name] = Job(
                Stay(name, self.plans[name].route(self.learned.holds.cells), self.hours)
            )
        return self.jobs[name]

    def take(self, event: Event) -> None:
        """Take in the next event in time."""
        job, reading = self.job(event.job), self.hours.upto(event.at)
        for seen in job.stay.take(event):
            self.learned.learn(seen, reading)
            if isinstance(seen, Worked | Waited):
                job.waits.setdefault(seen.step.seq, (seen.step, OwnWaits()))[1].learn(
                    seen, self.learned.waits.longest_h
                )
            if isinstance(seen, Worked | Begun | HoldBegan):
                count(job.own.setdefault(seen.step.seq, (seen.step, Counts()))[1], seen)
        self.learned.lately.now(event.job, reading, job.stay.busy_since, job.stay.waiting_since)
