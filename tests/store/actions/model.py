"""A workshop in plain values: what people may do in it, and what becomes of it. For the tests only.

It knows one operation of three phases: the second has a hold point of two names that blocks what
follows. It was written from the sentences of the guide, not from the actions; times are minutes.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

PEOPLE = {"OWN": "owner", "FOR": "foreman", "T1": "technician", "T2": "technician",
          "APP": "technician"}  # fmt: skip
LEADS = ("OWN", "FOR")
LIFTS = {"1": 4000, "2": 3000}
YARD = "Y"
AWAY = "away"
Where = tuple[str, str] | str
"""Job and phase, or the reason of time on no job."""


@dataclass
class Phase:
    """One phase. `names`: under its hold point, in force; None where it has none."""

    state: Literal["to come", "under way", "finished", "skipped"] = "to come"
    step: bool = False
    names: list[str] | None = None

    @property
    def over(self) -> bool:
        return self.state in ("finished", "skipped")

    @property
    def gate_open(self) -> bool:
        return self.names is not None and len(self.names) < 2


@dataclass
class Job:
    """One job. `holds`: phase (None is the whole job) and reason; `asked`: phases, one a line;
    `waits`: to come in."""

    small: bool
    mass: int
    phases: dict[str, Phase]
    place: str | None = None
    holds: set[tuple[str | None, str]] = field(default_factory=set[tuple[str | None, str]])
    asked: list[str] = field(default_factory=list[str])
    closed: bool = False
    waits: bool = True


@dataclass
class Clock:
    """A stretch of somebody's time."""

    badge: str
    where: Where
    since: int
    until: int | None = None
    back_to: Where | None = None


