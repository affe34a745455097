"""Routes that open decisions may still lead to, each with its odds."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from store.rules.book import Answer, Step, WorkBook
from store.rules.route_end import still_needed
from store.rules.routes import RoutePhase, Vehicle, lay

WORTH = 4.0
"""Answers that the work book's odds are worth beside those that were really given."""
LEAST = 0.01
"""Routes with smaller odds are left out ..."""
MOST = 6
"""... and of those with larger ones so many are kept."""


@dataclass(frozen=True, slots=True)
class Question:
    """A decision whose answer changes the route: codes of its phase and its step."""

    phase: str
    step: str
    text: str
    answers: tuple[Answer, ...]


@dataclass(frozen=True, slots=True)
class Fork:
    """One way that things may go.

    Attributes:
        sets: what is known of the vehicle then.
        ends: code of the phase in which the planned work ends; None where it goes on.
    """

    odds: float
    sets: Mapping[str, str] = field(default_factory=dict[str, str])
    ends: str | None = None


def question(phase: str, step: Step) -> Question | None:
    """Return a step's question; None where it is no decision, or no answer changes the route."""
    if step.kind != "decision" or not any(one.sets or one.ends for one in step.answers):
        return None
    return Question(phase, step.code, step.text, step.answers)


def questions(route: Sequence[RoutePhase], known: Mapping[str, str]) -> list[Question]:
    """Return the questions of a route, but those whose answer was said already.

    Args:
        known: options that somebody named.
    """
    found = [
        asked
        for one in route
        for step in one.steps
        if (asked := question(one.phase.code, step)) is not None
    ]
    return [one for one in found if not _is_known(one, known)]


def _is_known(asked: Question, known: Mapping[str, str]) -> bool:
    """Every option that it decides was named, and no answer ends the work."""
    decided = {name for one in asked.answers for name in one.sets}
    return decided <= set(known) and not any(one.ends for one in asked.answers)


def odds(asked: Question, given: Mapping[str, int]) -> tuple[float, ...]:
    """Return the odds of each answer: the work book's, moved by the answers given here.

    Mean of a Dirichlet distribution, (k p + n_i) / (k + n).

    Args:
        given: how often each answer was given, by its code.

    Source:
        Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), section 3.4.
    """
    prior = sum(one.odds for one in asked.answers) or 1.0
    seen = [given.get(one.code, 0) for one in asked.answers]
    whole = WORTH + sum(seen)
    return tuple(
        (WORTH * one.odds / prior + times) / whole
        for one, times in zip(asked.answers, seen, strict=True)
    )


def forks(asked: Sequence[Question], chances: Callable[[Question], Sequence[float]]) -> list[Fork]:
    """Return the ways that open questions may go, the likeliest first; their odds sum to 1.

    An answer that ends the work leaves the later questions unasked.

    Args:
        asked: in the order of the route.
        chances: gives the odds of each answer to a question.
    """
    ways = [Fork(1.0)]
    for one in asked:
        both = list(zip(one.answers, chances(one), strict=True))
        ways = _merged([later for way in ways for later in _answered(way, one.phase, both)])
    kept = [way for way in ways if way.odds >= LEAST][:MOST] or ways[:1]
    whole = sum(way.odds for way in kept)
    return [replace(way, odds=way.odds / whole) for way in kept]


def _answered(way: Fork, phase: str, answers: Sequence[tuple[Answer, float]]) -> list[Fork]:
    if way.ends is not None:
        return [way]
    return [
        Fork(way.odds * chance, {**way.sets, **answer.sets}, phase if answer.ends else None)
        for answer, chance in answers
    ]


def _merged(ways: Sequence[Fork]) -> list[Fork]:
    """Ways that come to the same are one; the likeliest first."""
    found: dict[tuple[tuple[tuple[str, str], ...], str | None], Fork] = {}
    for way in ways:
        key = tuple(sorted(way.sets.items())), way.ends
        before = found.get(key)
        found[key] = way if before is None else replace(way, odds=before.odds + way.odds)
    return sorted(found.values(), key=lambda way: -way.odds)


def route_if(
    book: WorkBook, vehicle: Vehicle, operations: Sequence[str], fork: Fork
) -> tuple[RoutePhase, ...]:
    """Return the whole route of work that nobody has begun, if things go that way.

    Args:
        vehicle: with the options that hold until something else is found.

    Raises:
        Refused: no route can be laid so.
    """
    route = lay(
        book, operations=operations, family=vehicle.family,
        options={**vehicle.options, **fork.sets}, grade=vehicle.grade,
    )  # fmt: skip
    codes = [one.phase.code for one in route]
    if fork.ends not in codes:
        return route
    done = route[: codes.index(fork.ends) + 1]
    begun = [one.phase.code for one in done]
    stays = still_needed(route, begun, open_after(done))
    return (*done, *(one for one in route if one.phase.code in stays))


def open_after(done: Sequence[RoutePhase]) -> set[str]:
    """Return the open conditions that a vehicle carries after some phases of a route."""
    found: set[str] = set()
    for one in done:
        found |= {*one.phase.opens, *(code for step in one.steps for code in step.opens)}
        found -= {*one.phase.closes, *(code for step in one.steps for code in step.closes)}
    return found
