"""When a hold point or decision stood signed: labour behind it belongs into those stretches only.

A signature counts from when it was given, one outside its limits from when a foreman let it stand;
it ends when its cover is opened again, the vehicle is raised anew, or its author takes it back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Name:
    """One signature. Instants in the file's form, which sorts as instants do.

    Attributes:
        counts_from: None while a reading outside its limits was let stand by nobody.
        void_at: None while it holds.
    """

    person: str
    at: str
    counts_from: str | None
    void_at: str | None

    def holds_at(self, at: str) -> bool:
        """Whether it was not void yet."""
        return self.void_at is None or self.void_at > at


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time in which the way was open; `until` None is to this day."""

    since: str
    until: str | None

    def covers(self, since: str, until: str | None) -> bool:
        """Whether all of that lies inside; None goes on."""
        if since < self.since:
            return False
        return self.until is None or (until is not None and until <= self.until)


def in_force(names: Sequence[Name], at: str) -> list[Name]:
    """The signatures that count together at an instant: those after the last one out of limits.

    Args:
        names: in the order in which they were written.
    """
    found: list[Name] = []
    for name in names:
        if not name.holds_at(at):
            continue
        if name.counts_from is None:
            found = []
        else:
            found.append(name)
    return found


def open_way(names: Sequence[Name], signs: int) -> list[Stretch]:
    """The stretches in which a gate of so many signatures stood signed."""
    found: list[Stretch] = []
    for n, name in enumerate(names):
        if name.counts_from is None:
            continue
        start = name.counts_from
        together = in_force([*names[:n], name], start) if name.holds_at(start) else []
        if len(together) >= signs:
            ends = [each.void_at for each in together if each.void_at is not None]
            found.append(Stretch(start, min(ends, default=None)))
    return found
