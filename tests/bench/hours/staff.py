"""Who works in an invented shop, when, and who tends to get which work."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.learn.records import People
from store.learn.scores import Floats
from tests.bench.hours.flavours import Flavour

DAY = 86_400.0
YEAR = 365 * DAY


@dataclass(frozen=True, slots=True)
class Technician:
    """Somebody at the spanners from `since` until `until` (POSIX seconds).

    Attributes:
        apprentice_since: start of the apprenticeship; None for the skilled.
    """

    badge: str
    since: float
    until: float
    apprentice_since: float | None = None

    def apprentice_years(self, at: float) -> float | None:
        """Years since the apprenticeship began; None for the skilled."""
        return None if self.apprentice_since is None else (at - self.apprentice_since) / YEAR


@dataclass(frozen=True, slots=True)
class Staff:
    """All who ever worked here; `taste[operation]`: odds of each, summing to 1.

    Attributes:
        stay: chance that the next phase of a job stays with the same person.
    """

    people: tuple[Technician, ...]
    taste: dict[str, Floats]
    stay: float

    def odds(self, operations: tuple[str, ...], at: float) -> Floats:
        """(people,) who is likely to get a job that begins then; 0 for who is not employed."""
        here = np.array([one.since <= at < one.until for one in self.people], float)
        wish = np.mean([self.taste[one] for one in operations], axis=0) * here
        shares: Floats = wish / wish.sum()
        return shares

    def roster(self) -> People:
        """Who was employed when, as the shop itself knows it; no end where none is known."""
        spans = {
            one.badge: ((one.since, one.until if np.isfinite(one.until) else None),)
            for one in self.people
        }
        return People(employed=spans)


def staff(
    dice: np.random.Generator,
    flavour: Flavour,
    operations: tuple[str, ...],
    start: float,
    end: float,
) -> Staff:
    """Draw 4 to 8 places at the spanners, and who holds them."""
    places = int(dice.integers(4, 9))
    people: list[Technician] = []
    for place in range(places):
        people += _holders(dice, flavour, start, end, apprentices=place == 1, first=len(people))
    evenness = 0.6 if flavour.strong else float(dice.uniform(2, 8))
    taste = {one: dice.dirichlet(np.full(len(people), evenness)) + 0.002 for one in operations}
    return Staff(tuple(people), taste, float(dice.uniform(0.85, 1.0)))


def _holders(
    dice: np.random.Generator,
    flavour: Flavour,
    start: float,
    end: float,
    *,
    apprentices: bool,
    first: int,
) -> list[Technician]:
    """Who holds one place, one after another; without coming and going it is one person."""
    found: list[Technician] = []
    since = start - float(dice.uniform(0, 2)) * YEAR
    while since < end:
        stays = float(dice.exponential(2.0) + 0.15) * YEAR if flavour.strong else np.inf
        until = max(since + stays, start + 30 * DAY) if since < start else since + stays
        learning = flavour.strong and (apprentices or dice.random() < 0.1)
        badge = f"T{first + len(found) + 1:02d}"
        found.append(Technician(badge, since, until, since if learning else None))
        since = until
    return found
