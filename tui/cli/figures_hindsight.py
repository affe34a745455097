"""Hindsight of the shop's own past in figures: all of it, then by operation."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from rich.cells import set_cell_size

from store.views.hindsight import PROMISE, Hindsight, OperationJudged
from tui import words

if TYPE_CHECKING:
    from store.learn.judged import DatesJudged, HoursJudged, Share

HALF, RANGE = 0.5, 0.8
FEW = 10
"""Fewer cases are said as `3 of 7`: a per cent would sound like more than there is."""
Pairs = Sequence[tuple[float | None, float | None]]
"""Of all that is counted and of the last half: what it is held against, and what was learned."""


def percent(share: float) -> str:
    """`81 %`"""
    return f"{round(100 * share)} %"


def _maybe(share: float | None, nothing: str = "") -> str:
    return nothing if share is None else percent(share)


def in_ten(chance: float) -> str:
    """`8 in 10`, `75 in 100`"""
    tenths = round(10 * chance, 6)
    return f"{tenths:.0f} in 10" if tenths == int(tenths) else f"{100 * chance:.0f} in 100"


def figures(found: Hindsight) -> Iterator[str]:
    """Tables of at most 80 columns."""
    yield from (line.rstrip() for line in _overall(found))
    yield ""
    yield from _operations("Whole jobs", "jobs", found, lambda one: one.jobs)
    yield ""
    yield from _operations("Single phases", "phases", found, lambda one: one.phases)


def _overall(found: Hindsight) -> Iterator[str]:
    every, half = found.every, found.last_half
    yield f"{'':<36}{f'the {every.jobs} jobs':>16}{f'the last {half.jobs}':>18}"
    yield _heads("Hours", "book")
    yield " whole jobs, before the first clock"
    yield from _hours(found, (every.hours.jobs, half.hours.jobs))
    yield " single phases, before the first clock"
    yield from _hours(found, (every.hours.phases, half.hours.phases))
    yield " single phases, as each began"
    yield from _hours(found, (every.hours.begun, half.hours.begun))
    if every.dates is None or half.dates is None:
        return
    yield _heads("Dates", "plain")
    yield " before the first clock"
    yield from _dates((every.dates.agreed, half.dates.agreed))
    yield " at every start of a phase"
    yield from _dates((every.dates.begun, half.dates.begun))


def _heads(what: str, beside: str) -> str:
    return f"{what:<36}{beside:>7}{'learned':>9}{beside:>9}{'learned':>9}{'should be':>10}"


def _hours(found: Hindsight, both: Sequence[HoursJudged]) -> Iterator[str]:
    held: Pairs = [(one.book.share, one.middle.share) for one in both]
    cautious: Pairs = [(None, one.cautious.share) for one in both]
    yield _row("middle figure was enough", held, HALF)
    yield _row("cautious figure was enough", cautious, found.cautious)
    yield _row("came between low and high", [(None, one.within.share) for one in both], RANGE)
    yield _row("typical miss", [(one.book_miss, one.miss) for one in both])
    yield _row("nearer than the book", [(None, one.nearer) for one in both])


def _dates(both: Sequence[DatesJudged]) -> Iterator[str]:
    kept: Pairs = [(one.plain.share, one.promise.share) for one in both]
    yield _row(f"promise at {in_ten(PROMISE)} was kept", kept, PROMISE)
    yield _row("came between low and high", [(None, one.within.share) for one in both], RANGE)
    yield _row("typical miss", [(one.plain_miss, one.miss) for one in both])
    yield _row("nearer than plain labour hours", [(None, one.nearer) for one in both])


def _row(name: str, pairs: Pairs, should: float | None = None) -> str:
    shown = [_maybe(one) for pair in pairs for one in pair]
    return f"  {name:<34}{shown[0]:>7}{shown[1]:>9}{shown[2]:>9}{shown[3]:>9}{_maybe(should):>10}"


def _operations(
    title: str, unit: str, found: Hindsight, pick: Callable[[OperationJudged], HoursJudged]
) -> Iterator[str]:
    yield f"{'':<29}{'figure enough':>14}{'cautious':>9}{'but for':>8}{'typical miss':>13}"
    yield (
        f"{title:<21}{unit:>8}{'book':>6}{'middle':>8}{'enough':>9}{'luck':>8}"
        f"{'book':>5}{'learned':>8}{'nearer':>7}"
    )
    for one in found.operations:
        yield _operation(one, pick(one))


def _operation(one: OperationJudged, judged: HoursJudged) -> str:
    name = set_cell_size(words.cut(f"{one.operation:<6}{one.name}", 23), 23)
    luck = f"{round(100 * judged.cautious.low)}-{round(100 * judged.cautious.high)}"
    book, middle, cautious = (
        _few(each, judged.count) for each in (judged.book, judged.middle, judged.cautious)
    )
    return (
        f"{name}{judged.count:>5}{book:>7}{middle:>8}{cautious:>9}{luck:>8}"
        f"{percent(judged.book_miss):>6}{percent(judged.miss):>7}{_maybe(judged.nearer, '-'):>7}"
    )


def _few(share: Share, count: int) -> str:
    if count < FEW:
        return f"{round(share.share * count)} of {count}"
    return percent(share.share)
