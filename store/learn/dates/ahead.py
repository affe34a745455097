"""A job from now on: what is asked of a forecast."""

from __future__ import annotations

from dataclasses import dataclass

from store.learn.dates.rates import Counts
from store.learn.dates.route import Running, Step
from store.learn.dates.seen import WaitKind
from store.learn.dates.waits import OwnWaits


@dataclass(frozen=True, slots=True)
class Ahead:
    """A job as it stands now.

    Attributes:
        steps: what is not finished, in the order in which it will be done; one at least. Where
            somebody is on the job now, their phase comes first.
        begun: which of them are under way, by `seq`.
        in_hands: somebody is on the first one now.
        running: holds, standing and outwork under way.
        waiting_h: open hours for which it has waited though it could go on; None where it is in
            hands or held.
        waiting: what kind of wait that is.
        own: its exposure to holds so far, by phase.
        waits: its waits so far, by phase.
    """

    job: str
    steps: tuple[Step, ...]
    begun: frozenset[int]
    in_hands: bool
    running: tuple[Running, ...] = ()
    waiting_h: float | None = None
    waiting: WaitKind = "inside"
    own: tuple[tuple[Step, Counts], ...] = ()
    waits: tuple[tuple[Step, OwnWaits], ...] = ()