@dataclass
class Model:
    """The shop."""

    jobs: dict[str, Job] = field(default_factory=dict[str, Job])
    clocks: list[Clock] = field(default_factory=list[Clock])

    # -- facts

    def running(self, badge: str) -> Clock | None:
        return next((c for c in self.clocks if c.badge == badge and c.until is None), None)

    def on_phase(self, job: str, phase: str | None) -> list[Clock]:
        return [
            c for c in self.clocks
            if c.until is None and isinstance(c.where, tuple) and c.where[0] == job
            and phase in (None, c.where[1])
        ]  # fmt: skip

    def live(self, job: str) -> bool:
        return job in self.jobs and not self.jobs[job].closed

    def labour(self, job: str, phase: str, now: int) -> int:
        """Minutes clocked on a phase."""
        return sum(
            (now if c.until is None else c.until) - c.since
            for c in self.clocks if c.where == (job, phase)
        )  # fmt: skip

    def held(self, job: str, phase: str) -> bool:
        return any(one in (None, phase) for one, _ in self.jobs[job].holds)

    def blocked(self, job: str, phase: str) -> bool:
        return any(one.gate_open for number, one in self.jobs[job].phases.items() if number < phase)

    def workable(self, job: str, phase: str) -> bool:
        if not self.live(job) or phase not in self.jobs[job].phases:
            return False
        over = self.jobs[job].phases[phase].over
        return not over and not self.held(job, phase) and not self.blocked(job, phase)

    def on_lift(self, code: str) -> str | None:
        return next((n for n, one in self.jobs.items() if one.place == code), None)

    # -- what may be

    def may_over(self, badge: str, job: str, phase: str) -> bool:
        clock = self.running(badge)
        return self.workable(job, phase) and (clock is None or clock.where != (job, phase))

    def may_back(self, badge: str) -> bool:
        clock = self.running(badge)
        if clock is None or clock.where != AWAY:
            return False
        return not isinstance(clock.back_to, tuple) or self.workable(*clock.back_to)

    def may_sign_point(self, badge: str, job: str, *, pin: bool) -> bool:
        if not self.workable(job, "2"):
            return False
        names = self.jobs[job].phases["2"].names
        if names is None or len(names) > 1:
            return False
        return not names or (badge not in names and badge != "APP" and pin)

    def may_finish(self, job: str, phase: str) -> bool:
        if not self.workable(job, phase):
            return False
        one = self.jobs[job].phases[phase]
        return one.state == "under way" and not one.gate_open

    def may_skip(self, job: str, phase: str) -> bool:
        if not self.live(job) or phase not in self.jobs[job].phases:
            return False
        one = self.jobs[job].phases[phase]
        return not one.over and not one.gate_open and not self.on_phase(job, phase)

    def may_reopen(self, job: str, phase: str) -> bool:
        known = self.live(job) and phase in self.jobs[job].phases
        return known and self.jobs[job].phases[phase].state == "finished"

    def may_hold(self, job: str, phase: str | None, reason: str) -> bool:
        if not self.live(job) or (phase is not None and phase not in self.jobs[job].phases):
            return False
        over = phase is not None and self.jobs[job].phases[phase].over
        return not over and (phase, reason) not in self.jobs[job].holds

    def may_release(self, job: str, phase: str | None, *, lead: bool) -> bool:
        if not self.live(job):
            return False
        found = [reason for one, reason in self.jobs[job].holds if one == phase]
        return bool(found) and (lead or "approval" not in found)

    def may_move(self, job: str, place: str, *, lead: bool) -> bool:
        """A job that waits and is held comes in by a foreman's word only."""
        if not self.live(job) or self.jobs[job].place == place:
            return False
        held = any(phase is None for phase, _ in self.jobs[job].holds)
        if place != YARD and held and self.jobs[job].waits and not lead:
            return False
        if place == YARD:
            return True
        return self.on_lift(place) is None and self.jobs[job].mass <= LIFTS[place]

    def may_close(self, job: str) -> bool:
        if not self.live(job):
            return False
        one = self.jobs[job]
        done = all(each.over for each in one.phases.values())
        return done and not one.holds and not one.asked and not self.on_phase(job, None)

    # -- what becomes of it

    def take(self, number: str, mass: int, place: str | None, *, small: bool) -> None:
        phases = {"1": Phase()} if small else {"1": Phase(), "2": Phase(names=[]), "3": Phase()}
        self.jobs[number] = Job(small, mass, phases, place, waits=place is None and not small)

    def off(self, badge: str, now: int) -> None:
        clock = self.running(badge)
        assert clock is not None
        clock.until = now

    def on(self, badge: str, where: Where, now: int, back_to: Where | None = None) -> None:
        """Start a clock; one that runs stops at the same minute."""
        if self.running(badge) is not None:
            self.off(badge, now)
        self.clocks.append(Clock(badge, where, now, back_to=back_to))
        if isinstance(where, tuple):
            self.begin(*where)

    def begin(self, job: str, phase: str) -> None:
        one = self.jobs[job].phases[phase]
        if one.state == "to come":
            one.state, self.jobs[job].waits = "under way", False

    def stop(self, job: str, phase: str | None, now: int) -> None:
        for clock in self.on_phase(job, phase):
            clock.until = now

    def finish(self, job: str, phase: str, now: int) -> None:
        self.stop(job, phase, now)
        self.jobs[job].phases[phase].state = "finished"

    def skip(self, job: str, phase: str) -> None:
        one = self.jobs[job]
        one.phases[phase].state = "skipped"
        one.holds = {each for each in one.holds if each[0] != phase}

    def reopen(self, job: str, phase: str, now: int) -> None:
        """Signatures on it and hold points after it are void; work behind them stops."""
        for number, one in self.jobs[job].phases.items():
            if number < phase:
                continue
            if number > phase and one.state == "under way":
                self.stop(job, number, now)
            touched = bool(one.names) or (number == phase and one.step)
            if number == phase:
                one.step = False
            if one.names is not None:
                one.names = []
            if number == phase or (touched and one.state == "finished"):
                one.state = "under way"

    def find(self, job: str, phase: str, now: int) -> None:
        self.stop(job, phase, now)
        self.jobs[job].asked.append(phase)
        self.jobs[job].holds.add((phase, "approval"))

    def answer(self, job: str) -> None:
        one = self.jobs[job]
        one.holds -= {(phase, "approval") for phase in one.asked}
        one.asked = []

    def close(self, job: str) -> None:
        self.jobs[job].closed = True
        self.jobs[job].place = None
