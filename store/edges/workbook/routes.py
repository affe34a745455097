"""What can be wrong in the routes of a work book, alone and two by two.

Every operation is laid for every kind of vehicle and option that the book tells apart; vehicles
that no line of the book tells apart are tried once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, islice, product

from store.edges.toml_lines import Path
from store.edges.workbook.fault import Fault, Found
from store.edges.workbook.form import BookForm, WhenForm
from store.edges.workbook.names import placed_phases, placed_steps, placed_whens
from store.rules.book import Operation, When, WorkBook
from store.rules.route_order import NoOrder, in_order, stand_ins
from store.rules.routes import RoutePhase, Vehicle, chain, lay, uncovered

_MOST = 600
"""So many kinds of vehicle are tried per operation; a book that tells more apart is rare."""
_NOT_ROUTING = {"kit", "surprise", "neighbour", "part", "follow_up"}
"""Conditions on these change neither phases nor steps."""
Chain = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Kind:
    """A vehicle that some line of the book treats differently from the others."""

    family: str
    grade: int


@dataclass(slots=True)
class Later:
    """Which phases come after which, in any route of an operation."""

    pairs: set[tuple[str, str, str]] = field(default_factory=set[tuple[str, str, str]])
    routed: set[tuple[str, str]] = field(default_factory=set[tuple[str, str]])

    def learn(self, book: WorkBook, operation: Operation, vehicle: Vehicle) -> None:
        """Take in one route; a phase that falls away counts as well as what does its work."""
        codes = list(chain(operation, vehicle))
        instead = stand_ins(book, codes)
        for at, code in enumerate(codes):
            self.routed.add((operation.code, code))
            after = {
                *codes[at + 1 :],
                *(c for each in codes[at + 1 :] for c in instead.get(each, ())),
            }
            self.pairs |= {(operation.code, code, each) for each in after - {code}}


def route_faults(form: BookForm, book: WorkBook) -> list[Fault]:
    """Faults that only show when routes are laid and merged."""
    whens = [when for when, path in placed_whens(form) if not _NOT_ROUTING & {*path}]
    kinds = _kinds(form, whens)
    asked = {code for when in whens for code in when.option}
    paths: dict[str, Path] = {
        each.code: ("operation", i) for i, each in reversed([*enumerate(form.operation)])
    }
    openers = _openers(form)
    found = [*_never_opened(form, openers)]
    later = Later()
    for code, operation in book.operations.items():
        for kind in kinds:
            for options in _option_choices(operation, asked):
                vehicle = Vehicle(kind.family, kind.grade, options)
                later.learn(book, operation, vehicle)
                alone = [*_alone(book, operation, vehicle, paths[code])]
                found += alone or _left_open(book, [operation], vehicle, openers, paths[code])
    found += _never_later(form, book, later)
    found += _pairs(book, kinds, asked, paths)
    if not found:
        found += _pairs_left_open(book, kinds, openers, paths)
    return _once(found)


def _once(faults: Iterable[Fault]) -> list[Fault]:
    """One per place and beginning: the same fault shows for many kinds of vehicle."""
    return list({(f.path, f.says.split(" (")[0]): f for f in reversed([*faults])}.values())


def _kinds(form: BookForm, whens: Sequence[WhenForm]) -> list[Kind]:
    parts = [
        _told_apart(form.families.engine, [when.engine for when in whens]),
        _told_apart(form.families.gearbox, [when.gearbox for when in whens]),
        _told_apart(form.families.axles, [when.axles for when in whens]),
    ]
    grades = (1, 2, 3, 4) if any(when.grade for when in whens) else (2,)
    found = (Kind("-".join(key), grade) for key, grade in product(product(*parts), grades))
    return list(islice(found, _MOST))


def _told_apart(known: Iterable[str], lists: Iterable[Sequence[str]]) -> list[str]:
    """One code for every set of lists that it is in."""
    distinct = {tuple(each) for each in lists if each}
    named = [code.removesuffix("*") for each in distinct for code in each]
    found: dict[frozenset[Chain], str] = {}
    for code in filter(str.isalnum, [*known, *sorted(named), "X"]):
        found.setdefault(frozenset(each for each in distinct if _listed(code, each)), code)
    return list(found.values())


def _listed(code: str, listed: Chain) -> bool:
    vehicle = Vehicle(f"{code}-X-X", 2, {})
    return vehicle.meets(When(engine=listed))


def _option_choices(operation: Operation, asked: Collection[str]) -> Iterator[dict[str, str]]:
    """Every choice of the options that routes and steps ask about."""
    codes = [option.code for option in operation.options]
    choices = product(*(o.values if o.code in asked else (o.assume,) for o in operation.options))
    yield from (dict(zip(codes, values, strict=True)) for values in islice(choices, _MOST))


def _alone(book: WorkBook, operation: Operation, vehicle: Vehicle, path: Path) -> Found:
    """Phases twice, sides without their other side, accesses that do not nest."""
    uses = {i: u.phase for i, u in enumerate(operation.route) if vehicle.meets(u.when)}
    codes = list(uses.values())
    before = {*stand_ins(book, codes)}
    done: set[str] = set()
    for i, code in uses.items():
        place = (*path, "route", i)
        if code in done:
            says = f"phase {code!r} is there twice (for {vehicle.family}): take one out."
            yield Fault(place, says)
        yield from _other_side(book, code, codes, before | done, place)
        done.add(code)
    try:
        in_order(book, [list(dict.fromkeys(codes))])
    except NoOrder as error:
        yield Fault(
            (*path, "route"),
            f"the accesses of {operation.code!r} do not nest ({', '.join(error.phases)}): "
            "what comes off last goes on first.",
        )


def _other_side(
    book: WorkBook, code: str, codes: Sequence[str], before: Iterable[str], path: Path
) -> Found:
    phase = book.phases[code]
    if phase.side == "on" and f"{phase.access}-off" not in before:
        yield Fault(path, f"{code!r} comes without {phase.access}-off before it: add that.")
    if phase.side == "off" and f"{phase.access}-on" not in codes:
        yield Fault(path, f"{code!r} is opened and {phase.access}-on never comes: add that.")


def _openers(form: BookForm) -> dict[str, list[tuple[str | None, Path]]]:
    """Per condition the phases that open it and where that is written."""
    found: dict[str, list[tuple[str | None, Path]]] = {}
    for phase in placed_phases(form):
        for i, code in enumerate(phase.form.opens):
            found.setdefault(code, []).append((phase.code, (*phase.path, "opens", i)))
    for step in placed_steps(form):
        for i, code in enumerate(step.step.opens):
            found.setdefault(code, []).append((step.phase, (*step.path, "opens", i)))
    return found


def _never_opened(form: BookForm, openers: Mapping[str, object]) -> Found:
    known = {condition.code for condition in form.condition}
    closers = [
        *((phase.form.closes, phase.path) for phase in placed_phases(form)),
        *((step.step.closes, step.path) for step in placed_steps(form)),
    ]
    for closes, path in closers:
        for i, code in enumerate(closes):
            if code in known and code not in openers:
                says = f"{code!r} is closed here and opened nowhere: let a step open it."
                yield Fault((*path, "closes", i), says)


def _never_later(form: BookForm, book: WorkBook, later: Later) -> Found:
    """A hold point cannot block a phase that never follows it."""
    for placed in placed_steps(form):
        operations = [placed.operation] if placed.operation else [*book.operations]
        own = [op for op in operations if (op, placed.phase or "") in later.routed]
        if placed.step.kind != "hold point" or not own:
            continue
        for i, code in enumerate(placed.step.blocks):
            follows = any((op, placed.phase, code) in later.pairs for op in own)
            if code in book.phases and not follows:
                yield Fault(
                    (*placed.path, "blocks", i),
                    f"hold point {placed.step.code!r} blocks {code!r}, which never comes after "
                    f"{placed.phase!r} in a route: name a later phase.",
                )


def _left_open(
    book: WorkBook,
    operations: Sequence[Operation],
    vehicle: Vehicle,
    openers: Mapping[str, Sequence[tuple[str | None, Path]]],
    path: Path,
) -> Found:
    route = lay(
        book,
        operations=[operation.code for operation in operations],
        family=vehicle.family,
        options=vehicle.options,
        grade=vehicle.grade,
    )
    names = " with ".join(operation.code for operation in operations)
    for code, phase in _open_at_the_end(route).items():
        places = [place for where, place in openers.get(code, ()) if where == phase]
        yield Fault(
            places[0] if places else path,
            f"{code!r} is opened in {phase} and never closed by {names} "
            f"(on {vehicle.family}): let a later step or phase close it.",
        )


def _open_at_the_end(route: Iterable[RoutePhase]) -> dict[str, str]:
    """Condition and the phase that opened it."""
    still: dict[str, str] = {}
    for each in route:
        still |= dict.fromkeys(each.phase.opens, each.phase.code)
        for step in each.steps:
            still |= dict.fromkeys(step.opens, each.phase.code)
            _close(still, step.closes)
        _close(still, each.phase.closes)
    return still


def _close(still: dict[str, str], codes: Iterable[str]) -> None:
    for code in codes:
        still.pop(code, None)


def _pairs(
    book: WorkBook, kinds: Sequence[Kind], asked: Collection[str], paths: Mapping[str, Path]
) -> Found:
    """Every two operations, for each kind of vehicle, in every variant of both."""
    variants = {
        (code, kind): {
            chain(operation, Vehicle(kind.family, kind.grade, options))
            for options in _option_choices(operation, asked)
        }
        for code, operation in book.operations.items()
        for kind in kinds
    }
    for one, other in combinations(book.operations.values(), 2):
        both = {
            pair
            for kind in kinds
            for pair in product(variants[one.code, kind], variants[other.code, kind])
        }
        for first, second in sorted(both):
            chains = uncovered([one, other], {one.code: first, other.code: second})
            try:
                in_order(book, chains.values())
            except NoOrder as error:
                yield Fault(
                    (*paths[other.code], "route"),
                    f"{one.code!r} and {other.code!r} cannot be merged, their orders contradict "
                    f"each other ({', '.join(error.phases)}): give both the same order.",
                )
                break


def _pairs_left_open(
    book: WorkBook,
    kinds: Sequence[Kind],
    openers: Mapping[str, Sequence[tuple[str | None, Path]]],
    paths: Mapping[str, Path],
) -> Found:
    """Where a phase falls away beside another operation, its closing falls away with it."""
    for pair in combinations(book.operations.values(), 2):
        for kind in kinds:
            options = {o.code: o.assume for operation in pair for o in operation.options}
            vehicle = Vehicle(kind.family, kind.grade, options)
            codes = {code for operation in pair for code in chain(operation, vehicle)}
            covered = {code for operation in pair for code in operation.contains}
            if codes & (covered | stand_ins(book, codes).keys()):
                yield from _left_open(book, pair, vehicle, openers, paths[pair[1].code])
