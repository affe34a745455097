"""Whether a line of the work book applies to a vehicle."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from store.rules.book import When
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What the conditions of the book are asked about."""

    family: str
    grade: int
    options: Mapping[str, str]

    def meets(self, when: When) -> bool:
        """Whether a line of the book with this condition applies."""
        return holds(when, family=self.family, grade=self.grade, options=self.options)


@lru_cache(maxsize=1024)
def family_parts(key: str) -> tuple[str, str, str]:
    """Engine, gearbox and driven axles of a family key.

    Raises:
        Refused: the key has not three parts.
    """
    parts = tuple(part.strip() for part in key.split("-"))
    if len(parts) != 3 or not all(parts):
        raise Refused(
            f"{key!r} is no family: write engine, gearbox and driven axles joined by hyphens, "
            "like B4-M-F."
        )
    return parts[0], parts[1], parts[2]


def holds(when: When, *, family: str, grade: int, options: Mapping[str, str]) -> bool:
    """Whether the condition is met; an option that the job does not have meets none.

    Raises:
        Refused: the family key has not three parts.
    """
    if (when.engine or when.gearbox or when.axles) and not _fits(when, family):
        return False
    if when.grade and grade not in when.grade:
        return False
    if not when.option:
        return True
    return all(options.get(code) in values for code, values in when.option.items())


def _fits(when: When, family: str) -> bool:
    engine, gearbox, axles = family_parts(family)
    return (
        _listed(engine, when.engine)
        and _listed(gearbox, when.gearbox)
        and _listed(axles, when.axles)
    )


def _listed(part: str, listed: Sequence[str]) -> bool:
    """`H*` stands for every code that begins with H."""
    return not listed or any(
        part.startswith(code[:-1]) if code.endswith("*") else part == code for code in listed
    )
