"""The shop's own past, asked anew: how right would its estimates and its dates have been?"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from store.file.books import NoBook, book_on
from store.file.facts import calendar_of, setting
from store.file.learned.cases import is_believable
from store.file.shop import Shop
from store.views.history import Past, past_in

if TYPE_CHECKING:
    from store.learn.dates.replay import Row
    from store.learn.hindsight import Scored
    from store.learn.judged import DatesJudged, HoursJudged
    from store.learn.records import Record

FIRST = 20
"""Jobs that only teach: before them nobody would have relied on what was learned ..."""
SHARE_FIRST = 3
"""... or one in so many, where there are few."""
PROMISE = 0.8
"""The chance at which a finish would have been promised."""
MOST_CAUTIOUS = 0.95
"""No quantile beyond it is kept of a replay."""


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours of whole jobs and of their phases, said before the first clock; and as each began."""

    jobs: HoursJudged
    phases: HoursJudged
    begun: HoursJudged


@dataclass(frozen=True, slots=True)
class Dates:
    """Finishes, said before the first clock; and at every start of a phase."""

    agreed: DatesJudged
    begun: DatesJudged


@dataclass(frozen=True, slots=True)
class Judged:
    """Some jobs. `dates` is None where no clocks of them are known, only their hours."""

    jobs: int
    hours: Hours
    dates: Dates | None


@dataclass(frozen=True, slots=True)
class OperationJudged:
    """Whole jobs and single phases of an operation, or of operations done together."""

    operation: str
    name: str
    jobs: HoursJudged
    phases: HoursJudged


@dataclass(frozen=True, slots=True)
class Hindsight:
    """What a replay came to.

    Attributes:
        since, until: the first start, the last end.
        jobs, phases: replayed.
        first: how many jobs only taught.
        cautious: the shop's chance of a cautious figure.
        every: all jobs after the first.
        last_half: of all jobs the later half.
        operations: the most frequent first.
    """

    since: datetime
    until: datetime
    zone: ZoneInfo
    jobs: int
    phases: int
    first: int
    cautious: float
    every: Judged
    last_half: Judged
    operations: tuple[OperationJudged, ...]


def hindsight(
    shop: Shop, now: datetime, progress: Callable[[int, int], None] | None = None
) -> Hindsight | None:
    """Replay the shop's past; None where no job that teaches is closed.

    The file is read in one look; nothing of it is kept while this computes.

    Args:
        now: whose work book names the operations.
        progress: called with how many moments are done, of how many.
    """
    with shop.reading() as db:
        found, cautious, names = past_in(db), float(setting(db, "cautious")), _names(db, now)
    records = [one for one in found.records if is_believable(one)]
    if not records:
        return None
    hours, dates = _replayed(found, records, progress)
    order = list(dict.fromkeys(one.job for one in hours))
    first = min(FIRST, len(order) // SHARE_FIRST)
    judge = _Judge(hours, dates, min(cautious, MOST_CAUTIOUS))
    return Hindsight(
        datetime.fromtimestamp(min(one.started for one in records), UTC),
        datetime.fromtimestamp(max(one.closed for one in records), UTC),
        found.zone, len(order), len(records), first, judge.cautious, judge.of(order[first:]),
        judge.of(order[len(order) // 2 :]), tuple(judge.operations(order[first:], names)),
    )  # fmt: skip


def _names(db: sqlite3.Connection, now: datetime) -> Mapping[str, str]:
    try:
        book = book_on(db, calendar_of(db).day_of(now))[1]
    except NoBook:
        return {}
    return {code: one.name for code, one in book.operations.items()}


def _replayed(
    found: Past, records: Sequence[Record], progress: Callable[[int, int], None] | None
) -> tuple[Sequence[Scored], Sequence[Row]]:
    """Hours, and the dates of jobs whose clocks are known: of the others nobody knows the days.

    What was forecast before a job's first clock is left out: its check had been done long before
    it was agreed, and nobody was promised a day then.
    """
    from store.learn.hindsight import both, hours

    clocked: dict[str, float] = {}
    for one in found.spans:
        if one.kind == "labour":
            clocked[one.job] = min(one.started, clocked.get(one.job, one.started))
    if not clocked or not found.open:
        return list(hours(records, found.people, progress)), ()
    scored, rows = both(records, found.spans, found.open, found.people, progress)
    return scored, [one for one in rows if one.as_of >= clocked.get(one.job, one.as_of + 1)]


@dataclass(frozen=True, slots=True)
class _Judge:
    hours: Sequence[Scored]
    dates: Sequence[Row]
    cautious: float

    def of(self, jobs: Collection[str]) -> Judged:
        """All about some jobs."""
        these = set(jobs)
        hours = [one for one in self.hours if one.job in these]
        return Judged(
            len(these),
            Hours(self._jobs(hours), self._phases(hours, "booked"), self._phases(hours, "started")),
            self._dates([one for one in self.dates if one.job in these]),
        )

    def operations(
        self, jobs: Collection[str], names: Mapping[str, str]
    ) -> Iterator[OperationJudged]:
        """Hours by operation."""
        these = set(jobs)
        found: dict[str, list[Scored]] = {}
        for one in self.hours:
            if one.job in these:
                found.setdefault(one.template, []).append(one)
        judged = [
            OperationJudged(
                code, " + ".join(names.get(one, one) for one in code.split("+")),
                self._jobs(rows), self._phases(rows, "booked"),
            )
            for code, rows in found.items()
        ]  # fmt: skip
        yield from sorted(judged, key=lambda one: (-one.jobs.jobs, one.operation))

    def _jobs(self, hours: Sequence[Scored]) -> HoursJudged:
        from store.learn.judged import hours_judged

        whole = [one for one in hours if one.moment == "booked" and one.phase == "*"]
        return hours_judged(whole, self.cautious)

    def _phases(self, hours: Sequence[Scored], moment: str) -> HoursJudged:
        from store.learn.judged import hours_judged

        single = [one for one in hours if one.moment == moment and one.phase != "*"]
        return hours_judged(single, self.cautious)

    def _dates(self, rows: Sequence[Row]) -> Dates | None:
        from store.learn.judged import dates_judged

        if not rows:
            return None
        return Dates(
            dates_judged([one for one in rows if one.moment == "booked"], PROMISE),
            dates_judged([one for one in rows if one.moment == "started"], PROMISE),
        )
