"""Hours that the work book gives a phase for some families: which of them hold for a vehicle.

A pattern has three parts like a family key; `S6-*-R` is every S6 that is driven behind, and `S*`
every engine that begins with S, as in a condition (`route_when`).
"""

from __future__ import annotations

from store.rules.book import Hours, HoursFor, Phase, When
from store.rules.route_when import family_parts, holds
from store.trouble import Refused

ANY = "*"
Rank = tuple[int, int]


def fits(pattern: str, family: str) -> bool:
    """Whether a family is one of a pattern's.

    Raises:
        Refused: one of them has not three parts.
    """
    engine, gearbox, axles = family_parts(pattern)
    when = When(engine=(engine,), gearbox=(gearbox,), axles=(axles,))
    return holds(when, family=family, grade=0, options={})


def rank(pattern: str) -> Rank:
    """How much a pattern says: whole parts, then letters before its stars; more is more specific.

    Raises:
        Refused: it has not three parts.
    """
    parts = family_parts(pattern)
    whole = [part for part in parts if not part.endswith(ANY)]
    return len(whole), sum(len(part) - 1 for part in parts if part.endswith(ANY))


def clash(one: str, other: str) -> str | None:
    """A family for which two patterns say equally much, so that neither wins; None: there is none.

    Raises:
        Refused: one of them has not three parts.
    """
    if rank(one) != rank(other):
        return None
    pairs = zip(family_parts(one), family_parts(other), strict=True)
    both = [_in_both(a, b) for a, b in pairs]
    return None if None in both else "-".join(part or "" for part in both)


def _in_both(one: str, other: str) -> str | None:
    """What two parts share: the narrower of them; None where nothing is in both."""
    if one.endswith(ANY) and other.endswith(ANY):
        short, long = sorted((one, other), key=len)
        return long if long.startswith(short[:-1]) else None
    whole, pattern = (other, one) if one.endswith(ANY) else (one, other)
    if pattern.endswith(ANY):
        return whole if whole.startswith(pattern[:-1]) else None
    return whole if whole == pattern else None


def hours_for(phase: Phase, family: str) -> Hours:
    """The book's hours of a phase on a vehicle of this family: of the most specific pattern.

    Raises:
        Refused: the family has not three parts.
    """
    own = _own(phase, family)
    return phase.hours if own is None else own.hours


def learned_for(phase: Phase, family: str) -> float:
    """By how much what was learned changed the book's hours of a phase for a family, 1 where it did
    not.

    Raises:
        Refused: the family has not three parts.
    """
    own = _own(phase, family)
    return phase.learned if own is None else own.learned


def _own(phase: Phase, family: str) -> HoursFor | None:
    found = [one for one in phase.hours_for if fits(one.family, family)]
    return max(found, key=lambda one: rank(one.family), default=None)


def pattern_of(text: str) -> str:
    """A family or pattern as people type it, without blanks around its parts.

    Raises:
        Refused: it has not three parts, or a star that is not the last letter of its part.
    """
    parts = family_parts(text)
    if any(ANY in part[:-1] for part in parts):
        raise Refused(f"{text!r}: a star ends a part, as in S6-*-R or S*-M-R.")
    return "-".join(parts)
