"""What other hours or another rate would have kept of the last twelve months' quotes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from store.file.month.cost import MonthCost, costs_of
from store.rules.book import WorkBook
from store.sums.prices import divided, otherwise
from store.sums.ranged import of_count
from store.trouble import Refused
from store.views.month.lift_days import lift_days
from store.views.month.look import Look
from store.views.month.priced import Priced, priced, year_of
from store.views.month.told_values import Costs, Earned, Prices, PriceWay
from store.views.month.way import Way

HOURS = ("as quoted", "book", "cautious", "learned")
DEARER = (1.05, 1.10)
"""Rates that are looked at where none is asked for: a twentieth and a tenth more than now."""
NO_RATE = "No rate holds: set the price of an hour (hoistbook rate set)."
NO_JOBS = "No job with an estimate was closed in these twelve months."
NO_COSTS = (
    "What an hour costs is not known: type a month's wages and overheads (hoistbook costs MONTH "
    "--wages X --overheads Y)."
)
OWNERS = "Prices and costs are the owner's."
ASSUMED = "As if the same customers had said yes."


def prices_of(look: Look, rate: float | None = None) -> Prices:
    """Return the last twelve months' quotes at other hours, and what each operation earned.

    Args:
        rate: money an hour at which the quotes are looked at as well.

    Raises:
        Refused: the rate is not above 0.
    """
    year = year_of(look)
    if look.reader != "owner":
        return Prices(year.first, year.last, (), (), (), OWNERS)
    if rate is not None and not 0 < rate <= 1e6:
        raise Refused("A rate is money for an hour, more than 0, like 95.")
    costs = costs_of(look.db, look.calendar, year, look.now)
    jobs = list(priced(look, year, costs))
    known = [one for one in jobs if otherwise(one.asked) is not None]
    return Prices(
        year.first, year.last, tuple(_ways(known, rate)),
        tuple(_earned(look, jobs)), tuple(_cost(one) for one in costs.values()),
        _says(jobs, known, costs),
    )  # fmt: skip


def _says(jobs: Sequence[Priced], known: Sequence[Priced], costs: dict[str, MonthCost]) -> str:
    if not jobs:
        return NO_JOBS
    said = [ASSUMED] if known else [NO_RATE]
    if known and len(known) < len(jobs):
        said.append(f"{len(jobs) - len(known)} of {len(jobs)} jobs had no rate and are left out.")
    costed = sum(one.cost is not None for one in known)
    if not costs:
        said.append(NO_COSTS)
    elif costed < len(known):
        said.append(f"What an hour cost is known of {costed} of {len(known)} jobs: kept is theirs.")
    taken = [one for one in costs.values() if one.taken_from is not None]
    if taken:
        last = max(one.taken_from or "" for one in taken)
        many = "One month takes" if len(taken) == 1 else f"{len(taken)} months take"
        said.append(f"{many} over the costs typed before, the last from {last}.")
    return " ".join(said)


def _ways(known: Sequence[Priced], rate: float | None) -> Iterator[PriceWay]:
    if not known:
        return
    for hours in HOURS:
        if hours != "learned" or any(one.hours(hours) is not None for one in known):
            yield _way(known, hours, None)
    now = known[-1].asked.rate
    rates = [rate] if rate is not None else [float(round(now * more)) for more in DEARER if now]
    for one in rates:
        yield _way(known, "as quoted", one)


def _way(known: Sequence[Priced], hours: str, rate: float | None) -> PriceWay:
    """One way: what would have been paid, job by job, beside what was."""
    was = {one.job.job: otherwise(one.asked) or 0.0 for one in known}
    paid = {one.job.job: otherwise(one.asked, one.hours(hours), rate) or 0.0 for one in known}
    more = sum(paid.values()) - sum(was.values())
    costed = [one for one in known if one.cost is not None]
    below = sum(paid[one.job.job] < (one.cost or 0.0) for one in costed)
    kept = sum(paid[one.job.job] - (one.cost or 0.0) for one in costed) if costed else None
    same = hours == "as quoted" and rate is None
    ways = [
        Way(
            f"{one.job.work}, {one.asked.paid.basis or 'nothing agreed'}",
            paid[one.job.job] - (0.0 if same else was[one.job.job]), one.job.job,
            at=one.job.closed_at, events=one.events,
        )
        for one in known
    ]  # fmt: skip
    ways.sort(key=lambda way: -abs(way.value or 0.0))
    return PriceWay(
        hours, rate, len(known), sum(paid.values()), kept, of_count(below, len(costed)),
        _way_says(hours, rate, more, len(known)), tuple(ways), more,
    )  # fmt: skip


def _way_says(hours: str, rate: float | None, more: float, jobs: int) -> str:
    many = f"{jobs} job{'' if jobs == 1 else 's'}"
    if rate is None and hours == "as quoted":
        return f"As quoted: the middle hours of {many} at the rate of their day."
    if rate is not None:
        what = f"At {rate:,.2f} an hour"
    else:
        what = {
            "book": "With the book's hours", "cautious": "With the cautious hours",
            "learned": "With the hours learned by now",
        }[hours]  # fmt: skip
    word = "more" if more >= 0 else "less"
    return f"{what} {abs(more):,.2f} {word} would have come in from {many}."


@dataclass(slots=True)
class _Sum:
    jobs: int = 0
    labour_h: float = 0.0
    fetched: float | None = 0.0
    cost: float | None = 0.0
    lift_days: float = 0.0


def _earned(look: Look, jobs: Sequence[Priced]) -> Iterator[Earned]:
    """Every operation, the most hours first.

    Fetched an hour = money that customers pay of the labour / labour hours; cost an hour = the
    jobs' cost / the same hours; a lift-day = money / days on a lift.
    """
    days = lift_days(look, [one.job.job for one in jobs])
    sums: dict[str, _Sum] = defaultdict(_Sum)
    ways: dict[str, list[Way]] = defaultdict(list)
    for one in jobs:
        operation, own = one.job.operation or "", sums[one.job.operation or ""]
        fetched = otherwise(one.asked)
        own.jobs += 1
        own.labour_h += one.asked.paid.worked_h
        own.fetched = _plus(own.fetched, fetched)
        own.cost = _plus(own.cost, one.cost)
        own.lift_days += days.get(one.job.job, 0.0)
        ways[operation].append(
            Way(one.job.work, fetched, one.job.job, at=one.job.closed_at, events=one.events)
        )
    for operation in sorted(sums, key=lambda one: (-sums[one].labour_h, one)):
        yield _line(look.book, operation, sums[operation], tuple(ways[operation]))


def _plus(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one + other


def _line(book: WorkBook | None, operation: str, own: _Sum, ways: tuple[Way, ...]) -> Earned:
    names = [
        book.operations[code].name if book is not None and code in book.operations else code
        for code in operation.split("+")
    ]
    fetched, cost = divided(own.fetched, own.labour_h), divided(own.cost, own.labour_h)
    return Earned(
        operation, " + ".join(names), own.jobs, own.labour_h, fetched, cost, own.lift_days,
        divided(own.fetched, own.lift_days), _earned_says(fetched, cost), ways,
    )  # fmt: skip


def _earned_says(fetched: float | None, cost: float | None) -> str:
    if fetched is None:
        return "No rate holds for all of its jobs."
    if cost is None:
        return f"An hour fetched {fetched:,.2f}; what it cost is not known."
    word = "above" if fetched >= cost else "below"
    return (
        f"An hour fetched {fetched:,.2f}, {abs(fetched - cost):,.2f} {word} the {cost:,.2f} that "
        "an hour attended cost."
    )


def _cost(one: MonthCost) -> Costs:
    return Costs(
        one.month,
        one.wages,
        one.overheads,
        one.attended_h,
        one.per_hour,
        one.taken_from,
        one.seq,
        one.running,
    )
