"""What if: the routes that an open decision, or a property nobody knows yet, would make of work."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from store.rules import routes
from store.rules.book import Option
from store.rules.estimating import Figures
from store.rules.forks import Fork, Question, forks, questions
from store.trouble import Refused
from store.views.asking import Asking, Route, kits_of, more_and_less

SAME_H = 0.005
"""Routes whose hours differ by less are no fork."""
Ends = tuple[tuple[float, datetime], ...]
"""Chances, and by when the work would be done with each of them."""
Case = list[tuple[float, Route]]
"""Routes that work may take, with their odds."""


@dataclass(frozen=True, slots=True)
class Way:
    """What an answer would make of the work: its odds and its labour together.

    Attributes:
        odds: None where nobody knows.
        more, less: names of phases that it would add and take away.
        kits: codes of tool kits that it needs beside those that are needed anyway.
        sets: what is known of the vehicle then.
        ends: the planned work ends there.
        planned: it is what the estimate assumes.
        finish: with what chance it would be done by when; () where that is not known.
    """

    code: str
    text: str
    odds: float | None
    total: Figures
    more: tuple[str, ...]
    less: tuple[str, ...]
    kits: tuple[str, ...] = ()
    sets: tuple[tuple[str, str], ...] = ()
    ends: bool = False
    planned: bool = False
    finish: Ends = ()


@dataclass(frozen=True, slots=True)
class ForkLine:
    """Something open whose answer changes hours: a decision in a phase, or an option.

    Attributes:
        phase: number of the phase that decides it; None for an option that no phase decides.
        option: code of that option.
    """

    phase: str | None
    text: str
    ways: tuple[Way, ...]
    option: str | None = None


@dataclass(frozen=True, slots=True)
class _Branch:
    """A way with the routes that the work may take then."""

    way: Way
    case: Case


def what_if(asking: Asking, route: Route) -> list[tuple[ForkLine, list[Case]]]:
    """Return what is open, and for each way the routes that the work may take then."""
    asked = questions(route, asking.named)
    decided = {name for one in asked for answer in one.answers for name in answer.sets}
    found = [_decision(asking, route, one) for one in asked]
    found += [_option(asking, route, one) for one in _unknown(asking, decided)]
    return [one for one in found if _differs(one[0])]


def with_finishes(line: ForkLine, finishes: Sequence[Ends]) -> ForkLine:
    """Return what is open with the dates of its ways."""
    ways = (replace(way, finish=finish) for way, finish in zip(line.ways, finishes, strict=True))
    return replace(line, ways=tuple(ways))


def case_of(asking: Asking, asked: Sequence[Question]) -> Case:
    """Return the routes that open questions may lead to."""
    ways = forks(asked, asking.odds)
    return [(one.odds, laid) for one in ways if (laid := asking.route_if(one)) is not None]


def _differs(line: ForkLine) -> bool:
    first = line.ways[0] if line.ways else None
    return first is not None and any(
        abs(way.total.middle - first.total.middle) > SAME_H or way.kits != first.kits
        for way in line.ways
    )


def _decision(asking: Asking, route: Route, asked: Question) -> tuple[ForkLine, list[Case]]:
    """Each answer with what it would make of the work; everything else as it is assumed."""
    number = next(str(n) for n, one in enumerate(route, 1) if one.phase.code == asked.phase)
    found = list(_answers(asking, route, asked))
    line = ForkLine(number, asked.text, tuple(one.way for one in found))
    return line, [one.case for one in found]


def _answers(asking: Asking, route: Route, asked: Question) -> Iterator[_Branch]:
    for answer, odds in zip(asked.answers, asking.odds(asked), strict=True):
        then = asking.route_if(Fork(odds, answer.sets, asked.phase if answer.ends else None))
        if then is not None:
            planned = not answer.ends and then == route
            way = _way(asking, (answer.code, answer.text, odds), (route, then), answer.sets)
            yield _Branch(
                replace(way, ends=answer.ends, planned=planned),
                [(1.0, then)] if answer.ends else _rest(asking, answer.sets, then, asked),
            )


def _rest(asking: Asking, sets: Mapping[str, str], then: Route, asked: Question) -> Case:
    """What else is open once this is answered."""
    later = asking.saying(sets)
    left = [
        one
        for one in questions(then, later.named)
        if (one.phase, one.step) != (asked.phase, asked.step)
    ]
    return case_of(later, left)


def _unknown(asking: Asking, decided: set[str]) -> list[Option]:
    """Options that nobody named and no phase decides."""
    return [
        option
        for one in routes.sold(asking.book, asking.operations)
        for option in one.options
        if option.code not in asking.named and option.code not in decided
    ]


def _option(asking: Asking, route: Route, option: Option) -> tuple[ForkLine, list[Case]]:
    branches: list[_Branch] = []
    for value in (option.assume, *(one for one in option.values if one != option.assume)):
        sets = {option.code: value}
        later = asking.saying(sets)
        try:
            then = routes.lay(
                asking.book, operations=asking.operations, family=asking.vehicle.family,
                options=later.vehicle.options, grade=asking.vehicle.grade,
            )  # fmt: skip
        except Refused:
            continue
        way = _way(asking, (value, value, None), (route, then), sets)
        case = case_of(later, questions(then, later.named))
        branches.append(_Branch(replace(way, planned=value == option.assume), case))
    line = ForkLine(None, option.text, tuple(one.way for one in branches), option.code)
    return line, [one.case for one in branches]


def _way(
    asking: Asking, answer: tuple[str, str, float | None], laid: tuple[Route, Route],
    sets: Mapping[str, str],
) -> Way:  # fmt: skip
    code, text, odds = answer
    route, then = laid
    more, less = more_and_less(route, then)
    anyway = set(kits_of(route))
    return Way(
        code, text, odds, asking.total(then), more, less,
        tuple(one for one in kits_of(then) if one not in anyway), tuple(sets.items()),
    )  # fmt: skip
