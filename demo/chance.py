"""Dice: one stream for each concern, so that a change in one does not shift the others."""

from __future__ import annotations

import math
from random import Random

TENTH = 1.2815515655446004
"""One in ten lies above this many standard deviations (the normal distribution)."""


class Chance:
    """Streams of dice by name, all from one seed."""

    def __init__(self, seed: int) -> None:
        self._seed = seed
        self._streams: dict[str, Random] = {}

    def __call__(self, name: str) -> Random:
        """Return the stream of that name, the same one every time."""
        if name not in self._streams:
            self._streams[name] = Random(f"hoistbook {self._seed} {name}")
        return self._streams[name]


def one_in(dice: Random, odds: float) -> bool:
    """Tell whether something comes that comes with these odds (0 to 1)."""
    return dice.random() < odds


def around(dice: Random, middle: float, tenth: float) -> float:
    """Return a positive number: half lie below `middle`, one in ten above `tenth`."""
    return middle * math.exp(dice.normalvariate() * math.log(tenth / middle) / TENTH)


def between(book: tuple[float, float, float], z: float) -> float:
    """Return what lies `z` standard deviations off the book's figure, in its own units.

    One in ten is below the book's low, one in ten above its high.
    """
    low, middle, high = book
    ratio = high / middle if z > 0 else middle / low
    return middle * math.exp(z * math.log(ratio) / TENTH)
