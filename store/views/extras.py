"""While it is open: what other work would add now, and what it would cost alone later."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass

from store.rules.book import Neighbour
from store.rules.forks import Fork
from store.rules.routes import RoutePhase, lay, sold
from store.trouble import Refused
from store.views.asking import Asking, Route

SHARED = 1 / 3
"""Work of which less is shared is no neighbour. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Extra:
    """Work that is cheaper now than later. Middle hours of labour.

    Attributes:
        operation: its code, where the shop sells it as work of its own; None for a small thing
            that is done on the way.
        odds: how often it is taken along, where the work book says it.
    """

    operation: str | None
    text: str
    odds: float | None
    adds_h: float
    alone_h: float


def extras(asking: Asking, route: Route) -> tuple[Extra, ...]:
    """Return the neighbours of the work, the likeliest first, then by how much is shared."""
    near = list(_neighbours(asking))
    found = list(_operations(asking, route, near))
    sells = {code for one in found for code in _phases(asking, one.operation)}
    found += [
        _on_the_way(asking, one, route)
        for one in near
        if not set(one.phases) & sells and not _done(one, route)
        if any(each.phase.code == one.phase for each in route)
    ]
    return tuple(sorted(found, key=lambda one: (-(one.odds or 0.0), one.adds_h - one.alone_h)))


def _neighbours(asking: Asking) -> Iterator[Neighbour]:
    seen: set[str] = set()
    for operation in sold(asking.book, asking.operations):
        for one in operation.neighbours:
            if one.text not in seen and asking.vehicle.meets(one.when):
                seen.add(one.text)
                yield one


def _done(one: Neighbour, route: Route) -> bool:
    """The work includes it already."""
    codes = {each.phase.code for each in route}
    return bool(one.phases) and set(one.phases) <= codes


def _phases(asking: Asking, operation: str | None) -> set[str]:
    if operation is None:
        return set()
    return {use.phase for use in asking.book.operations[operation].route}


def _operations(asking: Asking, route: Route, near: list[Neighbour]) -> Iterator[Extra]:
    """Other operations that share a good part of their way with this work, and belong to it: the
    book names them, or they were done on this family."""
    before = asking.total(route).middle
    known = done_on(asking.db, asking.vehicle.family)
    for code, operation in asking.book.operations.items():
        odds = [one.odds for one in near if set(one.phases) & _own(asking, code)]
        if code in asking.operations or not (odds or code in known):
            continue
        both = asking.selling([*asking.operations, code])
        alone = asking.selling([code])
        if both is None or alone is None:
            continue
        alone_h, together_h = _hours(alone), _hours(both)
        if alone_h is None or together_h is None:
            continue
        adds_h = max(0.0, together_h - before)
        if alone_h - adds_h >= SHARED * alone_h:
            yield Extra(code, operation.name, max(odds, default=None), adds_h, alone_h)


def done_on(db: sqlite3.Connection, family: str) -> set[str]:
    """Return the codes of the operations that were sold on a family, here or before this file."""
    rows = db.execute("select distinct operations from job where family = ?", [family])
    found = {code for row in rows for code in json.loads(row[0])}
    past = db.execute("select distinct template from past_phase where variant = ?", [family])
    return found | {code for row in past for code in row[0].split("+")}


def _own(asking: Asking, code: str) -> set[str]:
    """Phases that this operation has to itself."""
    others = (one.route for each, one in asking.book.operations.items() if each != code)
    return _phases(asking, code) - {use.phase for each in others for use in each}


def _hours(asking: Asking) -> float | None:
    try:
        laid = lay(
            asking.book, operations=asking.operations, family=asking.vehicle.family,
            options=asking.vehicle.options, grade=asking.vehicle.grade,
        )  # fmt: skip
    except Refused:
        return None
    return asking.total(laid).middle


def _on_the_way(asking: Asking, one: Neighbour, route: Route) -> Extra:
    """Later it would cost the way there and back once more."""
    there = {each.phase.code for each in asking.route_if(Fork(1.0, {}, one.phase)) or ()}
    ends = (route[0], route[-1])
    way = tuple(
        each for each in route if each in ends or (each.phase.code in there and _is_access(each))
    )
    return Extra(None, one.text, one.odds, one.hours, one.hours + asking.total(way).middle)


def _is_access(each: RoutePhase) -> bool:
    """It is paid again by whoever comes back; so are reception and the last check."""
    phase = each.phase
    return phase.kind == "labour" and (phase.always or phase.side is not None)
