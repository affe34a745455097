"""What waits for what: chains of causes that end in something a person can do now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from store.file.learned.kept_help import kept_help
from store.file.open_acts.gathered import gathered
from store.file.open_acts.going import Gathered
from store.file.shop import Shop
from store.rules.lift_fit import carries
from store.trouble import Refused
from store.views.floor import floor_of
from store.views.helps import help_lines
from store.views.likely import AT_RISK
from store.views.loading import live_jobs, load
from store.views.needs import needs_of
from store.views.needs_values import Chain, HelpLine, Link, Need, Why
from store.views.people_now import people_now
from store.views.values import Floor, Job, Lane

DEEPEST = 4
"""So many causes are followed: a ring of jobs that wait for each other ends there."""
ENDS = frozenset({
    "answer", "sign", "decide", "let stand", "release", "person", "bring in", "clear", "parts",
    "kit here", "kit ask", "chase", "judge", "quote", "call", "assign", "clock",
})  # fmt: skip
"""Acts that end a chain."""


@dataclass(frozen=True, slots=True)
class _Known:
    here: Gathered
    floor: Floor
    jobs: Mapping[str, Job]
    needs: Mapping[str, Sequence[Need]]
    worth: Mapping[str, HelpLine]


def why(shop: Shop, now: datetime, job: str | None = None) -> Why:
    """Return what each waiting, held or endangered job waits for.

    Args:
        job: only this one, whatever its state.

    Raises:
        Trouble: the file cannot be read.
        Refused: no job that goes on has that number.
    """
    with shop.reading() as db:
        here, known_help = gathered(db, now), kept_help(db)
        needs = needs_of(db, here, known_help)
        lines = help_lines(here, needs, known_help, every=True)
        floor = floor_of(db, load(db, live_jobs(db), now, people_now(db, now)))
    known = _known(here, floor, needs, lines)
    if job is not None and job not in known.jobs:
        raise Refused(f"No job that goes on has the number {job}. See them: hoistbook floor.")
    asked = [job] if job is not None else _asked(known)
    chains = tuple(_chain(known, one) for one in asked)
    worth = tuple(one for one in lines if job is None or _helps(one, job))
    return Why(now, here.calendar, chains, worth)


def _known(
    here: Gathered, floor: Floor, needs: Sequence[Need], lines: Sequence[HelpLine]
) -> _Known:
    there = [*(lane.job for lane in floor.lanes if lane.job), *floor.waiting, *floor.elsewhere]
    by_job: dict[str, list[Need]] = {}
    for one in needs:
        if one.act.job is not None and one.act.kind in ENDS:
            by_job.setdefault(one.act.job, []).append(one)
    worth = {one.need.act.name: one for one in lines}
    return _Known(here, floor, {one.number: one for one in there}, by_job, worth)


def _asked(known: _Known) -> list[str]:
    """Jobs that wait, cannot go on or are not likely to keep their promise; the dearest first."""
    found = [
        one
        for one in known.jobs.values()
        if one.state == "waiting"
        or _stuck(known, one.number)
        or (one.promise_chance is not None and one.promise_chance < AT_RISK)
    ]
    far = max((one.promise for one in found if one.promise), default=known.floor.at)
    return [one.number for one in sorted(found, key=lambda one: (one.promise or far, one.number))]


def _stuck(known: _Known, job: str) -> bool:
    going = known.here.jobs.get(job)
    return going is not None and going.stuck


def _helps(line: HelpLine, job: str) -> bool:
    return line.need.act.job == job or any(one.job == job for one in line.frees)


def _chain(known: _Known, number: str) -> Chain:
    job = known.jobs[number]
    return Chain(
        number, job.vehicle, job.promise, job.promise_chance,
        tuple(_causes(known, job, 1, frozenset({number}))),
    )  # fmt: skip


def _causes(known: _Known, job: Job, depth: int, seen: frozenset[str]) -> Iterator[Link]:
    """Links under a job: what somebody can do about it, else what it waits for."""
    if depth > DEEPEST:
        return
    own = [one for one in known.needs.get(job.number, ()) if one.act.kind != "clear"]
    yield from (_end(known, one, depth) for one in own)
    if job.state == "waiting":
        yield from _lift(known, job, depth, seen)
    if own:
        return
    said = list(_said_to_end(known, job, depth))
    yield from said
    kit = next((lack for lack in job.lacks if lack.startswith("kit") and ", on " in lack), None)
    if kit is not None:
        yield from _kit(known, kit, depth, seen)
    elif job.state != "waiting" and not said:
        yield _goes_on(job, depth)


def _end(known: _Known, need: Need, depth: int) -> Link:
    worth = known.worth.get(need.act.name)
    return Link(
        depth, need.act.says, need.act.job, need.act.lift, None, need.act.by, need,
        worth.gain if worth else None, worth.lift_h if worth else None,
    )  # fmt: skip


def _lift(known: _Known, job: Job, depth: int, seen: frozenset[str]) -> Iterator[Link]:
    """The lift that it waits for, what stands there, and what that waits for."""
    fit = [one for one in known.floor.lanes if one.raises and carries(one.rated_kg, job.mass_kg)]
    if not fit:
        yield Link(depth, "no lift here carries it", job.number)
        return
    if any(one.job is None for one in fit):
        return
    first = min(fit, key=_free_at)
    there = first.job
    assert there is not None
    only = len(fit) < sum(one.raises for one in known.floor.lanes)
    codes = ", ".join(one.lift for one in fit)
    says = f"lift {first.lift}: only {codes} carry it" if only else f"lift {first.lift}, free first"
    until = there.finish.middle if there.finish else None
    yield Link(depth, says, there.number, first.lift, None, until)
    clear = [one for one in known.needs.get(there.number, ()) if one.act.kind == "clear"]
    yield from (_end(known, one, depth + 1) for one in clear)
    if there.number not in seen:
        yield Link(depth + 1, f"{there.number} {there.vehicle}", there.number, first.lift)
        yield from _causes(known, there, depth + 2, seen | {there.number})


def _free_at(lane: Lane) -> tuple[bool, float, str]:
    end = lane.job.finish if lane.job is not None else None
    return (end is None, end.middle.timestamp() if end is not None else 0.0, lane.lift)


def _kit(known: _Known, says: str, depth: int, seen: frozenset[str]) -> Iterator[Link]:
    other = says.rsplit(", on ", 1)[1]
    there = known.jobs.get(other)
    until = there.finish.middle if there is not None and there.finish else None
    yield Link(depth, says, other if there else None, None, says, until)
    if there is not None and other not in seen:
        yield from _causes(known, there, depth + 1, seen | {other})


def _said_to_end(known: _Known, job: Job, depth: int) -> Iterator[Link]:
    """Holds of a job that cannot go on, each said to end on a later day: till then it is left."""
    going = known.here.jobs.get(job.number)
    if going is None or not (job.state == "waiting" or going.stuck):
        return
    for hold in going.holds:
        says = ": ".join(one for one in (f"held, {hold.reason}", hold.text) if one)
        yield Link(depth, f"{says}; nothing to do before", job.number, None, None, hold.expected)


def _goes_on(job: Job, depth: int) -> Link:
    """Nothing to do: somebody is on it, or it stands or is away."""
    phase = f"{job.phase.name} goes on" if job.phase is not None else "nothing is left of it"
    who = ", ".join(one.name for one in job.people if not one.left_running)
    says = f"{phase}: {who}" if who else phase
    until = job.finish.middle if job.finish else None
    return Link(depth, f"{says}; nothing to do", job.number, None, None, until)
