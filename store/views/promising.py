"""What a customer can be told of a job: dates by chance, and the chance of a date."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from store.file.shop import Shop
from store.sums import moving
from store.sums.working_time import Calendar
from store.trouble import Refused
from store.views import likely
from store.views.jobs import job_value, parts_of
from store.views.loading import load
from store.views.people_now import people_now
from store.views.values import Job

EVEN, SURE = 0.5, 0.95


@dataclass(frozen=True, slots=True)
class Offer:
    """A date that can be promised.

    Attributes:
        level: the chance that it was asked for.
        chance: of keeping it, after rounding up to a quarter of an hour; None where nothing was
            learned and the date is the book's.
    """

    level: float
    at: datetime
    chance: float | None


@dataclass(frozen=True, slots=True)
class Promising:
    """One job's dates.

    Attributes:
        offers: the shop's own chance first, then an even one and a sure one.
        seq: the entry of the ledger that the forecast knows; None where there is none.
        open_h: quantiles of the shop's open hours until the job is done, where they were learned.
    """

    job: Job
    cautious: float
    offers: tuple[Offer, ...]
    seq: int | None
    open_h: tuple[float, ...] | None
    calendar: Calendar = field(compare=False)
    at: datetime = field(compare=False)

    def chance(self, promise: datetime) -> float | None:
        """Return the chance of keeping a date; None where nothing was learned."""
        if self.open_h is None:
            return None
        return likely.chance(self.calendar, self.at, self.open_h, promise)


def promising(shop: Shop, number: str, now: datetime) -> Promising:
    """Return what a job's customer can be told.

    Raises:
        Refused: there is no such job.
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        loaded = load(db, [number], now, people_now(db, now))
    if not loaded.heads:
        raise Refused(f"There is no job {number}.")
    parts = parts_of(loaded, loaded.heads[0])
    known = parts.likely
    made = Promising(
        job_value(parts), loaded.cautious, (), known.forecast.seq if known else None,
        known.open_hours() if known else None, loaded.calendar, now,
    )  # fmt: skip
    return Promising(
        made.job, made.cautious, _offers(made), made.seq, made.open_h, made.calendar, now
    )


def _offers(of: Promising) -> tuple[Offer, ...]:
    """Dates at the shop's own chance, at an even and at a sure one; () when nothing is left."""
    finish = of.job.finish
    if finish is None:
        return ()
    if of.open_h is None:
        cautious, middle = likely.hand_over(finish.cautious), likely.hand_over(finish.middle)
        return (Offer(of.cautious, cautious, None), Offer(EVEN, middle, None))
    levels = dict.fromkeys((of.cautious, EVEN, SURE))
    return tuple(_offer(of, of.open_h, level) for level in levels)


def _offer(of: Promising, open_h: tuple[float, ...], level: float) -> Offer:
    at = likely.hand_over(of.calendar.after(of.at, moving.quantile(open_h, level)))
    return Offer(level, at, of.chance(at))
