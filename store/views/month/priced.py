"""The jobs of twelve months, their prices looked at: what was asked, worked, paid and cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from store.file.month.clocks import Rates
from store.file.month.cost import MonthCost
from store.file.month.facts import closing
from store.file.month.quoted import QuotedHours, quoted_hours
from store.file.month.sold import closed_in
from store.sums.month.jobs import JobJudged
from store.sums.month.span import MonthSpan, month_of, month_span, shifted
from store.sums.prices import Asked
from store.views.month.look import Look

MONTHS = 12


@dataclass(frozen=True, slots=True)
class Priced:
    """A closed job with an agreement.

    Attributes:
        cautious_h: as first agreed; `quoted` the same by the book and as learned now.
        cost: its hours x what an hour attended cost in the month it was closed; None: not known.
        events: its agreement and its closing.
    """

    job: JobJudged
    asked: Asked
    cautious_h: float
    quoted: QuotedHours | None
    cost: float | None
    events: tuple[int, ...]

    def hours(self, what: str) -> float | None:
        """Hours asked instead; None where they are those that were asked."""
        if what == "cautious":
            return self.cautious_h
        if self.quoted is None or what == "as quoted":
            return None
        if what == "book":
            return self.quoted.book
        share = self.quoted.share
        return None if share is None else share * self.asked.hours


def year_of(look: Look) -> MonthSpan:
    """Return the twelve months that end with the month that is looked at."""
    first = month_span(shifted(look.span.month, 1 - MONTHS), look.now, look.calendar.zone)
    return replace(look.span, first=first.first, since=first.since)


def priced(look: Look, year: MonthSpan, costs: Mapping[str, MonthCost]) -> Iterator[Priced]:
    """Yield the deep jobs that were closed in a time, by time of closing."""
    rates, quoted = Rates(look.db), quoted_hours(look.db, year)
    known = {one.job: one for one in look.facts.jobs}
    ended = {job: (seq,) for job, seq in closing(look.db, year).items()}
    for one in closed_in(look.db, look.facts, year, look.calendar, rates, look.now):
        job = known[one.job]
        if job.small or not job.changes or job.first_h is None:
            continue
        first = job.changes[0]
        rate = rates.on(look.calendar.day_of(first.at))
        cost = costs.get(month_of(look.calendar.day_of(job.closed_at)))
        hour = None if cost is None else cost.per_hour
        yield Priced(
            job, Asked(one.paid, job.first_h, rate), first.cautious_h, quoted.get(job.job),
            None if hour is None else hour * one.paid.worked_h,
            (first.seq, *ended.get(job.job, ())),
        )  # fmt: skip
