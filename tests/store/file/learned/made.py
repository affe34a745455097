"""A learner for tests that knows nothing but how much it was given, and a shop to learn from."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from store.file.kits.wanted import Wanted
from store.file.learned.cases import Cases, digest, plain
from store.file.learned.kept import Forecast, Part, PhaseLeft, Spread
from store.file.learned.learner import Forecaster, Parts
from store.file.learned.moment import Moment
from store.file.learned.turns import Turns
from tests.store.actions.made import World


def spread(middle: float) -> Spread:
    """Hours about a middle, never falling."""
    return Spread(middle, tuple(round(middle * (0.5 + n / 20), 5) for n in range(1, 20)))


@dataclass
class Counting:
    """Every phase takes as many hours as records taught it; the job's end is ten times as far."""

    version: str = "1"
    learned: list[int] = field(default_factory=list[int])
    asked: list[str] = field(default_factory=list[str])

    @property
    def versions(self) -> Mapping[str, str]:
        """One part."""
        return {"count": self.version}

    def learn(self, cases: Cases, known: Parts) -> Sequence[Part]:
        """Count."""
        mark, before = digest(cases.records), known.get("count")
        if before is not None and before.digest == mark:
            return [replace(before, content=None)]
        many = len(cases.records)
        self.learned.append(many)
        return [Part("count", self.version, cases.at, many, mark, plain(many))]

    def ready(self, parts: Parts) -> Forecaster:
        """Read the count."""
        content = parts["count"].content
        assert content is not None
        return _Asked(self, parts["count"].at.seq, int(content))


@dataclass
class _Asked:
    learner: Counting
    seq: int
    many: int

    def forecasts(
        self, moment: Moment, jobs: Sequence[str], wanted: Mapping[str, Sequence[Wanted]]
    ) -> list[Forecast]:
        self.learner.asked += jobs
        return [self._forecast(moment, job) for job in jobs]

    def outlook(self, moment: Moment, anew: Collection[str]) -> None:
        """Nothing is known of all jobs together."""

    def _forecast(self, moment: Moment, job: str) -> Forecast:
        hand = moment.hands[job]
        left = {
            one.row.phase: PhaseLeft(one.labour_h, spread(1.0 + self.many))
            for one in hand.phases
            if one.left and one.row.kind == "labour"
        }
        together = spread((1.0 + self.many) * len(left))
        return Forecast(
            job, moment.at.seq, self.seq, moment.now, hand.labour_h, together,
            spread(10 * together.mean), left,
        )  # fmt: skip


def turns(world: World, learner: Counting) -> Turns:
    """The learner at this shop, at its clock."""

    def now() -> datetime:
        return world.now

    return Turns(world.shop, learner, now)
