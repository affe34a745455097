"""Operations of an invented shop, the phases they share, and the families of its vehicles."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.learn.records import PhaseClass
from store.learn.scores import Floats
from tests.bench.hours.flavours import Flavour

ACCESSES = ("PS", "GB", "FW", "FR", "TP", "AS")
"""What several operations take off and put on again, outermost first."""
ENGINES = ("B3", "B4", "D4", "D5", "S6", "D6", "V8", "H4", "F4", "W6")
GEARBOXES = ("M", "A", "C")
AXLES = ("F", "R", "4")


@dataclass(frozen=True, slots=True)
class Phase:
    """A phase of a route; `serves` are the operations that need it."""

    code: str
    phase_class: PhaseClass
    serves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Operation:
    """An operation: the accesses it opens, its own work between."""

    code: str
    accesses: tuple[str, ...]
    works: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """What the shop does, and to what; `families` with how often each comes."""

    operations: tuple[Operation, ...]
    popularity: Floats
    families: tuple[str, ...]
    frequency: Floats
    joined_share: float

    def route(self, codes: tuple[str, ...]) -> tuple[Phase, ...]:
        """The phases of one operation, or of two joined: what both need is done once."""
        chosen = [one for one in self.operations if one.code in codes]

        def needing(access: str) -> tuple[str, ...]:
            return tuple(one.code for one in chosen if access in one.accesses)

        opened = [one for one in ACCESSES if needing(one)]
        strip = [Phase(f"{one}-off", "strip", needing(one)) for one in opened]
        work = [Phase(code, "work", (one.code,)) for one in chosen for code in one.works]
        refit = [Phase(f"{one}-on", "refit", needing(one)) for one in reversed(opened)]
        return (*strip, *work, *refit, Phase("ZR", "work", tuple(one.code for one in chosen)))

    def codes(self) -> tuple[str, ...]:
        """Every phase code there is."""
        every = {p.code for one in self.operations for p in self.route((one.code,))}
        return tuple(sorted(every))


def catalogue(dice: np.random.Generator, flavour: Flavour) -> Catalogue:
    """Draw what a shop does: 5 to 10 operations of 5 to 9 phases."""
    operations = tuple(_operation(dice, n) for n in range(int(dice.integers(5, 11))))
    families = _families(dice, flavour)
    return Catalogue(
        operations,
        dice.dirichlet(np.full(len(operations), 2.0)),
        families,
        _frequency(dice, len(families), flavour),
        float(dice.uniform(0, 0.15)),
    )


def _operation(dice: np.random.Generator, number: int) -> Operation:
    name = f"OP{number + 1}"
    phases = int(dice.integers(5, 10))
    count = int(dice.integers(1, min(3, (phases - 2) // 2) + 1))
    # the gearbox is what such a shop takes out most
    odds = np.array([0.15, 0.4, 0.15, 0.1, 0.1, 0.1])
    chosen = set(dice.choice(len(ACCESSES), count, replace=False, p=odds).tolist())
    accesses = tuple(one for n, one in enumerate(ACCESSES) if n in chosen)
    works = tuple(f"{name}-{n + 1}" for n in range(phases - 1 - 2 * count))
    return Operation(name, accesses, works)


def _families(dice: np.random.Generator, flavour: Flavour) -> tuple[str, ...]:
    """Keys of three parts; in one calm shop of four the key is a single word."""
    every = [f"{e}-{g}-{a}" for e in ENGINES for g in GEARBOXES for a in AXLES]
    count = int(dice.integers(30, 70) if flavour.sparse else dice.integers(5, 12))
    in_one_word = not flavour.sparse and dice.random() < 0.25
    if in_one_word:
        return tuple(f"F{n + 1}" for n in range(count))
    return tuple(every[int(n)] for n in dice.permutation(len(every))[:count])


def _frequency(dice: np.random.Generator, count: int, flavour: Flavour) -> Floats:
    """Few families come often: Zipf's law, flatter where families are sparse."""
    weight = 1 / np.arange(1, count + 1) ** (0.6 if flavour.sparse else 0.8)
    uneven = weight * dice.uniform(0.7, 1.3, count)
    shares: Floats = uneven / uneven.sum()
    return shares
