"""A shop's months out of its printed ledger and exported history, by plain code of their own.

Nothing of the program is used here, so that the figures of the page can be held against it.
"""

from __future__ import annotations

import csv
import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import cached_property
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

Payload = dict[str, Any]
SAYS_EXTRA = {"supplement-answered", "answer-taken-back"}


@dataclass
class PlainPhase:
    """A phase of a route as events made it."""

    code: str
    kind: str
    middle: float
    cautious: float
    finished: datetime | None = None


@dataclass
class PlainJob:
    """A job as events made it."""

    small: bool
    family: str
    operations: list[str]
    closed: datetime | None = None
    phases: dict[str, PlainPhase] = field(default_factory=dict[str, PlainPhase])
    frozen: float = 0.0
    hours: tuple[float, float] = (0.0, 0.0)
    told: list[float] | None = None
    added: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    promises: list[tuple[datetime, datetime | None, float | None]] = field(
        default_factory=list[tuple[datetime, "datetime | None", "float | None"]]
    )

    @property
    def ready(self) -> datetime | None:
        """When its last phase was finished."""
        ends = [one.finished for one in self.phases.values() if one.finished is not None]
        return max(ends, default=None)

    @property
    def range(self) -> list[float] | None:
        """The 19 figures told, moved to the middle that is agreed now; None: no range."""
        if self.told is None or self.told[1] == self.told[17]:
            return None
        return [max(0.0, one + self.hours[0] - self.told[9]) for one in self.told]


@dataclass
class PlainClock:
    """A clock as events left it."""

    person: str
    job: str | None
    phase: str | None
    part: str
    since: datetime
    until: datetime | None = None
    worked_through: bool = False


