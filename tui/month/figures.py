"""Every figure of the page by its name, with what it is made of: the way down begins here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from store.views.month.spent_values import PersonHours
from store.views.month.told_values import Prices, PriceWay, ShouldSay
from store.views.month.values import AccuracyLine, JobJudged, Month, PhaseJudged, Way
from store.views.month.way import Figure
from tui.month.state import Line, of_figure, sum_line
from tui.papers.month_told import UNITS
from tui.papers.month_words import off
from tui.papers.said import number
from tui.words import counted, tenth

JOBS, CHARTED, PEOPLE, PRICES = "jobs", "charted", "people", "prices"
"""Names of stops that keys lead to."""
BEFORE = "before-"
"""Before the name of a month that a line leads to."""
RATE = ", at "
"""Before the rate of quotes that are looked at with another one."""


def made_of(found: Month) -> Mapping[str, Line]:
    """Every figure that can be followed, by the name of its stop."""
    return {
        JOBS: sum_line("jobs closed in the month, the farthest off first", _jobs(found)),
        CHARTED: sum_line("jobs closed in the month, the farthest off first", _jobs(found)),
        **{f"book-{n}": _book(found, one) for n, one in enumerate(found.should_say)},
        **_hours(found),
        "lost": sum_line("what was lost", _lost(found)),
        "kits": sum_line("kits that were hired", _kits(found)),
        "money": sum_line("money of the month", _money(found)),
        **{
            f"signal-{n}{end}": Line(
                Way(one.name, ways=one.ways), UNITS.get(one.what, "x"), one.says
            )
            for n, one in enumerate((*found.signals.found, *found.signals.old))
            for end in ("", "-chart")
        },
        **_accuracy(found),
        "promises": sum_line("promises", _promises(found)),
        "changes": sum_line("what changed the hours agreed", _changes(found)),
        "quotes": sum_line("quotes given in the month", _quotes(found)),
        **{f"lift-{one.lift}": _lift(one.lift, found) for one in found.lifts.lifts},
        "ahead": of_figure("days of work booked ahead", found.lifts.booked_ahead),
        **{f"odds-{n}": Line(Way(one.text, ways=one.ways), "n", one.says)
           for n, one in enumerate(found.odds)},
        PEOPLE: sum_line("people", people(found)),
        PRICES: prices_line(found.prices),
    }  # fmt: skip


def _by_number(found: Month) -> dict[str | None, Way]:
    return {one.job: one for one in found.ways}


def _jobs(found: Month) -> Iterator[Line]:
    known = _by_number(found)
    for one in sorted(found.jobs, key=_farness):
        yield Line(_job(one, known))


def _farness(job: JobJudged) -> float:
    """Far from what was told first; those that nothing was told of last."""
    if job.ratio is None or job.ratio <= 0:
        return 0.0
    return -max(job.ratio, 1 / job.ratio)


def _job(job: JobJudged, known: Mapping[str | None, Way]) -> Way:
    way = known.get(job.job)
    estimate, ratio = job.estimate_h, job.ratio
    beside = ", nothing was told" if estimate is None else f", told {tenth(estimate)} h"
    beside += "" if ratio is None else f": {off(ratio - 1)}"
    beside += ", outside the range" if job.inside is False else ""
    return Way(
        f"{job.work}{beside}", job.labour_h, job.job, badge=job.lead, at=job.closed_at,
        events=way.events if way else (), ways=way.ways if way else (),
    )  # fmt: skip


def _book(found: Month, should: ShouldSay) -> Line:
    """The phases that taught it: those of the month with their clocks, older ones by their jobs."""
    inside = [one for one in found.phases if one.code == should.phase and one.job in should.jobs]
    here = {one.job for one in inside}
    older = (
        Way("taught it in a month before", job=job) for job in reversed(should.jobs)
        if job not in here
    )  # fmt: skip
    return Line(Way(should.name, ways=(*map(_phase, inside), *older)), "h", should.says)


def _phase(one: PhaseJudged) -> Way:
    return Way(
        f"{one.name}, told {tenth(one.estimate_h)} h", one.labour_h, one.job, one.phase, one.badge,
        one.finished_at,
        ways=tuple(
            Way(clock.badge, 0.0 if clock.part == "learner" else clock.hours, one.job, one.phase,
                clock.badge, clock.since, (clock.seq,))
            for clock in one.clocks
        ),
    )  # fmt: skip


def _hours(found: Month) -> dict[str, Line]:
    here = found.hours
    named: tuple[tuple[str, str, Figure], ...] = (
        ("attended", "attended", here.attended), ("on_jobs", "on jobs", here.on_jobs),
        ("sold", "sold", here.sold), ("indirect", "on no job, clocked", here.indirect),
        ("unclocked", "attended, on no clock", here.unclocked),
        ("learning", "learners' hours", here.learning),
        ("utilisation", "utilisation", here.utilisation),
        ("efficiency", "efficiency", here.efficiency),
        ("productivity", "productivity", here.productivity),
    )  # fmt: skip
    plain = {key: of_figure(says, one) for key, says, one in named}
    for key, parts in RATIOS.items():
        whole = plain[key]
        lines = [_ratio_part(found, says, name) for says, name in parts]
        plain[key] = Line(Way(whole.way.says, whole.way.value), "x", whole.explained, tuple(lines))
    return plain


RATIOS = {
    "utilisation": (("on jobs", "on_jobs"), ("attended", "attended")),
    "efficiency": (("told for phases finished", "estimated"), ("they took", "finished")),
    "productivity": (("told for phases finished", "estimated"), ("attended", "attended")),
}
"""What each ratio divides by what."""


def _ratio_part(found: Month, says: str, name: str) -> Line:
    figures = {
        "on_jobs": found.hours.on_jobs, "attended": found.hours.attended,
        "estimated": found.hours.estimated, "finished": found.hours.finished,
    }  # fmt: skip
    return of_figure(says, figures[name])


def _lost(found: Month) -> Iterator[Line]:
    for reason, one in found.held.reasons:
        yield of_figure(f"held: {reason}", one)
    for each in found.money.not_charged:
        says = f"worked and not charged: {each.cause}, {each.basis}"
        yield Line(Way(says, each.hours, ways=each.ways))
    for back in found.hours.comebacks:
        says = f"comeback of {back.of}; fault: {back.fault}, pays: {back.pays}"
        yield Line(Way(says, back.labour_h, back.job, ways=back.way))
    for ran in found.hours.left_running:
        yield Line(Way(ran.says, None, ran.job, ran.phase, ran.badge, ran.since, (ran.seq,)))


def _kits(found: Month) -> Iterator[Line]:
    here = found.money
    yield of_figure("hired", here.hire)
    yield of_figure("of it for idle days", here.hire_idle)
    yield of_figure("idle days", here.idle_days)
    yield of_figure("of it late fees", here.late_fees)
    yield of_figure("deposits paid and not back", here.deposits)


def _money(found: Month) -> Iterator[Line]:
    here = found.money
    named = (
        ("labour worked", here.labour_worked), ("labour as estimated", here.labour_estimated),
        ("labour sold", here.labour_sold), ("work not billed yet", here.not_billed),
        ("extra work agreed", here.supplements), ("extra work asked", here.supplements_asked),
        ("extra work refused", here.supplements_refused), ("parts that came", here.parts),
        ("work of other firms", here.outwork),
    )  # fmt: skip
    yield from (of_figure(says, one) for says, one in named)


def _accuracy(found: Month) -> dict[str, Line]:
    groups = (
        ("kind", found.kinds), ("operation", found.operations), ("family", found.families),
        ("lead", found.leads),
    )  # fmt: skip
    lines = {f"{key}-{one.key}": _judged(found, one) for key, every in groups for one in every}
    phases = {
        f"phase-{one.key}": Line(
            Way(one.name, one.accuracy.labour_h,
                ways=tuple(_phase(each) for each in found.phases
                           if each.code == one.key and not each.small)), "h", one.says)
        for one in found.by_phase
    }  # fmt: skip
    return lines | phases


def _judged(found: Month, one: AccuracyLine) -> Line:
    known, wanted = _by_number(found), set(one.jobs)
    jobs = sorted((each for each in found.jobs if each.job in wanted), key=_farness)
    ways = tuple(_job(each, known) for each in jobs)
    return Line(Way(one.name, one.accuracy.labour_h, ways=ways), "h", one.says)


def _promises(found: Month) -> Iterator[Line]:
    for one in found.promises.late:
        yield Line(one)


def _changes(found: Month) -> Iterator[Line]:
    here = found.changes
    for says, value, ways in (
        ("extra work that was agreed", here.extra_h, here.extra),
        ("changed routes", here.route_h, here.route),
        ("left out, or taken back", here.other_h, here.other),
    ):
        if ways:
            yield Line(Way(says, value, ways=ways))


def _quotes(found: Month) -> Iterator[Line]:
    here = found.quotes
    yield of_figure("given", here.given)
    yield of_figure("agreed", here.agreed)
    yield of_figure("declined", here.declined)
    yield of_figure("not answered yet", here.open)


def _lift(code: str, found: Month) -> Line:
    one = next(each for each in found.lifts.lifts if each.lift == code)
    return Line(
        Way(f"lift {code}", one.worked_h, ways=one.ways), "h",
        "Open hours by the job that stood on it.",
    )  # fmt: skip


def people(found: Month) -> Iterator[Line]:
    """Everybody whose figures the reader may see: their days, then the jobs that they led."""
    led = {one.key: one for one in found.leads}
    days = {one.badge: one for one in found.hours.attended.ways if one.badge}
    for one in found.hours.people:
        line, attended = led.get(one.badge), days.get(one.badge)
        says = _hours_of(one)
        lines: list[Line] = []
        if attended is not None:
            lines.append(Line(Way("attended, day by day", attended.value, ways=attended.ways)))
        if line is not None:
            says += f" Led {counted(line.accuracy.jobs, 'job')}: {line.says}."
            lines += _judged(found, line).below
        yield Line(Way(one.name, one.on_jobs_h, badge=one.badge), "h", says, tuple(lines))


def _hours_of(one: PersonHours) -> str:
    return (
        f"{tenth(one.attended_h)} h attended, {tenth(one.indirect_h)} on no job, "
        f"{tenth(one.on_jobs_h)} on jobs, {tenth(one.estimated_h)} told for what was finished."
    )


def prices_line(prices: Prices) -> Line:
    """Quotes at other hours or rates; then what an hour of each operation fetched."""
    lines = [
        Line(Way(price_name(one), one.sold, ways=one.ways), "money", one.says)
        for one in prices.ways
    ]
    lines += [
        Line(Way(f"an hour of {one.operation} {one.name}", one.fetched_per_hour, ways=one.ways),
             "money", one.says)
        for one in prices.earned
    ]  # fmt: skip
    return sum_line("what prices would have kept", lines, prices.says)


def price_name(one: PriceWay) -> str:
    """`book`; `as quoted, at 105 an hour`."""
    return one.hours if one.rate is None else f"{one.hours}{RATE}{number(one.rate)} an hour"
