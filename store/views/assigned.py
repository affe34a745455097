"""Who does what next: everybody's list in its order, and what could go on and is nobody's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from store.edges.instants import from_text
from store.file.roster import OnRoll, on_roll
from store.file.route_now import PhaseRow
from store.file.shop import Shop
from store.file.work_lists import Line
from store.sums.work_list import one_after_another
from store.trouble import Refused
from store.views.assigned_values import Assigned, Work, WorkList
from store.views.given import holders, phases_on, place_words, ready, waits_for
from store.views.jobs import Parts, job_value, lefts, parts_of, remaining, remaining_together
from store.views.loading import Loaded, live_jobs, load
from store.views.people_now import people_now
from store.views.values import Job

NOT_HERE = ("enquiry", "booked")
"""States of a job whose vehicle has not come."""


@dataclass(frozen=True, slots=True)
class _House:
    """One look: every live job with its parts and as a value."""

    loaded: Loaded
    parts: dict[str, Parts]
    jobs: dict[str, Job]


def assigned(shop: Shop, now: datetime) -> Assigned:
    """Return everybody's list, in a fixed number of queries.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        loaded = load(db, live_jobs(db), now, people_now(db, now))
        parts = {head.job: parts_of(loaded, head) for head in loaded.heads}
        house = _House(loaded, parts, {job: job_value(one) for job, one in parts.items()})
        lists = [_list(house, one) for one in on_roll(db, now)]
        lists.sort(key=lambda one: one.role != "technician")
        return Assigned(now, loaded.calendar, tuple(lists), tuple(_nobodys(house)))


def list_of(view: Assigned, badge: str) -> WorkList:
    """Return one person's list.

    Raises:
        Refused: nobody of today's roll has that badge.
    """
    wanted = badge.strip().upper()
    for one in view.people:
        if one.badge == wanted:
            return one
    raise Refused(f"Nobody here has the badge {wanted[:20]}. Scan it again, or ask the owner.")


def _list(house: _House, person: OnRoll) -> WorkList:
    known = house.loaded.people[person.person]
    lines = [
        one for every in house.loaded.lines.values() for one in every
        if one.person == person.person
    ]  # fmt: skip
    lines.sort(key=lambda one: (one.position, one.seq))
    works = [_line(house, one) for one in lines]
    return WorkList(
        person.badge, person.name, known.initials, person.role,
        f"{person.job}.{person.phase}" if person.job else person.reason, known.since,
        person.absences[0] if person.absences else None,
        tuple(_with_times(house, person, works)), known.left_running,
    )  # fmt: skip


def _line(house: _House, line: Line) -> Work:
    parts = house.parts[line.job]
    todo = phases_on(line, house.loaded.lines[line.job], parts)
    work = _work(house, parts, line.phase, todo)
    return replace(work, given_by=line.by, since=from_text(line.since))


def _work(house: _House, parts: Parts, phase: str | None, todo: Sequence[PhaseRow]) -> Work:
    able = ready(parts)
    begins = next((one for one in todo if one in able), None)
    waits = waits_for(parts, todo[0]) if todo and begins is None else ""
    head, job = parts.head, house.jobs[parts.head.job]
    return Work(
        job=head.job, phase=phase, name=todo[0].name if phase is not None and todo else head.work,
        vehicle=head.vehicle, place=place_words(head), begins=begins.phase if begins else None,
        waits_for=waits if todo else "others do what is left of it",
        left_h=_left_h(parts, todo), promise=job.promise, promise_chance=job.promise_chance,
    )  # fmt: skip


def _left_h(parts: Parts, todo: Sequence[PhaseRow]) -> float:
    """Middle hours left: of all of a job together, else phase by phase."""
    every = lefts(parts)
    numbers = {one.phase for one in todo}
    if (
        len(todo) > 1
        and {one.phase.phase for one in every if one.phase.kind == "labour"} == numbers
    ):
        return remaining_together(parts, every).middle
    return sum(remaining(parts, one).middle for one in todo)


def _with_times(house: _House, person: OnRoll, works: Sequence[Work]) -> Iterator[Work]:
    """When each is likely to be worked on; what the clock runs on comes first."""
    running = _running_h(house, person, works)
    own = next((one for one in works if _is_on(person, one)), None)
    order = [*([own] if own else []), *(one for one in works if one is not own)]
    away = [(one.since, one.until) for one in person.absences]
    hours = [running, *(one.left_h for one in order)]
    loaded = house.loaded
    spans = one_after_another(loaded.calendar, loaded.now, hours, away)[1:] if works else []
    likely = {one.where: span for one, span in zip(order, spans, strict=True)}
    return (replace(one, likely=likely[one.where]) for one in works)


def _is_on(person: OnRoll, work: Work) -> bool:
    return person.job == work.job and work.phase in (None, person.phase)


def _running_h(house: _House, person: OnRoll, works: Sequence[Work]) -> float:
    """What is left of the phase that the person is on, where it is on no line of the list."""
    if person.job not in house.parts or any(_is_on(person, one) for one in works):
        return 0.0
    parts = house.parts[person.job]
    return sum(remaining(parts, one).middle for one in parts.phases if one.phase == person.phase)


def _nobodys(house: _House) -> Iterator[Work]:
    """What could go on now, has no clock on it, and is on nobody's list; on lifts first."""
    for on_lift in (True, False):
        for job, parts in house.parts.items():
            if parts.head.state in NOT_HERE or (parts.head.place_kind == "lift") != on_lift:
                continue
            lines = house.loaded.lines[job]
            for one in _idle(parts):
                if not holders(lines, one.phase):
                    yield _work(house, parts, one.phase, [one])


def _idle(parts: Parts) -> list[PhaseRow]:
    """What could go on of a job and does not: phases left in the middle, else the next one."""
    able = ready(parts)
    under_way = [one for one in able if one.state == "under way"]
    if under_way or any(parts.clocked.values()):
        return [one for one in under_way if not parts.clocked.get(one.phase)]
    return able
