"""The route of a job: what this vehicle needs for the operations sold, each phase once, in order.

Phases are shared three ways: the same phase is done once, one phase contains another, and one
makes another shorter.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from store.rules.book import (
    Hours,
    KitNeed,
    Operation,
    Option,
    Phase,
    Step,
    WorkBook,
)
from store.rules.family_hours import hours_for, learned_for
from store.rules.route_order import Same, in_order, stand_ins
from store.rules.route_steps import extras_of, kits_of, steps_of
from store.rules.route_when import Vehicle, family_parts, holds
from store.trouble import Refused

__all__ = [
    "RoutePhase",
    "Vehicle",
    "chain",
    "chosen",
    "family_parts",
    "holds",
    "labour_h",
    "lay",
    "on_lift",
    "shared_saving_h",
    "sold",
    "uncovered",
]


@dataclass(frozen=True, slots=True)
class RoutePhase:
    """A phase as this vehicle needs it.

    Attributes:
        book: hours after what other phases of the route save.
        steps: those that apply, in order, with the extras of the operations and the hold points
            of every job; what they block is named as it is called in this route.
        kits: those that apply.
        serves: codes of the operations that need it.
        learned: times the hours that the book said before it took over what was learned.
    """

    phase: Phase
    book: Hours
    steps: tuple[Step, ...]
    kits: tuple[KitNeed, ...]
    serves: tuple[str, ...]
    learned: float = 1.0


def chosen(book: WorkBook, operations: Sequence[str], options: Mapping[str, str]) -> dict[str, str]:
    """The options of these operations, assumed values filled in.

    Raises:
        Refused: an operation, an option or a value is not in the book.
    """
    known = {option.code: option for op in sold(book, operations) for option in op.options}
    for code, value in options.items():
        _refuse_unknown(known, code, value)
    return {code: options.get(code, option.assume) for code, option in known.items()}


def _refuse_unknown(known: Mapping[str, Option], code: str, value: str) -> None:
    if code not in known:
        possible = ", ".join(f"{o.code}={'|'.join(o.values)}" for o in known.values())
        raise Refused(
            f"There is no option {code!r} here; possible: {possible}."
            if known
            else f"There is no option {code!r} here: these operations have none. Leave it out."
        )
    if value not in known[code].values:
        raise Refused(f"{code} cannot be {value!r}; possible: {', '.join(known[code].values)}.")


def sold(book: WorkBook, operations: Sequence[str]) -> tuple[Operation, ...]:
    """The operations in the order of the book, each once.

    Raises:
        Refused: none is named, or one is not in the book.
    """
    for code in operations:
        if code not in book.operations:
            raise Refused(
                f"The work book has no operation {code!r}; it has {', '.join(book.operations)}."
            )
    if not operations:
        raise Refused(f"Name at least one operation: {', '.join(book.operations)}.")
    return tuple(op for op in book.operations.values() if op.code in operations)


def lay(
    book: WorkBook,
    *,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str],
    grade: int,
) -> tuple[RoutePhase, ...]:
    """The route; it does not depend on the order in which the operations are named.

    Args:
        options: what is known of the vehicle; the book's assumption holds for the rest.
        grade: condition at arrival, 1 to 4.

    Raises:
        Refused: an operation, option, value or family that cannot be, or no possible order.
    """
    ops = sold(book, operations)
    family_parts(family)
    known = chosen(book, operations, options)
    codes = tuple(op.code for op in ops)
    return _laid(Same(book), codes, family, tuple(known.items()), grade)


@lru_cache(maxsize=256)
def _laid(
    same: Same,
    codes: tuple[str, ...],
    family: str,
    options: tuple[tuple[str, str], ...],
    grade: int,
) -> tuple[RoutePhase, ...]:
    """A job's route is asked for when it is taken and with each answer that could change it."""
    book, vehicle = same.book, Vehicle(family, grade, dict(options))
    ops = sold(book, codes)
    chains = {op.code: chain(op, vehicle) for op in ops}
    chains = uncovered(ops, chains)
    order = in_order(book, chains.values())
    instead = stand_ins(book, {code for codes in chains.values() for code in codes})
    extras = extras_of(ops)
    route = tuple(
        RoutePhase(
            phase=book.phases[code],
            book=_reduced(book, code, order, family),
            steps=steps_of(book.phases[code], extras.get(code, ()), vehicle, order, instead),
            kits=kits_of(book.phases[code], vehicle, instead),
            serves=tuple(op for op, codes in chains.items() if _needs(code, codes, instead)),
            learned=learned_for(book.phases[code], family),
        )
        for code in order
    )
    return _with_hold_points(book, route, vehicle)


