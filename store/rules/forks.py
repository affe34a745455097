"""Routes that open decisions may still lead to, each with its odds."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from store.rules.book import Answer, Step
from store.rules.routes import RoutePhase

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
    """One way that things may go: what is known of the vehicle then, or that the work ends."""

    odds: float
    sets: Mapping[str, str] = field(default_factory=dict[str, str])
    ends: bool = False


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
        ways = _merged([later for way in ways for later in _answered(way, both)])
    kept = [way for way in ways if way.odds >= LEAST][:MOST] or ways[:1]
    whole = sum(way.odds for way in kept)
    return [Fork(way.odds / whole, way.sets, way.ends) for way in kept]


def _answered(way: Fork, answers: Sequence[tuple[Answer, float]]) -> list[Fork]:
    if way.ends:
        return [way]
    return [
        Fork(way.odds * chance, {**way.sets, **answer.sets}, answer.ends)
        for answer, chance in answers
    ]


def _merged(ways: Sequence[Fork]) -> list[Fork]:
    """Ways that come to the same are one; the likeliest first."""
    found: dict[tuple[tuple[tuple[str, str], ...], bool], Fork] = {}
    for way in ways:
        key = tuple(sorted(way.sets.items())), way.ends
        before = found.get(key, Fork(0.0, way.sets, way.ends))
        found[key] = Fork(before.odds + way.odds, way.sets, way.ends)
    return sorted(found.values(), key=lambda way: -way.odds)
