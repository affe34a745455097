"""The whole shop at one look: lifts as lanes, the line that waits, and what wants somebody."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from datetime import datetime

from store.edges.instants import from_text
from store.file.learned.due import HALF_DAY_H
from store.file.shop import Shop
from store.rules.acts import ends_later
from store.views.given import nothing_next
from store.views.jobs import Parts, job_value, parts_of, wanted_signatures
from store.views.lacking import with_lacks, with_takes
from store.views.lifts import lanes_of
from store.views.loading import Loaded, live_jobs, load
from store.views.outside_wants import firms_to_ask, word_wanted
from store.views.people_now import people_now
from store.views.ready import known_lacks
from store.views.said import newest_said
from store.views.tools.hired import kits_due, wants_of
from store.views.tools.hires_needed import needed_till
from store.views.values import Floor, Job, Lane, PersonNow, Want, WantWord


def floor(shop: Shop, now: datetime) -> Floor:
    """Return every lift with what is on it, all else that goes on, and what wants somebody.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        return floor_of(db, load(db, live_jobs(db), now, people_now(db, now)))


def floor_of(db: sqlite3.Connection, loaded: Loaded) -> Floor:
    """Return the floor that one look's rows make, as they are or as they would be."""
    calendar, now, people = loaded.calendar, loaded.now, loaded.people
    parts = [parts_of(loaded, head) for head in loaded.heads]
    jobs = {one.head.job: job_value(one) for one in parts}
    lanes = lanes_of(
        db, {one.place: one for one in jobs.values() if one.place}, calendar.day_of(now)
    )
    on_lanes = {lane.job.number for lane in lanes if lane.job}
    rest = [one for number, one in jobs.items() if number not in on_lanes]
    line = [one for one in rest if one.state == "waiting"]
    waiting = with_lacks(line, lanes, known_lacks(db, line, now, calendar))
    return Floor(
        shop=db.execute("select name from shop").fetchone()[0],
        at=now, calendar=calendar, lanes=with_takes(lanes, waiting), waiting=waiting,
        elsewhere=tuple(one for one in rest if _is_elsewhere(one)),
        tools_due=kits_due(loaded.hires, now),
        wants=_wants(parts, jobs, lanes, people, loaded, needed_till(db, loaded, jobs)),
        people=tuple(people.values()), idle=nothing_next(db, loaded, now),
        last=newest_said(db, calendar.zone),
        to_learn=any(_is_old(one) for one in parts),
    )  # fmt: skip


def _is_elsewhere(job: Job) -> bool:
    """Under way on no lift; of what is not agreed yet, a vehicle that stands in the house or
    whose check somebody is at."""
    if job.state in ("arrived", "quoted"):
        return job.place is not None or bool(job.people)
    return job.state in ("on-lift", "off-lift", "finished")


def _is_old(parts: Parts) -> bool:
    """The forecast of a job that goes on is half a shop day old, or was never made."""
    if parts.head.small or not any(one.state in ("to come", "under way") for one in parts.phases):
        return False
    return parts.likely is None or parts.likely.age_h() >= HALF_DAY_H


def _wants(
    parts: list[Parts], jobs: dict[str, Job], lanes: tuple[Lane, ...],
    people: dict[str, PersonNow], loaded: Loaded, needed: Mapping[str, datetime],
) -> tuple[Want, ...]:  # fmt: skip
    """Customers first, then names, readings, overruns, other holds, lifts, forgotten clocks."""
    lift_of = {lane.job.number: lane.lift for lane in lanes if lane.job}
    today = loaded.calendar.day_of(loaded.now)
    found: list[Want] = []
    for one in parts:
        found += _job_wants(one, jobs[one.head.job], lift_of.get(one.head.job))
    found += [
        Want(
            "OUT", lane.lift, lane.job.number, f"{lane.job.number} stands on it: {lane.out_reason}"
        )
        for lane in lanes
        if lane.job and not lane.in_service
    ]
    found += [
        Want("DUE", lane.lift, None, f"inspection of lift {lane.lift} was due {_day(lane)}")
        for lane in lanes
        if lane.inspection_due is not None and lane.inspection_due < today
    ]
    found += wants_of(loaded.hires, loaded.now, loaded.calendar, lift_of, needed)
    found += [
        Want("CLOCK", None, one.job, _left_running(one), one.since)
        for one in people.values()
        if one.left_running
    ]
    order = ("ANSWER", "SIGN", "READING", "OVER", "HELD", "OUT", "DUE", "CLOCK")
    return tuple(sorted(found, key=lambda want: order.index(want.word)))


def _day(lane: Lane) -> str:
    due = lane.inspection_due
    return f"{due:%a} {due.day} {due:%b}" if due else ""


def _left_running(person: PersonNow) -> str:
    where = person.reason if person.job is None else f"{person.job}.{person.phase}"
    return f"{person.name}: left running on {where}"


def _job_wants(parts: Parts, job: Job, lift: str | None) -> list[Want]:
    loaded, number = parts.loaded, job.number
    found = [
        Want("ANSWER", lift, number,
             word_wanted(number, one, loaded.called.get(number), loaded.calendar), one.since)
        for one in loaded.asked[number]
    ]  # fmt: skip
    found += firms_to_ask(loaded.away[number], loaded.now, loaded.calendar, lift)
    for step in wanted_signatures(parts):
        who = (
            "second name"
            if step.state == "half"
            else "foreman"
            if step.spec.by == "foreman"
            else "another person"
        )
        found.append(
            Want("SIGN", lift, number, f"{number}.{step.phase}.{step.step} {step.spec.text}; {who}")
        )
    if "over-estimate" in job.flags and job.phase:
        found.append(
            Want("OVER", lift, number, f"{number} {job.phase.name} {job.phase.labour_h:.1f} h of "
                 f"{job.phase.estimate.middle:.1f}")
        )  # fmt: skip
    for hold in parts.running_holds:
        if hold.reason == "approval" and loaded.asked[number]:
            continue
        where = number if hold.phase is None else f"{number}.{hold.phase}"
        word: WantWord = "READING" if hold.reason == "reading" else "HELD"
        expected = from_text(hold.expected) if hold.expected else None
        if word == "HELD" and ends_later(expected, loaded.now, loaded.calendar):
            continue
        move = f", move: {hold.next_move}" if hold.next_move else ""
        says = f"{where} {hold.reason}{move}" + (f": {hold.text}" if hold.text else "")
        found.append(Want(word, lift, number, says, from_text(hold.since)))
    return found
