"""Whoever acts in the demo's past: the same actions as at a terminal, at simulated instants."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cached_property
from random import Random

from demo.people import PIN
from store.file.pins import Secret, make_secret
from store.file.shop import By


class Pen:
    """Makes the `By` of each act: keys from the seed, instants that never go back.

    Attributes:
        now: the instant of the last act.
    """

    def __init__(self, keys: Random, start: datetime) -> None:
        self._keys, self._acts = keys, 0
        self.now = start

    def by(self, badge: str, at: datetime, terminal: str, *, so: datetime | None = None) -> By:
        """Return who acts, where and when.

        Args:
            so: when it was so, for a late entry.
        """
        self.now = max(at, self.now)
        return By(badge, terminal, self.now, at=so, pin=PIN, key=self.key())

    def key(self) -> str:
        """Return the key of the next act, 24 hexadecimal digits: counted, then drawn.

        Keys that grow are filed quicker than keys all over the place.
        """
        self._acts += 1
        return f"{self._acts:06x}{self._keys.getrandbits(72):018x}"

    @cached_property
    def secret(self) -> Secret:
        """What is kept of the PIN that everybody has, made once: it is no secret here."""
        return make_secret(PIN, self._keys.randbytes(16))


def minutes(number: float) -> timedelta:
    """Return that many minutes, in whole seconds."""
    return timedelta(seconds=round(number * 60))
