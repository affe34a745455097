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
        if lane.job is None:
            return
    if lane.job is None:
        since = f" since {words.day_time(lane.free_since, zone, now)}" if lane.free_since else ""
        yield words.cut(f"{head} free{since}  {lane.kind} {lane.rated_kg / 1000:.1f} t", WIDTH)
    else:
        yield words.cut(f"{head} {_what(lane.job)}", WIDTH)
        yield words.cut(f"{'':9} {_how(lane.job, zone, now)}", WIDTH)
    for one in lane.warnings:
        first, *rest = words.wrapped(one, WIDTH - 12)
        yield f"{'':9} ! {first}"
        yield from (f"{'':12}{line}" for line in rest)


def _what(job: Job) -> str:
    vehicle = words.cut(job.vehicle, 24)
    if job.phase is None:
        return f"{job.number} {vehicle:<24} {job.state.replace('-', ' ')}"
    phase = job.phase
    people = f"  {'+'.join(phase.people)}" if phase.people else ""
    figures = f"{words.tenth(phase.labour_h)} of {words.hours(phase.estimate.middle)}"
    return (
        f"{job.number} {vehicle:<24} {phase.number} {words.cut(phase.name, 20)} {figures}{people}"
    )


def _how(job: Job, zone: ZoneInfo, now: datetime) -> str:
    parts = [_held(job)] if job.hold else []
    if job.finish is not None:
        parts.append(words.out_by(job.finish.middle, job.finish.cautious, zone, now))
    if job.promise is not None:
        parts.append(f"promised {words.day_time(job.promise, zone, now)}")
    parts += [FLAG_WORDS[one] for one in job.flags if not (one == "held" and job.hold)]
    return "; ".join(parts) or f"{words.tenth(job.labour_h)} of {words.hours(job.estimate.middle)}"


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
        yield words.cut(f"{'':9} {_what(job)}", WIDTH)
        lacks = f"lacks {', '.join(job.lacks)}" if job.lacks else ""
        rest = "; ".join(filter(None, (job.place or "", lacks, _how(job, zone, now))))
        yield words.cut(f"{'':9} {rest}", WIDTH)


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
