"""What this folder asks of whoever learns: cases in, what was learned out, forecasts from that."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Protocol

from store.file.kits.wanted import Wanted
from store.file.learned.as_if import Changed
from store.file.learned.cases import Cases
from store.file.learned.kept import Forecast, Part, Spread
from store.file.learned.moment import Moment

Parts = Mapping[str, Part]
"""What was learned, by the name of the part."""


class Outlook(Protocol):
    """Every job's finish at one moment, and what would become of it if something were other."""

    @property
    def before(self) -> Mapping[str, Spread]:
        """Open hours until each job's last phase is finished."""
        ...

    @property
    def idle_h(self) -> float:
        """Mean open hours for which a job that could go on waits for hands."""
        ...

    def after(self, changed: Changed, jobs: Collection[str]) -> dict[str, Spread]:
        """Return the finishes, of some jobs and of those changed, that would be other."""
        ...

    def stuck_h(self, job: str) -> float:
        """Return the mean open hours that a job is likely to lose to what holds it now."""
        ...


class Forecaster(Protocol):
    """What was learned, ready to be asked."""

    def forecasts(
        self, moment: Moment, jobs: Sequence[str], wanted: Mapping[str, Sequence[Wanted]]
    ) -> list[Forecast]:
        """Return what is left of some of the jobs that go on.

        Args:
            wanted: kits, by job: when they are needed is told with it.
        """
        ...

    def outlook(self, moment: Moment, anew: Collection[str]) -> Outlook | None:
        """Return what is known of all jobs together; None where there is no date.

        Args:
            anew: jobs of which nothing is taken over from forecasts that were made before.
        """
        ...


class Learner(Protocol):
    """Learns from cases; the same cases teach the same, to the last bit."""

    @property
    def versions(self) -> Mapping[str, str]:
        """Names and versions of the parts; a part of another version is learned anew."""
        ...

    def learn(self, cases: Cases, known: Parts) -> Sequence[Part]:
        """Return all parts; without content those that stay as they are, their cases being known.

        Args:
            known: what was learned before, without content.
        """
        ...

    def ready(self, parts: Parts) -> Forecaster:
        """Read what was learned, given with its content."""
        ...
