"""Where a month's hours went: attended, on jobs, on none, sold; and what was held."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date

from store.edges.instants import from_text
from store.file.attended import Here, attended, days_between
from store.file.month.clocks import Rates, clocks_in, gone_at, holds_in, left_running
from store.file.month.sold import closed_in, declined_in
from store.sums.month.hours import ClockIn, Ratios, clipped, held_once
from store.sums.month.sold import sold
from store.views.month.down import by_job, clock_way, most_first, open_h, summed, works
from store.views.month.look import Look
from store.views.month.spent_values import ComebackSeen, Held, Hours, LeftRunning, PersonHours
from store.views.month.way import Figure, Way

ATTENDED = (
    "Hours of the shop's calendar while employed, less absence, as the day sheet was put right; of "
    "whoever is no technician what they clocked."
)
ON_JOBS = "Labour of lead and helpers on jobs, breaks cut out; of a clock over the edge what is in."
INDIRECT = "Clocked on no job, by reason."
LEARNING = "Clocked as a learner: attended, and no labour."
UNCLOCKED = (
    "Attended less all that was clocked; below 0 where more was clocked than the calendar holds."
)
ESTIMATED = "Hours as agreed, of the phases finished in the month."
FINISHED = "Labour of the phases finished in the month, that of earlier months included."
SOLD = (
    "Labour that customers pay, of jobs whose work ended in the month: at a fixed price the hours "
    "agreed, with a ceiling what was worked up to it, on time what was worked."
)


def hours_of(look: Look) -> Hours:
    """Return attended, worked, indirect and sold hours with their ratios."""
    clocks = clocks_in(look.db, look.calendar, look.span, look.now)
    names = works(look)
    labour = [one for one in clocks if one.labour]
    attended_ = _attended(look, clocks)
    on_jobs = summed("h", ON_JOBS, by_job(look, labour, names))
    indirect = summed("h", INDIRECT, _reasons(look, clocks))
    learning = summed("h", LEARNING, by_job(look, _learning(clocks), names))
    estimated = summed("h", ESTIMATED, _finished(look, names, "estimate_h"))
    finished = summed("h", FINISHED, _finished(look, names, "labour_h"))
    ratios = Ratios(*(one.value or 0.0 for one in (attended_, on_jobs, estimated, finished)))
    clocked = sum(one.hours for one in clocks)
    return Hours(
        attended_, on_jobs, indirect, estimated, summed("h", SOLD, _sold(look)),
        *_ratios(ratios), people=_people(look, attended_, clocks),
        left_running=tuple(_left_running(look)), comebacks=tuple(_comebacks(look, labour)),
        learning=learning, unclocked=Figure(ratios.attended_h - clocked, "h", UNCLOCKED),
        finished=finished,
    )  # fmt: skip


def _attended(look: Look, clocks: Sequence[ClockIn]) -> Figure:
    """By person; whose hours they are only where the reader may know."""
    days = days_between(look.span.first, look.span.last)
    here = attended(look.db, look.calendar, days, look.now)
    own: list[Way] = []
    others = 0.0
    for one in here:
        ways = tuple(_days(look, one, [each for each in clocks if each.badge == one.badge]))
        hours = sum(way.value or 0.0 for way in ways)
        if look.sees(one.badge):
            own += [Way(one.name, hours, badge=one.badge, ways=ways)] if ways else []
        else:
            others += hours
    rest = [Way("the others", others)] if others else []
    return summed("h", ATTENDED, [*most_first(own), *rest])


def _days(look: Look, here: Here, clocks: Sequence[ClockIn]) -> Iterator[Way]:
    """The person's days: of one on which they were no technician, what they clocked."""
    for one in here.days:
        says = f"{one.day}, put right" if one.corrected else str(one.day)
        yield Way(says, one.hours, badge=here.badge, events=one.events)
    known = {one.day for one in here.days}
    clocked: dict[date, list[ClockIn]] = defaultdict(list)
    for clock in clocks:
        # what an earlier month's day reaches into this one counts as its first day does
        day = max(clock.day, look.span.first)
        if day not in known:
            clocked[day].append(clock)
    for day, each in sorted(clocked.items()):
        yield Way(
            f"{day}, as clocked", sum(one.hours for one in each), badge=here.badge,
            events=tuple(one.seq for one in each),
        )  # fmt: skip


def _reasons(look: Look, clocks: Sequence[ClockIn]) -> tuple[Way, ...]:
    reasons: dict[str, list[ClockIn]] = defaultdict(list)
    for one in clocks:
        if one.reason is not None:
            reasons[one.reason].append(one)
    return most_first(
        Way(
            reason, sum(one.hours for one in each),
            ways=tuple(clock_way(look, one) for one in each),
        )
        for reason, each in reasons.items()
    )  # fmt: skip


def _learning(clocks: Sequence[ClockIn]) -> list[ClockIn]:
    return [one for one in clocks if one.job is not None and one.part == "learner"]


