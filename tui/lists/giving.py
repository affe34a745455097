"""To whom work is given, and which: each a question with a digit for its answer."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from typing import Any

from store.trouble import Refused
from store.views.assigned import assigned
from store.views.assigned_values import Assigned, Work, WorkList
from store.views.job import job_card
from store.views.values import Job, JobCard, PhaseLine
from tui.lists import deeds
from tui.lists.deeds import Which
from tui.lists.words import doing_words
from tui.parts.choosing import Page, Row, choose
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.typed_search import matching
from tui.words import cut, evened, hours, listed

KEYS = "123456789"
"""So many answers have a digit each; of more one is found by typing."""
NOBODY, WHOLE = "n", "0"
LIVE = ("to come", "under way", "held")
MARGIN = 8
"""Cells beside the words of an answer."""


async def look(screen: Painted[Any]) -> Assigned:
    """Everybody's list, read now."""
    session = screen.session
    return await asyncio.to_thread(lambda: assigned(session.shop, session.now()))


async def give(screen: Painted[Any], job: Job) -> None:
    """Give a job, or a phase of it, to somebody; or take it away again.

    Raises:
        Back: left with Esc.
        Refused: nothing of it is left, or the action says why not.
    """
    await somebody(screen)
    session = screen.session
    card = await asyncio.to_thread(lambda: job_card(session.shop, job.number, session.now()))
    which = await _which(screen, card)
    await to_somebody(screen, which)


async def _which(screen: Painted[Any], card: JobCard) -> Which:
    """The phase that comes next, another one, or the whole job."""
    job = card.job
    left = [one for one in card.phases if one.kind == "labour" and one.state in LIVE]
    if not left:
        raise Refused(f"No phase of {job.number} is left to be worked on.")
    now = job.phase.number if job.phase else None
    shown = sorted(left, key=lambda one: one.number != now)[: len(KEYS)]
    rows = evened([f"{job.number}.{one.number}  {one.name}" for one in shown])
    options = [
        Option(key, f"{row}{_phase_words(card, one)}", hot=key == KEYS[0])
        for key, row, one in zip(KEYS, rows, shown, strict=False)
    ]
    options.append(Option(WHOLE, f"the whole job{_has(job, None)}"))
    title = f"{job.number} {job.vehicle}: which work is given?"
    chosen = await screen.talk.pick(title, options)
    if chosen == WHOLE:
        return Which(job.number, None, f"{job.number} {job.work}", _badges(job, None))
    phase = shown[KEYS.index(chosen)]
    name = f"{job.number}.{phase.number} {phase.name}"
    return Which(job.number, phase.number, name, _badges(job, phase.number))


def _phase_words(card: JobCard, phase: PhaseLine) -> str:
    return f"{hours(phase.remaining.middle):>7} left{_has(card.job, phase.number)}"


def _has(job: Job, phase: str | None) -> str:
    names = [one.name for one in job.assigned if one.phase == phase]
    return f"   {listed(names, 'and')} has it" if names else ""


def _badges(job: Job, phase: str | None) -> tuple[str, ...]:
    return tuple(one.badge for one in job.assigned if one.phase == phase)


async def to_somebody(screen: Painted[Any], which: Which) -> None:
    """Have somebody chosen, and put it on their list; or take it off all.

    Raises:
        Back: left with Esc.
        Refused: the action says why not.
    """
    view = await look(screen)
    chosen = await _who(screen, view, which)
    if chosen is None:
        await screen.act(deeds.unassign(which))
        return
    others = [one.name for one in view.people if one.badge in (which.seen or ())]
    too = False
    if others and chosen.badge not in (which.seen or ()):
        too = await _too(screen, which, chosen, others)
    await hand(screen, which, chosen.badge, too=too)


async def _who(screen: Painted[Any], view: Assigned, which: Which) -> WorkList | None:
    """Somebody; None is nobody any more."""
    title = f"{which.name}: who does it?"
    people = [one for one in view.people if one.role == "technician"] or list(view.people)
    if len(people) > len(KEYS):
        page = Page(title, "name", "Nobody is called so. Type less, or Esc goes back.")
        return await choose(
            screen, page, lambda text: matching(text, people, lambda one: one.name),
            lambda one: Row(one.name, doing_words(view, one)),
        )  # fmt: skip
    names = evened([one.name for one in people])
    room, more = screen.board_size[0] - MARGIN, screen.session.signs.more
    options = [
        Option(key, cut(name + doing_words(view, one), room, more))
        for key, name, one in zip(KEYS, names, people, strict=False)
    ]
    if which.seen:
        options.append(Option(NOBODY, "nobody any more"))
    chosen = await screen.talk.pick(title, options)
    return None if chosen == NOBODY else people[KEYS.index(chosen)]


async def _too(screen: Painted[Any], which: Which, chosen: WorkList, others: Sequence[str]) -> bool:
    names = listed(list(others), "and")
    options = (
        Option("1", f"{chosen.name} instead of {names}", hot=True),
        Option("2", f"{chosen.name} too, beside {names}"),
    )
    title = f"{which.name} is on {names}'s list"
    return await screen.talk.pick(title, options) == "2"


async def hand(
    screen: Painted[Any], which: Which, badge: str, *, at_front: bool = False, too: bool = False
) -> None:
    """Put it on somebody's list; where something speaks against it that is asked once.

    Raises:
        Back: it was left after all.
        Refused: the action says why not.
    """
    from store.actions.assigning import WantsWord

    try:
        await screen.act(deeds.assign(which, badge, at_front=at_front, too=too))
    except WantsWord as wants:
        await screen.talk.sure(
            f"{which.where}: give it all the same?", "give it", "leave it", facts=wants.warnings
        )
        await screen.act(deeds.assign(which, badge, at_front=at_front, too=too, heard=True))


async def more_for(screen: Painted[Any], view: Assigned, person: WorkList) -> None:
    """Give somebody one of those that could go on and are nobody's.

    Raises:
        Back: left with Esc.
        Refused: there is none, or the action says why not.
    """
    if not view.nobodys:
        raise Refused("Nothing that could go on is nobody's.")
    title = f"{person.name}: which work that is nobody's?"
    works = list(view.nobodys)
    if len(works) > len(KEYS):
        page = Page(title, "number, name, vehicle", "No such work. Type less, or Esc goes back.")
        work = await choose(
            screen, page, lambda text: matching(text, works, _text),
            lambda one: Row(one.where, f"{one.name}   {one.vehicle}", one.place or ""),
        )  # fmt: skip
    else:
        rows = evened([f"{one.where}  {one.name}" for one in works])
        options = [
            Option(key, f"{row}{one.vehicle}   {one.place or ''}")
            for key, row, one in zip(KEYS, rows, works, strict=False)
        ]
        work = works[KEYS.index(await screen.talk.pick(title, options))]
    await somebody(screen)
    await hand(screen, nobodys(work), person.badge)


def _text(work: Work) -> str:
    return " ".join((work.where, work.name, work.vehicle, work.place or ""))


def nobodys(work: Work) -> Which:
    """Work that was on nobody's list when somebody looked."""
    return Which(work.job, work.phase, f"{work.where} {work.name}", ())
