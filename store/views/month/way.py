"""Figures with their way down: what each is made of, down to the entries of the ledger."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from store.sums.ranged import Ranged, Share

__all__ = ["Figure", "Ranged", "Share", "Unit", "Way"]

Unit = Literal["h", "money", "share", "x", "n", "days"]
"""Of a figure: hours, money of the shop's currency, 0 to 1, a plain ratio, a count, shop days."""


@dataclass(frozen=True, slots=True)
class Way:
    """One line of what a figure is made of.

    Attributes:
        says: in words: a job's work, a phase's name, a reason, who.
        value: in the unit of the figure; the lines of a sum add up to it.
        job, phase: numbers, where it is of one.
        badge: where it is somebody's.
        at: when it fell.
        events: sequence numbers of the entries it comes from; of a clock, the one that began it.
        ways: the next step down.
    """

    says: str
    value: float | None = None
    job: str | None = None
    phase: str | None = None
    badge: str | None = None
    at: datetime | None = None
    events: tuple[int, ...] = ()
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of the page.

    Attributes:
        value: None where there is nothing to divide by, or nothing is known.
        explained: what it is, in one plain sentence with its formula where it has one.
        ways: what it is made of.
    """

    value: float | None
    unit: Unit
    explained: str
    ways: tuple[Way, ...] = ()