def _finished(look: Look, names: dict[str, str], what: str) -> tuple[Way, ...]:
    """The phases finished in the month by job: their hours as agreed, or their labour."""
    jobs: dict[str, list[Way]] = defaultdict(list)
    for one in look.facts.phases_of(look.span):
        events = tuple(clock.seq for clock in one.clocks)
        value = one.estimate_h if what == "estimate_h" else one.labour_h
        jobs[one.job].append(
            Way(one.name, value, one.job, one.phase, at=one.finished_at, events=events)
        )
    return most_first(
        Way(names.get(job, job), sum(one.value or 0.0 for one in ways), job, ways=tuple(ways))
        for job, ways in jobs.items()
    )


def _sold(look: Look) -> Iterator[Way]:
    rates, gone = Rates(look.db), gone_at(look.db)
    ended = [
        *closed_in(look.db, look.facts, look.span, look.calendar, rates, look.now),
        *declined_in(look.db, gone, look.span, look.calendar, rates, look.now),
    ]
    for one in ended:
        hours = sold(one.paid).hours
        if hours or one.paid.worked_h:
            events = tuple(clock.seq for clock in one.clocks)
            yield Way(one.work, hours, one.job, at=one.at, events=events)


def _ratios(ratios: Ratios) -> tuple[Figure, Figure, Figure]:
    """Each explains itself; together they say how they hang together."""
    return (
        Figure(
            ratios.utilisation, "x", "Utilisation = hours on jobs / hours attended: "
            f"{ratios.on_jobs_h:.1f} / {ratios.attended_h:.1f}.",
        ),
        Figure(
            ratios.efficiency, "x", "Efficiency = hours as agreed of the phases finished / their "
            f"labour: {ratios.estimated_h:.1f} / {ratios.finished_h:.1f}.",
        ),
        Figure(
            ratios.productivity, "x", "Productivity = hours as agreed of the phases finished / "
            f"hours attended: {ratios.estimated_h:.1f} / {ratios.attended_h:.1f}. It is utilisation"
            " x efficiency where all that was finished was also worked on in the month.",
        ),
    )  # fmt: skip


def _people(look: Look, attended_: Figure, clocks: Sequence[ClockIn]) -> tuple[PersonHours, ...]:
    here = {one.badge: one for one in attended_.ways if one.badge is not None}
    estimated = _estimated(look)
    return tuple(
        PersonHours(
            badge, one.says, one.value or 0.0,
            sum(each.hours for each in clocks if each.badge == badge and each.labour),
            sum(each.hours for each in clocks if each.badge == badge and each.reason is not None),
            estimated.get(badge, 0.0),
        )
        for badge, one in here.items()
    )  # fmt: skip


def _estimated(look: Look) -> dict[str, float]:
    """Hours as agreed of the phases finished, by who worked on them, as they shared the labour."""
    found: dict[str, float] = defaultdict(float)
    for phase in look.facts.phases_of(look.span):
        for clock in phase.clocks:
            if clock.part != "learner" and phase.labour_h > 0:
                found[clock.badge] += phase.estimate_h * clock.hours / phase.labour_h
    return dict(found)


def _left_running(look: Look) -> Iterator[LeftRunning]:
    for one in left_running(look.db, look.calendar, look.span, look.now):
        if not look.sees(one.badge):
            continue
        where = f"{one.job}.{one.phase}" if one.job is not None else one.reason
        begun = one.since.astimezone(look.calendar.zone)
        says = f"{look.facts.people[one.badge]} on {where}, begun {begun:%d %b %H:%M}"
        noticed = one.noticed.astimezone(look.calendar.zone) if one.noticed else None
        end = f"noticed {noticed:%d %b %H:%M}" if noticed is not None else "it still runs"
        yield LeftRunning(
            one.badge, one.job, one.phase, one.since, one.noticed, one.seq, f"{says}; {end}"
        )


def _comebacks(look: Look, labour: Sequence[ClockIn]) -> Iterator[ComebackSeen]:
    """Those that were worked on in the month, and those that came in it."""
    rates = Rates(look.db)
    for row in look.db.execute("select job, of, fault, pays, at from comeback order by at"):
        clocks = [one for one in labour if one.job == row["job"]]
        if not clocks and not look.span.holds(from_text(row["at"])):
            continue
        worth = [rates.of(one) for one in clocks]
        money = None if None in worth else sum(one for one in worth if one is not None)
        yield ComebackSeen(
            row["job"], row["of"], row["fault"], row["pays"], sum(one.hours for one in clocks),
            money, tuple(clock_way(look, one) for one in clocks),
        )  # fmt: skip


HELD = "Open hours of the shop in which a job was held, once where it was held twice at once."


def held_of(look: Look) -> Held:
    """Return working hours held, by reason."""
    names = works(look)
    reasons: dict[str, list[Way]] = defaultdict(list)
    for one, spans in held_once(holds_in(look.db, look.span, gone_at(look.db))):
        hours = open_h(look, clipped(spans, look.span.since, look.span.until))
        if hours > 0:
            says = one.text or names.get(one.job, one.job)
            way = Way(says, hours, one.job, one.phase, at=one.since, events=(one.seq,))
            reasons[one.reason].append(way)
    told = [
        (reason, summed("h", f"{HELD} Reason: {reason}.", most_first(ways)))
        for reason, ways in reasons.items()
    ]
    told.sort(key=lambda one: -(one[1].value or 0.0))
    lines = tuple(Way(reason, figure.value, ways=figure.ways) for reason, figure in told)
    return Held(summed("h", HELD, lines), tuple(told))
