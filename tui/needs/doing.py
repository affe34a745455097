"""An act that is open is done here: each kind by the form that does it on its own screen."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from typing import Any

from store.rules.acts import Act, ActKind
from store.trouble import Refused
from store.views.desk.at_desk import AtDesk, at_desk
from store.views.floor import floor
from store.views.job import job_card
from store.views.values import Floor, JobCard, PersonNow
from tui import deeds
from tui.needs.deeds import clear_lift
from tui.needs.shop_acts import inspect, kit_ask, kit_back, kit_here, look_over
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.talk import Back
from tui.words import evened

Form = Callable[[Painted[Any], Act], Awaitable[None]]


async def do_act(screen: Painted[Any], act: Act) -> None:
    """Have an act done by its form.

    Raises:
        Back: left with Esc.
        Elsewhere: it is done on another screen.
        Trouble: refused; somebody else may have done it a moment ago.
    """
    await somebody(screen)
    await FORMS[act.kind](screen, act)


async def card_of(screen: Painted[Any], act: Act) -> JobCard:
    """The card of its job, read now."""
    session, job = screen.session, act.job
    assert job is not None
    return await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))


async def _answer(screen: Painted[Any], act: Act) -> None:
    """The customer's word; then the promise that goes with it."""
    from tui.parts.answering import answer
    from tui.parts.promising import promise

    card = await card_of(screen, act)
    done = await answer(screen, card)
    if done is not None:
        with suppress(Back):
            await promise(screen, card.job.number, after=done.recorded[-1])


async def _sign(screen: Painted[Any], act: Act) -> None:
    """A name, a reading, an answer: whatever the step asks for."""
    from tui.parts.signing import sign_step

    card = await card_of(screen, act)
    for phase in card.phases:
        for step in phase.steps:
            if (phase.number, step.step) == (act.phase, act.step):
                await sign_step(screen, card, phase, step)
                return
    raise Refused(f"{act.where} is not on the route any more. Look again.")


async def _release(screen: Painted[Any], act: Act) -> None:
    """What held it has ended, or ends later than was said: asking after it is no release."""
    from tui.parts.holding import told_anew

    assert act.job is not None
    options = [Option("1", "that is over: it goes on"), Option("2", "not yet: it ends later ...")]
    if await screen.talk.pick(f"{act.where}: {act.says}", options) == "1":
        await screen.act(deeds.release(act.job, act.phase))
    else:
        await told_anew(screen, await card_of(screen, act), act.phase)


async def _person(screen: Painted[Any], act: Act) -> None:
    """Somebody's clock goes over to it; who is proposed comes first."""
    assert act.job is not None
    assert act.phase is not None
    view = await _floor(screen)
    people = [one for one in view.people if one.role == "technician" and not one.left_running]
    people.sort(key=lambda one: (one.badge != act.badge, one.since is not None))
    people = people[: len(OPTION_KEYS)]
    if not people:
        raise Refused("No technician works here today.")
    names = evened([one.name for one in people])
    options = [
        Option(key, name + _clock_words(one), hot=one.badge == act.badge)
        for key, name, one in zip(OPTION_KEYS, names, people, strict=False)
    ]
    chosen = await screen.talk.pick(f"{act.where}: who goes on with it?", options)
    person = people[OPTION_KEYS.index(chosen)]
    await screen.act(deeds.send_over(person.badge, act.job, act.phase))


def _clock_words(person: PersonNow) -> str:
    if person.job is not None:
        return f"on {person.job}.{person.phase} now"
    return person.reason or "no clock"


async def _floor(screen: Painted[Any]) -> Floor:
    session = screen.session
    return await asyncio.to_thread(lambda: floor(session.shop, session.now()))


async def _bring_in(screen: Painted[Any], act: Act) -> None:
    assert act.job is not None
    assert act.lift is not None
    await screen.act(deeds.move(act.job, act.lift, lift=True))


async def _clear(screen: Painted[Any], act: Act) -> None:
    assert act.lift is not None
    await screen.act(clear_lift(act.lift, act.place))


async def _parts(screen: Painted[Any], act: Act) -> None:
    """What became of its parts, all of them at once."""
    from tui.ready.acts import what_became

    card = await card_of(screen, act)
    numbers = (act.line or "").partition(":")[2].split(",")
    found = [one for one in card.parts if str(one.line) in numbers]
    if not found:
        raise Refused(f"{act.job} has no such parts any more. Look again.")
    await what_became(screen, card, found)


async def _at_desk(screen: Painted[Any], act: Act) -> AtDesk:
    session, job = screen.session, act.job
    assert job is not None
    names = session.sees_customers
    return await asyncio.to_thread(
        lambda: at_desk(session.shop, job, session.now(), customers=names)
    )


async def _call(screen: Painted[Any], act: Act) -> None:
    """The customer's word on a quote, or that nobody was reached: whatever came of the call."""
    from tui.desk.acts import at_desk_by_digit

    assert act.job is not None
    await at_desk_by_digit(screen, act.job)


async def _judge(screen: Painted[Any], act: Act) -> None:
    from tui.desk.judging import judge

    await judge(screen, await _at_desk(screen, act))


async def _quote(screen: Painted[Any], act: Act) -> None:
    from tui.desk.acts import quote

    await quote(screen, await _at_desk(screen, act))


async def _chase(screen: Painted[Any], act: Act) -> None:
    from tui.job.outworking import outwork

    await outwork(screen, await card_of(screen, act))


async def _assign(screen: Painted[Any], act: Act) -> None:
    from tui.lists.deeds import Which
    from tui.lists.giving import to_somebody

    card = await card_of(screen, act)
    phase = next((one for one in card.phases if one.number == act.phase), None)
    name = f"{act.where} {phase.name}" if phase else act.where or card.job.work
    await to_somebody(screen, Which(card.job.number, act.phase, name, ()))


async def _clock(screen: Painted[Any], act: Act) -> None:
    """The clock of one person that was left running is put right."""
    from tui.floor.clocks import put_right

    view = await _floor(screen)
    whose = tuple(one for one in view.people if str(one.clock) == act.line)
    await put_right(screen, replace(view, people=whose), None)


async def _line(screen: Painted[Any], act: Act) -> None:
    from tui.floor.lining_up import put_in_line

    assert act.job is not None
    await screen.act(put_in_line(act.job, act.line, None))


FORMS: Mapping[ActKind, Form] = {
    "answer": _answer, "sign": _sign, "decide": _sign, "let stand": _sign, "release": _release,
    "person": _person, "bring in": _bring_in, "clear": _clear, "parts": _parts,
    "kit here": kit_here, "kit back": kit_back, "kit keep": kit_back, "kit ask": kit_ask,
    "call": _call, "chase": _chase, "judge": _judge,
    "quote": _quote, "assign": _assign, "clock": _clock, "look over": look_over,
    "inspect": inspect, "line": _line,
}  # fmt: skip
"""By the kind of act."""
