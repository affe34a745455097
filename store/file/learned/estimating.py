"""Learned hours of a route that nobody has begun."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from store.file.learned.branches import of_route
from store.file.learned.new_work import AsOf, Work
from store.learn.labour.ahead import Hours, phase_hours, total_hours
from store.learn.labour.kept import unpack
from store.learn.labour.labour import Labour
from store.learn.records import AtHand
from store.rules.estimating import Figures, of_phase
from store.rules.routes import RoutePhase
from store.sums.moving import quantile

DIGITS = 4


def figures(
    labour: Labour, route: Sequence[RoutePhase], work: Work, as_of: AsOf
) -> tuple[list[Figures], Figures]:
    """Return the hours of each phase of a route, and of its labour together."""
    branch = of_route(route, work.badge)
    ready = labour.ready(at_hand(work, as_of), branch.planned())
    hours = iter(phase_hours(ready))
    each = [
        _figures(next(hours), as_of.cautious)
        if one.left_labour
        else of_phase(_book(laid), as_of.cautious)
        for one, laid in zip(branch.pieces, route, strict=True)
    ]
    return each, _figures(total_hours(ready), as_of.cautious)


def at_hand(work: Work, as_of: AsOf) -> AtHand:
    """The work as the learner of labour asks for it: a job that has no number yet."""
    return AtHand("", work.template, work.family, as_of.at, work.grade, (), as_of.employed)


@lru_cache(maxsize=2)
def read(content: bytes) -> Labour:
    """Return what was learned, ready to be asked.

    Raises:
        ValueError: the bytes are not what this version keeps.
    """
    return unpack(content)


def _figures(hours: Hours, cautious: float) -> Figures:
    quantiles = tuple(round(one, DIGITS) for one in hours.quantiles)
    return Figures(
        quantiles[9], round(quantile(quantiles, cautious), DIGITS), round(hours.mean, DIGITS),
        quantiles,
    )  # fmt: skip


def _book(one: RoutePhase) -> tuple[float, float, float]:
    return (one.book.low, one.book.middle, one.book.high)
