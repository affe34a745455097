"""What stands in the tables of a month, in the order of their columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

from store.sums.scoring import Scores
from store.views.month.values import AccuracyLine, Month, Ranged, Share, Way
from store.views.month.way import Figure
from tui.papers.month_rows import phases_of
from tui.papers.month_spent import hours_named, money_named

Line: TypeAlias = "Sequence[object]"


def accuracy(found: Month) -> Iterator[Line]:
    """All jobs, then jobs and phases by what they have in common, then the months before."""
    groups: tuple[tuple[str, tuple[AccuracyLine, ...]], ...] = (
        ("all", (AccuracyLine("all", "all jobs", found.accuracy, found.said[0]),)),
        ("kind", found.kinds), ("operation", found.operations), ("phase", found.by_phase),
        ("family", found.families), ("lead", found.leads), ("month", found.before),
    )  # fmt: skip
    for by, lines in groups:
        for one in lines:
            this = one.accuracy
            mean = this.mean_miss.value if this.mean_miss else None
            yield (
                by, one.key, one.name, this.jobs, this.left_out, this.labour_h, this.estimate_h,
                this.lost_h, *_ranged(this.bias), *_ranged(this.miss), mean,
                *_share(this.within), *_share(this.cautious), *_share(this.inside),
                *_scores(this.scores), this.enough, one.says,
            )  # fmt: skip


def _ranged(found: Ranged | None) -> Line:
    return (None, None, None) if found is None else (found.value, found.low, found.high)


def _share(found: Share | None) -> Line:
    return (None, None, None) if found is None else (found.share, found.low, found.high)


def _scores(found: Scores | None) -> Line:
    return (None, None) if found is None else (found.pinball_h, found.crps_h)


# -- what happened


def jobs(found: Month) -> Iterator[Line]:
    """Jobs closed in the month."""
    for one in found.jobs:
        yield (
            one.job, one.operations, one.work, one.family, one.grade, one.small,
            one.lead, one.basis, one.closed_at, one.labour_h, one.first_h, one.estimate_h,
            one.cautious_h, one.extra_h, one.route_h, one.other_h, one.promised,
            one.first_promised, one.chance, one.ready_at, one.not_teaching,
        )  # fmt: skip


def changes(found: Month) -> Iterator[Line]:
    """Everything that was agreed for them; the first line of a job is the whole of it."""
    for job in found.jobs:
        for one in job.changes:
            yield (job.job, one.seq, one.at, one.cause, one.added_h, one.middle_h,
                   one.cautious_h, one.says)  # fmt: skip


def phases(found: Month) -> Iterator[Line]:
    """Phases of the jobs closed, and all others finished in the month."""
    for one in phases_of(found):
        yield (
            one.job, one.phase, one.code, one.name, one.phase_class, one.operation, one.family,
            one.small, one.badge, one.state, one.finished_at, one.cut_off, one.not_teaching,
            one.labour_h, one.estimate_h, one.cautious_h, one.book_h,
        )  # fmt: skip


def clocks(found: Month) -> Iterator[Line]:
    """Their clocks; a learner's hours are told and are no labour."""
    for phase in phases_of(found):
        for one in phase.clocks:
            yield (one.seq, phase.job, phase.phase, one.badge, one.part, one.since, one.until,
                   one.hours)  # fmt: skip


def people(found: Month) -> Iterator[Line]:
    """Everybody's hours that the reader may see."""
    for one in found.hours.people:
        yield one.badge, one.name, one.attended_h, one.on_jobs_h, one.indirect_h, one.estimated_h


def left_running(found: Month) -> Iterator[Line]:
    """Clocks that ran on past the shift's end."""
    for one in found.hours.left_running:
        yield one.seq, one.badge, one.job, one.phase, one.since, one.stopped_at, one.says


def comebacks(found: Month) -> Iterator[Line]:
    """Comebacks with their labour of the month."""
    for one in found.hours.comebacks:
        yield one.job, one.of, one.fault, one.pays, one.labour_h, one.money


def not_charged(found: Month) -> Iterator[Line]:
    """Labour that nobody paid."""
    for one in found.money.not_charged:
        yield one.cause, one.basis, one.hours, one.money


def lifts(found: Month) -> Iterator[Line]:
    """Every lift's open hours and what it earned."""
    for one in found.lifts.lifts:
        yield (one.lift, one.open_h, one.worked_h, one.held_h, one.dead_h, one.empty_h, one.out_h,
               one.earned, one.days, one.per_day)  # fmt: skip


