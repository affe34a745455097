"""The bench's table: simulator and flavour by jobs, every method beside the truth."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np


@dataclass(frozen=True, slots=True)
class Case:
    """One shop: which simulator, which difficulty, how long a history, which draw."""

    make: str
    flavour: str
    jobs: int
    seed: int
    shop: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one method did on one shop; `ratio` of its loss to the truth's."""

    case: Case
    method: str
    ratio: float
    held80: float
    held90: float
    seconds: float
    by_kind: tuple[float, float, float, float]


KINDS = ("booked phase", "booked total", "started phase", "started to the end")
HEAD = f"{'shop':<14}{'jobs':>5} {'method':<14}{'ratio':>7}{'+-':>7}{'80 %':>7}{'90 %':>7}{'s':>8}"


def lines(outcomes: Iterable[Outcome], *, by_kind: bool) -> Iterator[str]:
    """The table's lines, those of a flavour as soon as it is done.

    Ratios are means over shops, `+-` their standard error.
    """
    yield HEAD + ("".join(f"{kind:>20}" for kind in KINDS) if by_kind else "")
    every: dict[tuple[int, str], list[Outcome]] = defaultdict(list)
    for (name, jobs), group in groupby(outcomes, key=_flavour):
        of_method: dict[str, list[Outcome]] = defaultdict(list)
        for one in group:
            of_method[one.method].append(one)
            every[jobs, one.method].append(one)
        for method, shops in of_method.items():
            yield _line((name, jobs, method), shops, by_kind=by_kind)
    for (jobs, method), shops in every.items():
        yield _line(("mean", jobs, method), shops, by_kind=by_kind)


def _flavour(one: Outcome) -> tuple[str, int]:
    return f"{one.case.make} {one.case.flavour}", one.case.jobs


def _line(key: tuple[str, int, str], shops: Sequence[Outcome], *, by_kind: bool) -> str:
    ratios = np.array([one.ratio for one in shops])
    error = ratios.std(ddof=1) / len(ratios) ** 0.5 if len(ratios) > 1 else float("nan")
    held80, held90, seconds = (
        float(np.mean(values))
        for values in zip(*((one.held80, one.held90, one.seconds) for one in shops), strict=True)
    )
    name, jobs, method = key
    start = f"{name:<14}{jobs:>5} {method:<14}{ratios.mean():>7.3f}{error:>7.3f}"
    kinds = np.mean([one.by_kind for one in shops], axis=0)
    tail = "".join(f"{kind:>20.3f}" for kind in kinds) if by_kind else ""
    return f"{start}{100 * held80:>7.1f}{100 * held90:>7.1f}{seconds:>8.2f}{tail}"
