"""The floor as text: two lines a lift, then who waits and what wants somebody."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.values import Floor, Job, Lane, PersonNow, Want
from tui import words

WIDTH = 80
FLAG_WORDS = {
    "promise-at-risk": "PROMISE AT RISK", "held": "HELD", "signature-wanted": "SIGN",
    "over-estimate": "OVER", "kit-due": "KIT DUE", "left-running": "CLOCK LEFT RUNNING",
    "supplement-asked": "ANSWER", "reading-out": "READING OUT", "condition-open": "open condition",
}  # fmt: skip
"""Flags as people read them; the loud ones want somebody."""


def lines(floor: Floor) -> Iterator[str]:
    """The floor, at most 80 columns."""
    zone = floor.calendar.zone
    when = words.moment(floor.at, zone)
    yield f"{words.cut(floor.shop, WIDTH - len(when) - 2):<{WIDTH - len(when)}}{when}"
    yield ""
    if not floor.lanes:
        yield "No lift yet. Add the first: hoistbook lift add 1 --kind two-post --kg 4000"
    for lane in floor.lanes:
        yield from _lane(lane, zone, floor.at)
    yield from _list("waiting", floor.waiting, zone, floor.at)
    yield from _list("elsewhere", floor.elsewhere, zone, floor.at)
    yield from _wants(floor.wants)
    yield from _people(floor.people, zone)
    yield from (
        words.cut(f"kit due  {one.kit}  {words.day_time(one.due, zone, floor.at)}", WIDTH)
        for one in floor.tools_due
    )


def _lane(lane: Lane, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    head = f"lift {lane.lift:<4}"
    if not lane.in_service:
        yield words.cut(f"{head} OUT OF SERVICE: {lane.out_reason or 'no reason given'}", WIDTH)
        head = " " * len(head)
    if lane.job is not None:
        yield from _job(head, lane.job, zone, now)
    elif lane.in_service:
        since = f" since {words.day_time(lane.free_since, zone, now)}" if lane.free_since else ""
        yield words.cut(f"{head} free{since}  {lane.kind} {lane.rated_kg / 1000:.1f} t", WIDTH)
    for one in lane.warnings:
        yield from _under(f"! {one}")


def _under(text: str) -> Iterator[str]:
    return (f"{'':9} {line}" for line in words.wrapped(text, WIDTH - 10))


def _job(head: str, job: Job, zone: ZoneInfo, now: datetime, *first: str) -> Iterator[str]:
    vehicle = words.cut(job.vehicle, 28)
    phase = f"{job.phase.number} {job.phase.name}" if job.phase else job.state.replace("-", " ")
    yield words.cut(f"{head} {job.number} {vehicle:<28} {phase}", WIDTH)
    yield from _under("; ".join((*first, *_facts(job, zone, now))))


def _facts(job: Job, zone: ZoneInfo, now: datetime) -> Iterator[str]:
    """What somebody would ask of the job, the loud first."""
    if job.hold is not None:
        yield _held(job)
    yield from (FLAG_WORDS[one] for one in job.flags if not (one == "held" and job.hold))
    if job.phase is not None:
        labour, estimate = words.tenth(job.phase.labour_h), words.hours(job.phase.estimate.middle)
        given = [f"{one.badge} next" for one in job.assigned if one.now]
        people = job.phase.people or given
        yield f"{labour} of {estimate} {' '.join(people)}".rstrip()
    if job.finish is not None:
        yield words.out_by(job.finish.middle, job.finish.cautious, zone, now)
    if job.promise is not None:
        yield f"promised {words.day_time(job.promise, zone, now)}"


def _held(job: Job) -> str:
    assert job.hold is not None
    word = "HELD" if job.held else "phase held"
    return f"{word}: {job.hold.reason}" + (f", {job.hold.text}" if job.hold.text else "")


def _list(title: str, jobs: tuple[Job, ...], zone: ZoneInfo, now: datetime) -> Iterator[str]:
    if not jobs:
        return
    yield ""
    yield f"{title}: {words.counted(len(jobs), 'job')}"
    for job in jobs:
        lacks = f"lacks {', '.join(job.lacks)}" if job.lacks else ""
        yield from _job(
            " " * 9, job, zone, now, *filter(None, (f"at {job.place}" if job.place else "", lacks))
        )


def _wants(wants: tuple[Want, ...]) -> Iterator[str]:
    if not wants:
        return
    yield ""
    yield "wants somebody"
    for one in wants:
        where = f"lift {one.lift}" if one.lift else "shop"
        yield words.cut(f"  {one.word:<8} {where:<8} {one.says}", WIDTH)


def _people(people: tuple[PersonNow, ...], zone: ZoneInfo) -> Iterator[str]:
    busy = [one for one in people if one.since is not None]
    if not busy:
        return
    yield ""
    yield "clocks"
    for one in busy:
        where = one.reason or f"{one.job}.{one.phase}"
        since = words.day_date(one.since, zone) if one.left_running and one.since else ""
        start = words.time(one.since, zone) if one.since else ""
        left = f"  LEFT RUNNING since {since} {start}" if one.left_running else f"  since {start}"
        yield words.cut(f"  {one.name:<14} {where}{left}", WIDTH)
