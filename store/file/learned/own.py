"""The shop's own learner: hours, dates, counts and what changed, each a part; forecasts from the
first three.

Arrays are imported where they are needed: whoever only knows the names of the parts does without.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from store.file.learned import dates_part, labour_part, seen, signals_part
from store.file.learned.cases import Cases
from store.file.learned.kept import Part
from store.file.learned.learner import Parts

if TYPE_CHECKING:
    from store.file.learned.forecaster import ShopForecaster

VERSIONS: Mapping[str, str] = {
    labour_part.NAME: labour_part.VERSION,
    labour_part.TOLD: labour_part.TOLD_VERSION,
    dates_part.NAME: dates_part.VERSION,
    seen.NAME: seen.VERSION,
    signals_part.NAME: signals_part.VERSION,
}


class ShopLearner:
    """Learns a shop's hours and dates."""

    @property
    def versions(self) -> Mapping[str, str]:
        """Names and versions of the parts."""
        return VERSIONS

    def learn(self, cases: Cases, known: Parts) -> Sequence[Part]:
        """Return all parts; without content those whose cases are those that they know already."""
        return [
            *labour_part.learn(cases, known.get(labour_part.NAME), known.get(labour_part.TOLD)),
            dates_part.learn(cases, known.get(dates_part.NAME)),
            seen.learn(cases, known.get(seen.NAME)),
            signals_part.learn(cases, known.get(signals_part.NAME)),
        ]

    def ready(self, parts: Parts) -> ShopForecaster:
        """Read what was learned, given with its content."""
        from store.file.learned.forecaster import ShopForecaster

        return ShopForecaster(parts)