def chain(operation: Operation, vehicle: Vehicle) -> tuple[str, ...]:
    """Codes of the phases that the operation alone needs, in its own order."""
    return tuple(dict.fromkeys(u.phase for u in operation.route if vehicle.meets(u.when)))


def uncovered(
    ops: Sequence[Operation], chains: Mapping[str, tuple[str, ...]]
) -> dict[str, tuple[str, ...]]:
    """The chains without what another operation does on its way (`Operation.contains`)."""
    own = {code for op in ops for code in chains[op.code] if code in op.contains}
    covered = {code for op in ops for code in op.contains} - own
    return {op: tuple(c for c in codes if c not in covered) for op, codes in chains.items()}


def labour_h(route: Iterable[RoutePhase]) -> float:
    """Book hours of the labour phases; standing and outwork are not labour."""
    return sum(each.book.middle for each in route if each.phase.kind == "labour")


def shared_saving_h(
    book: WorkBook,
    *,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str],
    grade: int,
) -> float:
    """Labour hours that doing the operations together saves, by the book.

    Raises:
        Refused: as `lay`.
    """
    known = chosen(book, operations, options)
    together = lay(book, operations=operations, family=family, options=known, grade=grade)
    apart = (
        lay(
            book,
            operations=[op.code],
            family=family,
            options={option.code: known[option.code] for option in op.options},
            grade=grade,
        )
        for op in sold(book, operations)
    )
    return sum(map(labour_h, apart)) - labour_h(together)


def on_lift(phase: Phase) -> bool:
    """Whether it can only be done on a lift (a drive on the road beside it does not count)."""
    return "lift" in phase.place and not set(phase.place) - {"lift", "road"}


def _needs(code: str, codes: Sequence[str], instead: Mapping[str, Sequence[str]]) -> bool:
    return code in codes or any(code in instead.get(inner, ()) for inner in codes)


def _reduced(book: WorkBook, code: str, order: Sequence[str], family: str) -> Hours:
    """Low and high shrink in proportion, so that the spread stays that of the work."""
    hours = hours_for(book.phases[code], family)
    middle = hours.middle
    for reduction in book.reductions:
        if code in reduction.phases and reduction.beside in order:
            middle = middle * reduction.factor - reduction.minus
    if middle == hours.middle or not hours.middle:
        return hours
    share = max(middle, 0.0) / hours.middle
    return Hours(*(round(h * share, 4) for h in (hours.low, hours.middle, hours.high)))


def _with_hold_points(
    book: WorkBook, route: tuple[RoutePhase, ...], vehicle: Vehicle
) -> tuple[RoutePhase, ...]:
    """Those of the first phase come last in it, after the vehicle was driven in.

    Those of the first phase on a lift come first in it: nothing is done before the vehicle stands
    on it safely.
    """
    phases = list(route)
    for point in (point for point in book.hold_points if vehicle.meets(point.when)):
        lifted = point.insert == "first phase on a lift"
        at = next((i for i, each in enumerate(phases) if not lifted or on_lift(each.phase)), None)
        if at is not None:
            steps = phases[at].steps
            steps = (point, *steps) if lifted else (*steps, point)
            phases[at] = replace(phases[at], steps=steps)
    return tuple(phases)