class Plain:
    """Everything of a ledger that the accuracy of a month needs."""

    def __init__(self, lines: Iterable[str]) -> None:
        self.jobs: dict[str, PlainJob] = {}
        self.clocks: dict[int, PlainClock] = {}
        self.badges: dict[str, str] = {}
        self.zone = ZoneInfo("UTC")
        self.plans: list[Payload] = []
        self.holidays: set[date] = set()
        self.kinds: list[str] = []
        act: tuple[str, str, str] | None = None
        for line in lines:
            row = json.loads(line)
            same = row["happened_at"], row["recorded_at"], row["badge"]
            self.kinds = [*self.kinds, row["kind"]] if same == act else [row["kind"]]
            act = same
            took = getattr(self, f"_{row['kind'].replace('-', '_')}", None)
            if took is not None:
                took(row["seq"], datetime.fromisoformat(row["happened_at"]), row["payload"])

    # What the shop is

    def _shop_founded(self, seq: int, at: datetime, said: Payload) -> None:
        self.zone = ZoneInfo(said["zone"])

    def _calendar_set(self, seq: int, at: datetime, said: Payload) -> None:
        self.plans.append(said)

    def _holiday_set(self, seq: int, at: datetime, said: Payload) -> None:
        self.holidays.add(date.fromisoformat(said["day"]))

    def _person_added(self, seq: int, at: datetime, said: Payload) -> None:
        self.badges[said["person"]] = said["badge"]

    # Jobs and routes

    def _job_opened(self, seq: int, at: datetime, said: Payload) -> None:
        self.jobs[said["job"]] = PlainJob(
            bool(said.get("small")), said["family"], list(said["operations"])
        )

    def _work_chosen(self, seq: int, at: datetime, said: Payload) -> None:
        job = self.jobs[said["job"]]
        job.operations, job.family = list(said["operations"]), said.get("family", job.family)

    def _route_changed(self, seq: int, at: datetime, said: Payload) -> None:
        phases = self.jobs[said["job"]].phases
        for one in said.get("added", []):
            told = one["estimate"]
            kind = one.get("phase_kind", "labour")
            phases[one["phase"]] = PlainPhase(one["code"], kind, told["middle"], told["cautious"])
        for one in said.get("rated", []):
            told, phase = one["estimate"], phases[one["phase"]]
            phase.middle, phase.cautious = told["middle"], told["cautious"]
        for one in said.get("removed", []):
            del phases[one]

    def _estimate_agreed(self, seq: int, at: datetime, said: Payload) -> None:
        job = self.jobs[said["job"]]
        job.frozen = said["total"]["quantiles"][9]
        if job.told is None and not said.get("check"):
            job.told = said["total"]["quantiles"]
        job.added = defaultdict(float)

    def _estimate_changed(self, seq: int, at: datetime, said: Payload) -> None:
        job = self.jobs[said["job"]]
        kinds = set(self.kinds)
        if "estimate-agreed" not in kinds:
            extra = bool(kinds & SAYS_EXTRA)
            cause = "extra" if extra else "route" if "route-changed" in kinds else "other"
            job.added[cause] += said["middle"] - job.hours[0]
        job.hours = said["middle"], said["cautious"]

    def _supplement_answered(self, seq: int, at: datetime, said: Payload) -> None:
        for one in said.get("raises", []):
            phase = self.jobs[said["job"]].phases[one["phase"]]
            phase.middle, phase.cautious = one["estimate"]["middle"], one["estimate"]["cautious"]

    def _promised(self, seq: int, at: datetime, said: Payload) -> None:
        told = said.get("promise")
        when = datetime.fromisoformat(told) if told else None
        self.jobs[said["job"]].promises.append((at, when, said.get("chance")))

    def _phase_finished(self, seq: int, at: datetime, said: Payload) -> None:
        self.jobs[said["job"]].phases[said["phase"]].finished = at

    def _phase_reopened(self, seq: int, at: datetime, said: Payload) -> None:
        for one in (said["phase"], *said.get("reopens", [])):
            self.jobs[said["job"]].phases[one].finished = None

    def _phase_taken_back(self, seq: int, at: datetime, said: Payload) -> None:
        self.jobs[said["job"]].phases[said["phase"]].finished = None

    def _job_closed(self, seq: int, at: datetime, said: Payload) -> None:
        self.jobs[said["job"]].closed = at

    # Clocks

    def _clocked_on(self, seq: int, at: datetime, said: Payload) -> None:
        self.clocks[seq] = PlainClock(said["person"], said["job"], said["phase"], said["part"], at)

    def _clock_entered(self, seq: int, at: datetime, said: Payload) -> None:
        self._clock_corrected(seq, at, {**said, "clock": seq})

    def _clocked_off(self, seq: int, at: datetime, said: Payload) -> None:
        if said["clock"] in self.clocks:
            self.clocks[said["clock"]].until = at

    def _clock_corrected(self, seq: int, at: datetime, said: Payload) -> None:
        until = said["until"]
        self.clocks[said["clock"]] = PlainClock(
            said["person"], said["job"], said["phase"], said["part"],
            datetime.fromisoformat(said["since"]),
            datetime.fromisoformat(until) if until else None, bool(said.get("breaks_worked")),
        )  # fmt: skip

    def _clock_removed(self, seq: int, at: datetime, said: Payload) -> None:
        self.clocks.pop(said["clock"], None)

    # Sums

    def month(self, at: datetime) -> str:
        """The month of an instant in the shop."""
        return f"{at.astimezone(self.zone):%Y-%m}"

    def hours(self, clock: PlainClock) -> float:
        """Wall time less the breaks that the clock spans whole."""
        assert clock.until is not None
        wall = clock.until - clock.since
        day = clock.since.astimezone(self.zone).date()
        while not clock.worked_through and day <= clock.until.astimezone(self.zone).date():
            wall -= self._rest(clock, day)
            day += timedelta(days=1)
        return wall / timedelta(hours=1)

    def _rest(self, clock: PlainClock, day: date) -> timedelta:
        plans = [one for one in self.plans if one["from_day"] <= day.isoformat()]
        if not plans or day in self.holidays:
            return timedelta()
        rest = timedelta()
        for one in plans[-1]["breaks"]:
            if day.isoweekday() in one["days"]:
                start, end = (
                    datetime.combine(day, time.fromisoformat(one[edge]), self.zone)
                    for edge in ("start", "end")
                )
                spanned = clock.since <= start and clock.until is not None and end <= clock.until
                rest += end - start if spanned else timedelta()
        return rest

    @cached_property
    def labour(self) -> dict[tuple[str, str], dict[tuple[str, str], float]]:
        """Hours by job and phase, then by badge and part; a learner's are none."""
        found: dict[tuple[str, str], dict[tuple[str, str], float]] = {}
        for clock in self.clocks.values():
            if clock.job is None or clock.phase is None or clock.until is None:
                continue
            if clock.part == "learner":
                continue
            at = found.setdefault((clock.job, clock.phase), defaultdict(float))
            at[self.badges[clock.person], clock.part] += self.hours(clock)
        return found


def exported(path: Path) -> dict[str, float]:
    """Hours by job out of a history."""
    found: dict[str, float] = defaultdict(float)
    with path.open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            found[row["job"]] += float(row["actual_hours"])
    return found


def median(values: Sequence[float]) -> float:
    """The middle one, or the mean of the middle two."""
    ordered, half = sorted(values), len(values) // 2
    return ordered[half] if len(values) % 2 else (ordered[half - 1] + ordered[half]) / 2
