"""What this folder asks of whoever learns: cases in, what was learned out, forecasts from that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from store.file.learned.cases import Cases
from store.file.learned.hand import Hand
from store.file.learned.kept import Forecast, Part

Parts = Mapping[str, Part]
"""What was learned, by the name of the part."""


class Forecaster(Protocol):
    """What was learned, ready to be asked."""

    def forecast(self, hand: Hand) -> Forecast:
        """Return what is left of one job."""
        ...


class Learner(Protocol):
    """Learns from cases; the same cases teach the same, to the last bit.

    Attributes:
        versions: of each part, by its name; a part of another version is learned anew.
    """

    @property
    def versions(self) -> Mapping[str, str]:
        """Names and versions of the parts."""
        ...

    def learn(self, cases: Cases, known: Parts) -> Sequence[Part]:
        """Return all parts; one whose cases are those that it knows already may be given back."""
        ...

    def ready(self, parts: Parts) -> Forecaster:
        """Read what was learned."""
        ...
