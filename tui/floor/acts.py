"""What the foreman does from the floor: each a form of its own, for the lift or job looked at."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from contextlib import suppress

from store.rules.lift_fit import carries
from store.rules.roles import TABLE
from store.trouble import Refused
from store.views.door import PlaceLine, places
from store.views.job import job_card
from store.views.values import Floor, Job, Lane
from tui import deeds
from tui.keys import filled
from tui.parts.answering import answer
from tui.parts.choosing import Page, Row, choose
from tui.parts.clearing import weighed
from tui.parts.holding import hold
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.promising import promise
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.parts.typed_search import matching
from tui.parts.when import some
from tui.session import Session
from tui.words import evened

OUT_REASONS = (
    Option("1", "lock does not engage"),
    Option("2", "inspection due"),
    Option("3", "leaks or noise"),
    Option("4", "being repaired"),
    Option("5", "say it ..."),
)
SAY_IT = "5"
KEYS = "123456789"
"""So many answers have a digit each; of more one is found by typing."""
MARGIN = 11
"""Cells beside the columns of an answer."""


def all_jobs(view: Floor) -> list[Job]:
    """Every job in the house: on lifts, elsewhere, waiting."""
    on_lifts = [lane.job for lane in view.lanes if lane.job is not None]
    return [*on_lifts, *view.elsewhere, *view.waiting]


async def which_job(screen: Painted[Floor], jobs: Sequence[Job], title: str) -> Job:
    """One of some jobs: by a digit, or of many by typing.

    Raises:
        Back: Esc.
    """
    if len(jobs) > len(KEYS):
        page = Page(title, "number, vehicle, work", "None of these. Type less, or Esc goes back.")
        return await choose(screen, page, lambda text: matching(text, jobs, _text), _row)
    names = evened([f"{job.number}  {job.vehicle}" for job in jobs])
    where = [_where(job) for job in jobs]
    room = screen.board_size[0] - MARGIN - len(names[0]) - max(map(len, where))
    works = evened([job.work for job in jobs], max(8, room), screen.session.signs.more)
    rows = ["".join(parts).rstrip() for parts in zip(names, works, where, strict=True)]
    options = [Option(key, row) for key, row in zip(KEYS, rows, strict=False)]
    return jobs[KEYS.index(await screen.talk.pick(title, options))]


def _text(job: Job) -> str:
    return " ".join((job.number, job.vehicle, job.work, job.place or job.state, *job.lacks))


def _row(job: Job) -> Row:
    return Row(job.number, f"{job.vehicle}   {job.work}", _where(job))


def _where(job: Job) -> str:
    """What a waiting job lacks, or where another one is."""
    if job.state == "waiting":
        return f"lacks {', '.join(job.lacks)}" if job.lacks else "can come in"
    if job.state == "on-lift":
        return f"lift {job.place}"
    return f"at {job.place}" if job.place else job.state.replace("-", " ")


async def word(screen: Painted[Floor], view: Floor, here: Job | None) -> None:
    """The customer's word, for the job looked at if it waits for one; then the promise."""
    asked = [job for job in all_jobs(view) if job.asked or "supplement-asked" in job.flags]
    if not asked and here is None:
        raise Refused("No extra work waits for a customer's word.")
    if asked and (here is None or here.number not in [job.number for job in asked]):
        here = asked[0] if len(asked) == 1 else await which_job(screen, asked, "whose customer?")
    assert here is not None
    await somebody(screen)
    session, number = screen.session, here.number
    card = await asyncio.to_thread(lambda: job_card(session.shop, number, session.now()))
    done = await answer(screen, card)
    if done is not None:
        with suppress(Back):
            await promise(screen, number, after=done.recorded[-1])


async def move(screen: Painted[Floor], view: Floor, job: Job) -> None:
    """To a free lift or another place."""
    if job.stands == "fixed" and any(lane.job == job for lane in view.lanes):
        raise Refused(f"{job.number} sits fixed: it stays until it rolls again. Work on it there.")
    await somebody(screen)
    lanes = {lane.lift: lane for lane in view.lanes}
    there = [
        one
        for one in await asyncio.to_thread(places, screen.session.shop)
        if one.job != job.number
        and (one.kind == "yard" or (one.kind == "lift" and one.job is None and one.in_service))
    ]
    if not there:
        raise Refused("No lift and no other place is free. Move another job first.")
    title = f"{job.number} {job.vehicle}: move to"
    facts = await asyncio.to_thread(_clearing_facts, screen.session, job)
    options = [Option(key, _place(one, lanes)) for key, one in zip(KEYS, there, strict=False)]
    if len(there) > len(KEYS):
        page = Page(title, "lift or place", "No such place. Type less, or Esc goes back.")
        chosen = await choose(
            screen, page, lambda text: matching(text, there, lambda one: _place(one, lanes)),
            lambda one: Row(one.code, _place(one, lanes)),
        )  # fmt: skip
    else:
        chosen = there[KEYS.index(await screen.talk.pick(title, options, facts=facts))]
    if chosen.code in lanes and chosen.kind == "lift":
        await _sure_unready(screen, job, lanes[chosen.code])
    await screen.act(deeds.move(job.number, chosen.code, lift=chosen.kind == "lift"))


