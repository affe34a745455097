"""One row of the table of faults: what goes wrong, how often it was made to, what was left."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a fault that was made to happen again and again.

    Attributes:
        tried: times that the fault did happen, by its own witness, while something was at stake.
        beside: times that it was made to happen and fell where nothing was at stake: not tried.
        lost: times that something was not as it must be: something acknowledged was gone, doubled
            or half there, a stranger came through, a change went unseen, a message said nothing.
        recovered: times after which the shop opened, verified and went on without an expert.
        notes: what else was counted, a sentence each; of what was lost, how it came about.
    """

    tried: int
    beside: int = 0
    lost: int = 0
    recovered: int = 0
    notes: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether it was tried and nothing was lost by it."""
        return self.tried > 0 and self.lost == 0 and self.recovered == self.tried

    @property
    def seen_to_fail(self) -> bool:
        """Whether it was tried and did harm: what a run with the protection taken out must say."""
        return self.tried > 0 and (self.lost > 0 or self.recovered < self.tried)


@dataclass(frozen=True, slots=True)
class Tries:
    """What a row is run with.

    Attributes:
        times: how often the fault is to be made, at least; faults that fall beside are made again.
        dice: decides what happens when; two runs with the same seed want the same.
        folder: an empty folder of its own, for files.
        protected: False takes out what stands in the row's `without`.
    """

    times: int
    dice: Random
    folder: Path
    protected: bool = True


@dataclass(frozen=True, slots=True)
class Row:
    """A kind of fault and how it is tried.

    Attributes:
        kind: in a few words, as the table names it; no two rows share one.
        made: how the fault is made to happen.
        known: how the test knows that it did.
        without: what is taken out to see it fail, and what is lost then.
        run: makes it happen.
        quick: times in the suite.
        long: times in the long run.
        bare: times with the protection taken out, until it is seen to fail; 0: never in the suite.
        lacks: says what a row needs that is not here, empty where it can be run.
    """

    kind: str
    made: str
    known: str
    without: str
    run: Callable[[Tries], Outcome]
    quick: int
    long: int
    bare: int
    lacks: Callable[[], str] = lambda: ""
