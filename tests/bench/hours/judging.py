"""One shop, all methods."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from importlib import import_module
from typing import cast

import numpy as np

from store.learn.scores import Floats
from tests.bench.hours.baselines import by_the_book, mixed_model, running_means
from tests.bench.hours.history import simulate
from tests.bench.hours.rows import Slot, slots
from tests.bench.hours.scoring import Method, Score, measured, scored
from tests.bench.hours.table import Case, Outcome
from tests.bench.hours.truth import truth

BASELINES: dict[str, Method] = {
    "book": by_the_book.hours,
    "means": running_means.hours,
    "mixed": mixed_model.hours,
}


LEARNERS = ("learner", "roster")


def methods(names: Sequence[str], learner: str) -> dict[str, Method]:
    """The methods asked for; `learner` is MODULE:FUNCTION, `roster` the same one told more.

    Raises:
        ModuleNotFoundError: a method, or what it needs, is not installed here.
    """
    found: dict[str, Method] = {}
    for name in names:
        if name == "mixed":
            import_module(mixed_model.LIBRARY)
        found[name] = BASELINES[name] if name in BASELINES else _learner(learner)
    return found


def _learner(name: str) -> Method:
    module, _, function = name.partition(":")
    return cast("Method", getattr(import_module(module), function or "hours"))


def judged(case: Case, by: Mapping[str, Method]) -> list[Outcome]:
    """Simulate a shop and score the truth, then each method."""
    history = simulate(case.make, case.flavour, case.jobs, (case.seed, case.shop))
    records = history.records
    asked = list(slots(records))
    best = scored(asked, list(truth(history)), 0.0)
    found = [_outcome(case, "truth", best, best, asked)]
    for name, method in by.items():
        told = partial(method, people=history.people) if name == "roster" else method
        found.append(_outcome(case, name, measured(told, records), best, asked))
    return found


def _outcome(case: Case, name: str, score: Score, best: Score, asked: Sequence[Slot]) -> Outcome:
    kind = np.array([2 * (one.moment == "started") + (one.phase == "*") for one in asked])
    split = [_ratio(score.loss[kind == n], best.loss[kind == n]) for n in range(4)]
    return Outcome(
        case,
        name,
        _ratio(score.loss, best.loss),
        score.held80,
        score.held90,
        score.seconds,
        (split[0], split[1], split[2], split[3]),
    )


def _ratio(loss: Floats, best: Floats) -> float:
    return float(loss.mean() / best.mean())
