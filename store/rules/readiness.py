"""Whether a job can come in: one sign, computed, and in words what lacks.

No job goes on a lift until it is ready: checked, agreed, parts here, kit here or dated, a skilled
person there (the order of a shop's desk; common practice, no source). A lift is seen by whoever
looks at all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal
from zoneinfo import ZoneInfo

from store.rules.kit_at_hand import KitNeed, day_word
from store.rules.part_states import NOT_LACKING

LackKind = Literal["held", "checked", "agreed", "parts", "kit", "person", "lift"]


@dataclass(frozen=True, slots=True)
class Lack:
    """One thing that lacks; `expected`: when it is likely to be there, where somebody said."""

    kind: LackKind
    words: str
    expected: datetime | None = None


@dataclass(frozen=True, slots=True)
class Ready:
    """The sign of a job that has not come in yet: ready, or what lacks."""

    lacks: tuple[Lack, ...] = ()

    @property
    def ready(self) -> bool:
        """Nothing lacks."""
        return not self.lacks

    @property
    def words(self) -> tuple[str, ...]:
        """What lacks, shortly."""
        return tuple(one.words for one in self.lacks)

    @property
    def says(self) -> str:
        """`ready`, or `lacks parts 2 of 5, Thu; kit: locking set`."""
        return f"lacks {'; '.join(self.words)}" if self.lacks else "ready"


@dataclass(frozen=True, slots=True)
class PartNeed:
    """A part line as far as readiness asks."""

    state: str
    expected: datetime | None = None


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of a job that has not come in.

    Attributes:
        check: what the qualifying check came to; None where there is none or it is part of the
            work that was agreed; `to do` where nothing is agreed before it.
        needs: of each phase still to do the qualifications that whoever does it must hold.
        people: of each skilled person who is there today the qualifications that hold.
    """

    agreed: bool
    check: str | None = None
    parts: tuple[PartNeed, ...] = ()
    kits: tuple[KitNeed, ...] = ()
    needs: tuple[frozenset[str], ...] = ()
    people: tuple[frozenset[str], ...] = ()


def lacking(facts: Facts, now: datetime, zone: ZoneInfo) -> tuple[Lack, ...]:
    """Return what lacks, in the order in which it is seen to."""
    found: list[Lack | None] = [_checked(facts), _agreed(facts), _parts(facts, now, zone)]
    found += [_kit(one, now, zone) for one in facts.kits]
    found += _people(facts)
    return tuple(one for one in found if one is not None)


def _checked(facts: Facts) -> Lack | None:
    if facts.check == "to do":
        return Lack("checked", "qualifying check")
    return Lack("checked", "check failed") if facts.check == "fail" else None


def _agreed(facts: Facts) -> Lack | None:
    return None if facts.agreed else Lack("agreed", "not agreed")


def _parts(facts: Facts, now: datetime, zone: ZoneInfo) -> Lack | None:
    wanted = [one for one in facts.parts if one.state != "not needed"]
    lacks = [one for one in wanted if one.state not in NOT_LACKING]
    if not lacks:
        return None
    at, why = _when(lacks, now, zone)
    return Lack("parts", f"parts {len(lacks)} of {len(wanted)}, {why}", at)


def _when(lacks: Sequence[PartNeed], now: datetime, zone: ZoneInfo) -> tuple[datetime | None, str]:
    """What of them wants somebody most; else the day by which all are there."""
    states = {one.state for one in lacks}
    if "wrong" in states:
        return None, "wrong"
    to_order = sum(one.state in ("wanted", "returned") for one in lacks)
    if to_order:
        return None, "not ordered" if to_order == len(lacks) else f"{to_order} not ordered"
    days = [one.expected for one in lacks if one.expected is not None]
    if len(days) < len(lacks):
        return None, "no date"
    last = max(days)
    return (last, "late") if min(days) <= now else (last, day_word(last, now, zone))


NOT_GOOD = {
    "incomplete": "not complete", "wrong": "wrong variant", "out of date": "out of date",
}  # fmt: skip


def _kit(need: KitNeed, now: datetime, zone: ZoneInfo) -> Lack | None:
    """A kit that is asked for with a day that has not passed is no obstacle: here or dated."""
    if need.at == "here":
        return None
    said = f"kit: {need.name}"
    if need.at == "in use":
        return Lack("kit", f"{said}, on {need.job}")
    if need.at in NOT_GOOD:
        return Lack("kit", f"{said}, {NOT_GOOD[need.at]}")
    if need.at == "nowhere":
        return Lack("kit", said)
    if need.expected is None:
        return Lack("kit", f"{said}, no date")
    return Lack("kit", f"{said}, late", need.expected) if need.expected <= now else None


def _people(facts: Facts) -> Iterable[Lack]:
    if not facts.people:
        yield Lack("person", "a person")
        return
    for need in dict.fromkeys(one for one in facts.needs if one):
        if not any(need <= held for held in facts.people):
            yield Lack("person", f"person: {', '.join(sorted(need))}")
