"""Whether people are scarcer now than usual: hours waited against hours worked, all jobs."""

from __future__ import annotations

from dataclasses import dataclass, field

WINDOW_H = 24.0
"""Open hours that count as lately: three shop days."""
WORTH_H = 40.0
"""Labour hours that 'as usual' is worth."""
POWER = 0.5
"""How much of it lasts over the stay to come."""
TO_COME_SD = 0.3
"""Log standard deviation of how scarce people will be."""

Stretch = tuple[float, float]


@dataclass(slots=True)
class Lately:
    """Stretches of work and of waiting, readings in open hours; the old ones dropped.

    Attributes:
        worked, waited: those over.
        working, waiting: by job, since when, those that go on.
    """

    worked: list[Stretch] = field(default_factory=list[Stretch])
    waited: list[Stretch] = field(default_factory=list[Stretch])
    working: dict[str, float] = field(default_factory=dict[str, float])
    waiting: dict[str, float] = field(default_factory=dict[str, float])

    def now(self, job: str, reading: float, working: float | None, waiting: float | None) -> None:
        """Say where a job stands: since when somebody is on it, or since when it waits."""
        _changed(self.working, self.worked, job, reading, working)
        _changed(self.waiting, self.waited, job, reading, waiting)

    def factor(self, reading: float, usual: float, longest_h: float) -> float:
        """How much longer than usual jobs wait now.

        ((c w + waited) / (c w + w worked))^p over the last open hours, w what is usual.

        Args:
            longest_h: a wait counts so long at most, as in what is usual.
        """
        since = reading - WINDOW_H
        self._drop(since)
        worked = _within(self.worked, self.working, since, reading, WINDOW_H)
        waited = _within(self.waited, self.waiting, since, reading, longest_h)
        return float(((WORTH_H * usual + waited) / (WORTH_H * usual + usual * worked)) ** POWER)

    def _drop(self, since: float) -> None:
        self.worked = [one for one in self.worked if one[1] > since]
        self.waited = [one for one in self.waited if one[1] > since]


def _changed(
    running: dict[str, float], over: list[Stretch], job: str, reading: float, since: float | None
) -> None:
    before = running.get(job)
    if before == since:
        return
    if before is not None and reading > before:
        over.append((before, reading))
    if since is None:
        running.pop(job, None)
    else:
        running[job] = since


def _within(
    over: list[Stretch], running: dict[str, float], since: float, until: float, longest_h: float
) -> float:
    total = 0.0
    for start, end in [*over, *((start, until) for start in running.values())]:
        total += max(0.0, min(end, start + longest_h, until) - max(start, since))
    return total
