"""One order for the phases of several operations: each own order kept, accesses nested.

Accesses nest like brackets: what is taken off last goes back on first. Where the operations leave
a choice, the same one is made always, whatever order they are named in.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter

from store.rules.book import Phase, WorkBook
from store.trouble import Refused

_DEAD_ENDS = 20_000
"""So many dead ends are looked at before an order counts as impossible (a pair needs some 200)."""

Rank = tuple[int, int, int]


class NoOrder(Refused):
    """The operations want their phases in orders that contradict each other."""

    def __init__(self, phases: Sequence[str]) -> None:
        self.phases = tuple(phases)
        super().__init__(
            f"These operations cannot be done together: the order of {', '.join(self.phases)} "
            "contradicts itself. Take them as two jobs, or put the work book right."
        )


def stand_ins(book: WorkBook, present: Collection[str]) -> dict[str, tuple[str, ...]]:
    """Per phase that falls away beside those present, the phases that do its work instead."""
    holders: dict[str, list[str]] = {}
    for code in (code for code in book.phases if code in present):
        for inner in book.phases[code].contains:
            holders.setdefault(inner, []).append(code)
    return {inner: _outermost(inner, holders) for inner in holders}


def _outermost(inner: str, holders: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    seen, todo, found = {inner}, list(holders[inner]), list[str]()
    while todo:
        code = todo.pop(0)
        if code in seen:
            continue
        seen.add(code)
        if code in holders:
            todo.extend(holders[code])
        else:
            found.append(code)
    return tuple(found)


def in_order(book: WorkBook, chains: Iterable[Sequence[str]]) -> tuple[str, ...]:
    """All phases of the chains, each once, those contained in others left out.

    Raises:
        NoOrder: no order keeps that of every chain and nests the accesses.
    """
    return _order(Same(book), tuple(tuple(chain) for chain in chains))


@dataclass(frozen=True, slots=True, eq=False)
class Same:
    """A book as itself: two are the same where they are one object."""

    book: WorkBook

    def __hash__(self) -> int:
        return id(self.book)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and other.book is self.book


@lru_cache(maxsize=512)
def _order(same: Same, chains: tuple[tuple[str, ...], ...]) -> tuple[str, ...]:
    """The same few combinations are asked for again and again."""
    book = same.book
    present = {code for chain in chains for code in chain}
    instead = stand_ins(book, present)
    kept = [code for code in book.phases if code in present and code not in instead]
    before: dict[str, set[str]] = {code: set() for code in kept}
    for chain in chains:
        _add_edges(before, [instead.get(code, (code,)) for code in chain])
    return _Search(book, before).run()


def _add_edges(before: dict[str, set[str]], places: Sequence[tuple[str, ...]]) -> None:
    """Whatever stands earlier in a chain comes earlier; a phase standing in twice counts once."""
    done: list[str] = []
    for place in places:
        for code in place:
            if code not in done:
                before[code].update(done)
        done.extend(code for code in place if code not in done)


@dataclass(slots=True)
class _Search:
    """Depth first along the ranks; it turns back only where accesses would not nest."""

    book: WorkBook
    before: Mapping[str, set[str]]
    _ranks: dict[str, Rank] = field(init=False)
    _dead: set[tuple[frozenset[str], tuple[str, ...]]] = field(init=False)

    def __post_init__(self) -> None:
        self._ranks = _ranks(self.book, self.before)
        self._dead = set()

    def run(self) -> tuple[str, ...]:
        found = self._from((), ())
        if found is None:
            raise self._no_order()
        return found

    def _from(self, done: tuple[str, ...], stack: tuple[str, ...]) -> tuple[str, ...] | None:
        if len(done) == len(self.before):
            return done
        here = (frozenset(done), stack)
        if here in self._dead:
            return None
        for code in self._ready(here[0], stack):
            found = self._from((*done, code), self._opened(stack, self.book.phases[code]))
            if found is not None:
                return found
        if not self._dead:
            _refuse_circles(self.before)
        if len(self._dead) == _DEAD_ENDS:
            raise self._no_order()
        self._dead.add(here)
        return None

    def _no_order(self) -> NoOrder:
        return NoOrder([code for code in self.before if self.book.phases[code].access])

    def _ready(self, done: frozenset[str], stack: tuple[str, ...]) -> list[str]:
        free = [c for c, first in self.before.items() if c not in done and first <= done]
        return sorted((c for c in free if self._nests(c, stack)), key=self._ranks.__getitem__)

    def _nests(self, code: str, stack: tuple[str, ...]) -> bool:
        phase = self.book.phases[code]
        shut_in = phase.side == "on" and phase.access in stack
        return not shut_in or stack[-1] == phase.access

    def _opened(self, stack: tuple[str, ...], phase: Phase) -> tuple[str, ...]:
        if phase.access is None or phase.side is None:
            return stack
        if phase.side == "off":
            return (*stack, phase.access) if f"{phase.access}-on" in self.before else stack
        return stack[:-1] if stack and stack[-1] == phase.access else stack


def _ranks(book: WorkBook, before: Mapping[str, set[str]]) -> dict[str, Rank]:
    checks = [code for code in before if book.phases[code].qualifies]
    early = {*checks, *(code for check in checks for code in before[check])}
    return {
        code: (0, 0, position) if code in early else (*_rank(book.phases[code]), position)
        for position, code in enumerate(book.phases)
        if code in before
    }


def _rank(phase: Phase) -> tuple[int, int]:
    """Strip, work, refit, accesses on, and last what needs a whole vehicle.

    Of these the phase with the most hold points against the first start goes first: no engine is
    run for one operation while its fluids and oil pressure are unsigned for another.
    """
    if phase.phase_class == "strip":
        return 1, 0
    if phase.after != "drives":
        return (2 if phase.phase_class == "work" else 3 if phase.side is None else 4), 0
    if not any(step.deed == "first-start" for step in phase.steps):
        return 5, 0
    return 6, -sum(
        step.kind == "hold point" and "first-start" in step.blocks for step in phase.steps
    )


def _refuse_circles(before: Mapping[str, set[str]]) -> None:
    try:
        TopologicalSorter(before).prepare()
    except CycleError as error:
        circle: Sequence[str] = error.args[1]
        raise NoOrder(circle) from error
