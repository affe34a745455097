"""What the work book should say: what phases took, beside what it says, everywhere and by family.

Where families take clearly different times, each has hours of its own and the rest share theirs;
where they do not, one figure holds for all. Hours are those of the phase alone: what a phase
saves beside another is taken off afterwards, as `routes` does.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from store.rules.book import Hours, Phase, WorkBook
from store.rules.family_hours import fits, hours_for
from store.sums.ranged import ENOUGH, enough

__all__ = [
    "FEW", "Say", "Sure", "Took", "as_counted", "enough", "for_all", "for_family", "has_own",
    "pooled", "proposed", "said", "tenths", "worth",
]  # fmt: skip

Sure = Literal["sure", "likely", "open"]
FEW = ENOUGH
"""From so many times on the book may be changed."""
STEP_H = 0.1
"""Book hours are said in tenths."""
WORTH = 0.05
"""Share of the book's hours from which a difference is worth a change."""
APART = math.log(1.15)
"""So far from the others a family takes hours of its own (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Took:
    """What a phase takes, as it was learned.

    Attributes:
        operation: where it was done most; `family` None: all families together.
        hours: half of them stay within the middle, one in ten within low, nine within high.
        finished: how many taught it.
        sure: whether it differs from what the book said then.
    """

    operation: str
    phase: str
    family: str | None
    hours: Hours
    finished: int
    sure: Sure


@dataclass(frozen=True, slots=True)
class Say:
    """What the book says for a phase, everywhere or for a family, and what it should say.

    Attributes:
        book, should: the second in tenths.
        others: families that have, or should have, hours of their own; for all the rest this is.
    """

    operation: str
    phase: str
    family: str | None
    book: Hours
    should: Hours
    finished: int
    sure: Sure
    others: tuple[str, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether the change is worth making."""
        return worth(self.book, self.should)

    @property
    def good(self) -> bool:
        """Whether the book may be changed by it: it differs, surely, and not from a few."""
        return self.differs and self.sure == "sure" and enough(self.finished)


def worth(book: Hours, should: Hours) -> bool:
    """Whether two middles differ by a tenth of an hour and by a twentieth of the book's."""
    more = abs(should.middle - book.middle)
    return more >= max(STEP_H, WORTH * book.middle) - 1e-9


def tenths(hours: Hours) -> Hours:
    """Hours as a book says them: in tenths, never none."""
    low, middle, high = (
        max(STEP_H, round(one, 1)) for one in (hours.low, hours.middle, hours.high)
    )
    return Hours(low, middle, high)


def pooled(took: Iterable[Took]) -> tuple[Took, ...]:
    """One for each phase and family, where several operations share the phase: the means of what
    it takes in each, by how often it was done there; as sure as most of them."""
    groups: dict[tuple[str, str | None], list[Took]] = defaultdict(list)
    for one in took:
        groups[one.phase, one.family].append(one)
    return tuple(_together(group, phase, family) for (phase, family), group in groups.items())


def _together(group: Sequence[Took], phase: str, family: str | None) -> Took:
    if len(group) == 1:
        return group[0]
    first = max(group, key=lambda one: (one.finished, one.operation))
    return Took(
        first.operation, phase, family, _mean(group), sum(one.finished for one in group),
        _surely(group),
    )  # fmt: skip


def _mean(group: Sequence[Took]) -> Hours:
    """Geometric means, weighed by how often."""
    total = sum(one.finished for one in group)

    def of(values: Iterable[float]) -> float:
        pairs = zip(values, group, strict=True)
        return math.exp(sum(math.log(value) * one.finished for value, one in pairs) / total)

    return Hours(
        of(one.hours.low for one in group), of(one.hours.middle for one in group),
        of(one.hours.high for one in group),
    )  # fmt: skip


def _surely(group: Sequence[Took]) -> Sure:
    """As sure as the greater half of what was done."""
    total = sum(one.finished for one in group)
    for word in ("sure", "likely"):
        known = ("sure",) if word == "sure" else ("sure", "likely")
        if sum(one.finished for one in group if one.sure in known) * 2 > total:
            return word
    return "open"


