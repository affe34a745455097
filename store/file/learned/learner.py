"""What this folder asks of whoever learns: cases in, what was learned out, forecasts from that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from store.file.learned.cases import Cases
from store.file.learned.kept import Forecast, Part
from store.file.learned.moment import Moment

Parts = Mapping[str, Part]
"""What was learned, by the name of the part."""


class Forecaster(Protocol):
    """What was learned, ready to be asked."""

    def forecasts(self, moment: Moment, jobs: Sequence[str]) -> list[Forecast]:
        """Return what is left of some of the jobs that go on."""
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