# -- figures and what they are made of


def figures_of(found: Month) -> Iterator[tuple[str, Figure]]:
    """Every figure of the page by its name."""
    for key, _, one in (*hours_named(found.hours), *money_named(found.money)):
        yield key, one
    yield "held", found.held.total
    for reason, one in found.held.reasons:
        yield f"held:{reason}", one
    yield "booked_ahead", found.lifts.booked_ahead
    quotes = found.quotes
    yield from (("quotes_given", quotes.given), ("quotes_agreed", quotes.agreed),
                ("quotes_declined", quotes.declined), ("quotes_open", quotes.open))  # fmt: skip


def figures(found: Month) -> Iterator[Line]:
    """Every figure with what it is."""
    for name, one in figures_of(found):
        yield name, one.value, one.unit, one.explained


def made_of(found: Month) -> Iterator[Line]:
    """Lines of what figures are made of; `below` is the line that a line is part of."""
    named = [(name, one.ways) for name, one in figures_of(found)]
    named += [(f"lift:{one.lift}", one.ways) for one in found.lifts.lifts]
    named += [(f"not_charged:{one.cause}:{one.basis}", one.ways)
              for one in found.money.not_charged]  # fmt: skip
    named += [(f"comeback:{one.job}", one.way) for one in found.hours.comebacks]
    named += [("promises_late", found.promises.late)]
    for name, ways in named:
        lines = _Numbered(name)
        for one in ways:
            yield from lines.of(one, None)


class _Numbered:
    """Numbers the lines of one figure from 1 on."""

    def __init__(self, name: str) -> None:
        self._name, self._last = name, 0

    def of(self, way: Way, below: int | None) -> Iterator[Line]:
        """A line and all that are part of it."""
        self._last += 1
        here = self._last
        yield (self._name, here, below, way.says, way.value, way.job, way.phase, way.badge,
               way.at, way.events)  # fmt: skip
        for one in way.ways:
            yield from self.of(one, here)


# -- what is said


def book(found: Month) -> Iterator[Line]:
    """What the work book should say."""
    for one in found.should_say:
        command = None if one.command is None else " ".join(one.command)
        yield (one.operation, one.phase, one.name, one.family, one.book_h, one.should_h,
               one.low_h, one.high_h, one.finished, one.sure, one.year_h, command, one.jobs,
               one.says)  # fmt: skip


def signals(found: Month) -> Iterator[Line]:
    """Changes that luck hardly explains, those of the month first."""
    for one in (*found.signals.found, *found.signals.old):
        yield (one.what, one.code, one.name, one.since, one.before, one.after, one.count_before,
               one.count_after, one.kind, one.early, one.late, one.chance, one.says)  # fmt: skip


def points(found: Month) -> Iterator[Line]:
    """Points of the charts."""
    for chart in found.signals.charts:
        for one in chart.points:
            yield chart.what, chart.code, one.at, one.label, one.value, one.count, one.loud


def levels(found: Month) -> Iterator[Line]:
    """Stretches of the charts between two changes."""
    for chart in found.signals.charts:
        for one in chart.levels:
            yield chart.what, chart.code, one.since, one.until, one.middle, one.low, one.high


def odds(found: Month) -> Iterator[Line]:
    """How often surprises and answers came, beside the book."""
    for one in found.odds:
        month, ever = one.month, one.ever
        yield (
            one.kind, one.phase, one.name, one.text, one.answer,
            month.held if month else 0, month.count if month else 0,
            ever.held if ever else 0, ever.count if ever else 0, one.book, one.says,
        )  # fmt: skip


def prices(found: Month) -> Iterator[Line]:
    """The quotes of twelve months at other hours or another rate."""
    for one in found.prices.ways:
        below = one.below.share if one.below else None
        yield one.hours, one.rate, one.jobs, one.sold, one.more, one.kept, below, one.says


def earned(found: Month) -> Iterator[Line]:
    """What an hour of each operation fetched, and its lift-day."""
    for one in found.prices.earned:
        yield (one.operation, one.name, one.jobs, one.labour_h, one.fetched_per_hour,
               one.cost_per_hour, one.lift_days, one.per_lift_day, one.says)  # fmt: skip


def costs(found: Month) -> Iterator[Line]:
    """What months cost, as it was typed."""
    for one in found.prices.costs:
        yield (one.month, one.wages, one.overheads, one.attended_h, one.per_hour, one.taken_from,
               one.seq)  # fmt: skip