def _clearing_facts(session: Session, job: Job) -> list[str]:
    """What clearing its lift costs and when that pays; nothing where it goes on."""
    clears = job_card(session.shop, job.number, session.now()).clearing
    return [] if clears is None else weighed(clears)


def _place(place: PlaceLine, lanes: dict[str, Lane]) -> str:
    lane = lanes.get(place.code) if place.kind == "lift" else None
    if lane is None:
        return f"{place.kind} {place.code}" if place.kind != place.code else place.code
    warning = f"   ! {lane.warnings[0]}" if lane.warnings else ""
    return f"lift {lane.lift}   {lane.kind} {lane.rated_kg / 1000:.1f} t{warning}"


async def call_in(screen: Painted[Floor], view: Floor, lane: Lane) -> str:
    """A waiting job onto this lift, or onto the first free one; the lift that it went to."""
    outside = [*view.waiting, *(job for job in view.elsewhere if job.state == "off-lift")]
    if not outside:
        raise Refused(filled("Nobody waits to come in. {floor.new} takes a new job."))
    if lane.job is not None or not lane.in_service:
        free = [one for one in view.lanes if one.job is None and one.in_service]
        if not free:
            raise Refused(filled("No lift is free. {floor.move} moves a job away."))
        lane = free[0]
    outside.sort(key=lambda job: (job.number in lane.too_heavy, bool(job.lacks)))
    await somebody(screen)
    job = await which_job(screen, outside, f"to lift {lane.lift}: which job?")
    await _sure_unready(screen, job, lane)
    await screen.act(deeds.move(job.number, lane.lift, lift=True))
    return lane.lift


async def _sure_unready(screen: Painted[Floor], job: Job, lane: Lane) -> None:
    """A job that lacks something comes in on the foreman's word: what lacks is said once before.

    Whoever may not say so, and what is too heavy, is told by the act itself, in one line.
    """
    who = screen.session.who
    lacks = [one.words for one in job.ready.lacks if one.kind != "lift"] if job.ready else []
    may = who is not None and who.role in TABLE["bring in unready"].roles
    if job.small or not lacks or not may or not carries(lane.rated_kg, job.mass_kg):
        return
    await screen.talk.sure(
        f"{job.number} {job.vehicle} is not ready", f"bring it onto lift {lane.lift} all the same",
        "leave it",
        facts=(f"It lacks {'; '.join(lacks)}.", "That stands in the record, with your name."),
    )  # fmt: skip


async def parts(screen: Painted[Floor], view: Floor, here: Job | None) -> None:
    """Parts and kits of the job looked at, else of one that is chosen."""
    from tui.ready.page import parts_list

    jobs = [job for job in all_jobs(view) if not job.small]
    if here is None and not jobs:
        raise Refused(filled("No job is in the house. {floor.new} takes one in."))
    job = here or await which_job(screen, jobs, "parts and kits of which job?")
    await parts_list(screen, job.number)


async def hold_job(screen: Painted[Floor], job: Job) -> None:
    """Hold the whole job."""
    await somebody(screen)
    await hold(screen, job.number, None, what=job.vehicle)


async def release(screen: Painted[Floor], job: Job) -> None:
    """What holds it, or its present phase."""
    if job.hold is None:
        raise Refused(f"{job.number} is not held. " + filled("{floor.hold} holds it."))
    await somebody(screen)
    await screen.act(deeds.release(job.number, job.hold.phase))


async def new_promise(screen: Painted[Floor], job: Job) -> None:
    """What the customer is told from now on."""
    await somebody(screen)
    await promise(screen, job.number)


async def service(screen: Painted[Floor], view: Floor, lane: Lane) -> None:
    """Out of service with a reason, then the job on it is moved; or in service again."""
    await somebody(screen)
    if not lane.in_service:
        await screen.act(deeds.return_lift(lane.lift))
        return
    title = f"lift {lane.lift} out of service: why?"
    chosen = await screen.talk.pick(title, OUT_REASONS)
    if chosen == SAY_IT:
        reason = await screen.talk.type(f"lift {lane.lift} out of service", "because", some)
    else:
        reason = next(one.words for one in OUT_REASONS if one.key == chosen)
    await screen.act(deeds.withdraw_lift(lane.lift, reason))
    if lane.job is not None and lane.job.stands != "fixed":
        with suppress(Back):
            await move(screen, view, lane.job)


async def undo(screen: Painted[Floor]) -> None:
    """One's own last entry."""
    await somebody(screen)
    await screen.act(deeds.undo)