def for_family(phase: Phase, took: Iterable[Took], family: str) -> Say | None:
    """What one family's hours should be; None where nothing was learned of it."""
    for one in took:
        if one.phase == phase.code and one.family == family:
            book = hours_for(phase, family)
            return Say(one.operation, one.phase, family, book, tenths(one.hours), one.finished,
                       one.sure)  # fmt: skip
    return None


def for_all(phase: Phase, took: Iterable[Took], apart: Collection[str] = ()) -> Say | None:
    """What a phase's hours should be where no family has its own; None where nothing was learned.

    Args:
        apart: families that get hours of their own besides those that have them in the book.
    """
    own = [one for one in took if one.phase == phase.code]
    others = {
        one.family for one in own
        if one.family is not None and (one.family in apart or has_own(phase, one.family))
    }  # fmt: skip
    rest = [one for one in own if one.family is not None and one.family not in others]
    whole = [one for one in own if one.family is None]
    if not whole or (others and not rest):
        return None
    found = whole[0] if not others else _together(rest, phase.code, None)
    return Say(found.operation, phase.code, None, phase.hours, tenths(found.hours), found.finished,
               found.sure, tuple(sorted(others)))  # fmt: skip


def has_own(phase: Phase, family: str) -> bool:
    """Whether the book has hours of this phase for this family."""
    return any(fits(one.family, family) for one in phase.hours_for)


def proposed(book: WorkBook, took: Iterable[Took]) -> tuple[Say, ...]:
    """All that the book should say otherwise, sure or not; of a phase its rest before families."""
    known = pooled(took)
    by_phase: dict[str, list[Took]] = defaultdict(list)
    for one in known:
        by_phase[one.phase].append(one)
    return tuple(
        say
        for code, rows in by_phase.items()
        if code in book.phases and book.phases[code].kind == "labour"
        for say in _of_phase(book.phases[code], rows)
    )


def said(phase: Phase, took: Iterable[Took], family: str | None) -> Say | None:
    """What a phase's hours should be for a family, or for all that have none of their own.

    None where nothing was learned of it.
    """
    rows = [one for one in took if one.phase == phase.code]
    if family is not None:
        return for_family(phase, rows, family)
    return for_all(phase, rows, _apart_of(rows))


def _of_phase(phase: Phase, rows: Sequence[Took]) -> Iterator[Say]:
    families = {one.family: one for one in rows if one.family is not None}
    apart = _apart_of(rows)
    rest = for_all(phase, rows, apart)
    if rest is not None and rest.differs:
        yield rest
    moved = rest is not None and rest.good
    for family in families:
        own = has_own(phase, family)
        say = for_family(phase, rows, family) if own or family in apart else None
        if say is None:
            continue
        after = rest.should if rest is not None and moved and not own else say.book
        if say.differs or worth(after, say.should):
            yield say


def _apart_of(rows: Iterable[Took]) -> set[str]:
    """Families that take clearly longer or shorter than most of the work does, from enough of
    theirs and of the others'."""
    families = {one.family: one for one in rows if one.family is not None}
    if not families:
        return set()
    usual, total = _median(families.values()), sum(one.finished for one in families.values())
    return {
        family for family, one in families.items()
        if enough(one.finished) and enough(total - one.finished)
        and abs(math.log(one.hours.middle / usual)) > APART
    }  # fmt: skip


def _median(families: Collection[Took]) -> float:
    """Within which half of all that was done has its middle."""
    left = sum(one.finished for one in families) / 2
    for one in sorted(families, key=lambda one: one.hours.middle):
        left -= one.finished
        if left <= 0:
            return one.hours.middle
    raise AssertionError("no family was given")


def as_counted(took: Took, counted: int) -> Took:
    """The same from no more phases than were really done: one of a job with two operations taught
    both."""
    return replace(took, finished=min(took.finished, counted)) if counted else took
