"""What becomes of parts and kits, asked in few keys: a digit, and a word where one is needed."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from store.rules.part_states import MAY_BECOME, PartState, why_not
from store.trouble import Refused
from store.views.getting_ready import pieces_of
from store.views.parts_values import KitOnCard, PartOnCard
from store.views.values import JobCard
from tui.parts.holding import hold_for_parts, parts_expected
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.talk import Back
from tui.parts.when import maybe, number, some
from tui.ready import deeds
from tui.ready.days import LIKE, by_day, maybe_day
from tui.words import cut, day_time, listed, zone_of

WORDS: dict[PartState, str] = {
    "ordered": "ordered", "here": "it is here", "wrong": "wrong, or damaged",
    "returned": "goes back", "fitted": "fitted", "not needed": "not needed",
    "wanted": "wanted after all",
}  # fmt: skip
ORDER: tuple[PartState, ...] = (
    "ordered", "here", "wrong", "returned", "fitted", "not needed", "wanted",
)  # fmt: skip
LIVE = ("under way", "held")


async def add_part(screen: Painted[Any], card: JobCard, at: PartOnCard | None) -> None:
    """List a part by typing; it is for the phase of the line one stands on, or for the job.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    job = card.job.number
    text = await screen.talk.type(f"{job} needs", "part", some, facts=("What it is, how many.",))
    phase = await _which_phase(screen, card, at, text)
    await screen.act(deeds.list_part(job, text, phase))


async def _which_phase(
    screen: Painted[Any], card: JobCard, at: PartOnCard | None, text: str
) -> str | None:
    """For which phase it must be here; Enter is that of the line at hand, or the job."""
    live = [one for one in card.phases if one.state not in ("finished", "skipped")]
    hot = at.phase if at is not None else None
    options = [
        Option(key, f"{one.number} {one.name}", hot=one.number == hot)
        for key, one in zip(OPTION_KEYS, live, strict=False)
    ]
    whole = Option("z", "the whole job", hot=all(not one.hot for one in options))
    chosen = await screen.talk.pick(f"{cut(text, 40)}: for which phase?", [*options, whole])
    return None if chosen == "z" else live[OPTION_KEYS.index(chosen)].number


async def what_became(screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard]) -> None:
    """Ask what became of parts, of what can.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    possible: list[PartState] = [
        one for one in ORDER
        if all(one in MAY_BECOME[part.state] or _again(part, one) for part in parts)
    ]  # fmt: skip
    if not possible:
        raise Refused("These have nothing in common that could become of them. Take one alone.")
    options = [Option(key, WORDS[one]) for key, one in zip(OPTION_KEYS, possible, strict=False)]
    chosen = await screen.talk.pick(_title(card, parts), options)
    await move(screen, card, parts, possible[OPTION_KEYS.index(chosen)])


def _again(part: PartOnCard, state: PartState) -> bool:
    """What is ordered may be ordered for another day."""
    return part.state == state == "ordered"


def _title(card: JobCard, parts: Sequence[PartOnCard]) -> str:
    return f"{card.job.number}: {listed([one.text for one in parts])}"


async def move(
    screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard], state: PartState
) -> None:
    """Say what became of parts, with what belongs to it; wrong ones may hold their phase.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    job, lines = card.job.number, [one.line for one in parts]
    for one in parts:
        reason = why_not(one.state, state)
        if reason:
            raise Refused(f"Line {one.line}, {one.text}, {reason}")
    title = _title(card, parts)
    if state == "ordered":
        await _order(screen, card, parts, title)
    elif state == "wrong":
        note = await screen.talk.type(f"{title}: wrong", "what is wrong (Enter: not said)", maybe)
        await screen.act(deeds.move_parts(job, lines, state, note=note))
        await _offer_hold(screen, card, parts)
    elif state == "fitted":
        label = "batch or serial (Enter: none)"
        batch = await screen.talk.type(f"{title}: fitted", label, maybe)
        await screen.act(deeds.move_parts(job, lines, state, batch=batch))
    else:
        await screen.act(deeds.move_parts(job, lines, state))


async def _order(
    screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard], title: str
) -> None:
    session, zone = screen.session, screen.zone
    expected = await screen.talk.type(
        f"{title}: ordered", "expected (Enter: not known)",
        lambda text: maybe_day(session.shop, text, session.now(), zone), facts=(LIKE,),
    )  # fmt: skip
    known = next((one.supplier for one in parts if one.supplier), "") or ""
    supplier = await screen.talk.type(
        f"{title}: ordered", "supplier (Enter: not said)", maybe, text=known
    )
    await screen.act(
        deeds.move_parts(card.job.number, [one.line for one in parts], "ordered",
                         expected=expected, supplier=supplier)
    )  # fmt: skip


async def _offer_hold(screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard]) -> None:
    """The phase under way that cannot go on without them may be held, until they are expected."""
    wanted = {one.phase for one in parts}
    phase = next((one for one in card.phases if one.state == "under way" and one.number in wanted),
                 None)  # fmt: skip
    if phase is not None:
        rest = [one for one in card.parts if one.line not in {part.line for part in parts}]
        until = parts_expected(replace(card, parts=tuple(rest)), phase.number, screen.session.now())
        await offer_hold(screen, card, phase.number, until)


async def offer_hold(
    screen: Painted[Any], card: JobCard, phase: str, until: datetime | None
) -> None:
    """Ask once whether a phase is held for parts; Enter holds it."""
    where = f"{card.job.number}.{phase}"
    when = f", until {day_time(until, zone_of(screen.zone), screen.session.now())}" if until else ""
    try:
        await screen.talk.sure(f"{where} is under way. Hold it for parts{when}?", "hold it",
                               "it goes on")  # fmt: skip
    except Back:
        return
    await hold_for_parts(screen, card.job.number, phase, until)


# -- kits


async def kit_next(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Ask what becomes of a kit, of what can.

    Raises:
        Back: Esc.
        Refused: the shop owns it, or another job has it.
    """
    await somebody(screen)
    if kit.owned:
        raise Refused(_owned_words(kit))
    hire = kit.hire
    if hire is None:
        await ask_kit(screen, card, kit)
        return
    here = hire.received_at is not None
    options = (
        [Option("1", "goes back to the supplier"), Option("2", "is kept until another day")]
        if here
        else [Option("1", "it is here"), Option("2", "is not wanted any more")]
    )
    chosen = await screen.talk.pick(f"{card.job.number}: {kit.name}", options)
    match chosen, here:
        case "1", True:
            await send_back(screen, card, kit)
        case "2", True:
            await keep_longer(screen, card, kit)
        case "1", False:
            await receive(screen, card, kit)
        case _:
            await screen.act(deeds.cancel_kit(hire.hire))


def _owned_words(kit: KitOnCard) -> str:
    if kit.at == "elsewhere":
        return f"{kit.name} is the shop's own, and {kit.job} has it in use."
    return f"{kit.name} is the shop's own: nothing has to be asked for."


async def ask_kit(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Say at whose it was asked for, and for when.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    if kit.owned:
        raise Refused(_owned_words(kit))
    if kit.hire is not None:
        raise Refused(f"{kit.name} is asked for already, at {kit.hire.supplier}.")
    session, zone, title = screen.session, screen.zone, f"{card.job.number}: {kit.name} asked for"
    supplier = await screen.talk.type(title, "at which supplier's", some)
    expected = await screen.talk.type(
        title, "expected (Enter: not known)",
        lambda text: maybe_day(session.shop, text, session.now(), zone), facts=(LIKE,),
    )  # fmt: skip
    due = await screen.talk.type(
        title, "goes back (Enter: not known)",
        lambda text: maybe_day(session.shop, text, session.now(), zone), facts=(LIKE,),
    )  # fmt: skip
    await screen.act(deeds.ask_kit(kit.code, supplier, card.job.number, expected, due))


async def receive(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Look a kit through against its list.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    hire = kit.hire
    if hire is None or hire.received_at is not None:
        raise Refused(f"{kit.name} is not on its way here.")
    title = f"{kit.name} is here"
    lacks = await _lacks(screen, title, await _contains(screen, card, kit))
    due = hire.due
    if due is None:
        session, zone = screen.session, screen.zone
        due = await screen.talk.type(
            title, "goes back", lambda text: by_day(session.shop, text, session.now(), zone),
            facts=(LIKE,),
        )  # fmt: skip
    await screen.act(deeds.receive_kit(hire.hire, lacks, due if hire.due is None else None))


async def _contains(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> tuple[str, ...]:
    shop, job = screen.session.shop, card.job.number
    return (await asyncio.to_thread(pieces_of, shop, job)).get(kit.code, ())


async def _lacks(screen: Painted[Any], title: str, contains: tuple[str, ...]) -> str | None:
    """What lacks of a kit, looked through piece by piece; None where it is complete."""
    chosen = await screen.talk.pick(
        f"{title}: is it complete?",
        [Option("1", "complete"), Option("2", "something lacks, or is the wrong one ...")],
        facts=_pieces(contains),
    )
    if chosen == "1":
        return None
    return await screen.talk.type(title, "what lacks", some, facts=_pieces(contains))


def _pieces(contains: tuple[str, ...]) -> tuple[str, ...]:
    if not contains:
        return ("The work book does not say what belongs to it: see the supplier's list.",)
    return (f"{len(contains)} pieces: {listed(contains)}.",)


async def send_back(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Count a kit's pieces and hand it to the carrier.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    hire = kit.hire
    if hire is None or hire.received_at is None:
        raise Refused(f"{kit.name} is not here, so it cannot go back.")
    title = f"{kit.name} goes back to {hire.supplier}"
    contains = await _contains(screen, card, kit)
    pieces = await screen.talk.type(title, "pieces counted", _count, facts=_pieces(contains))
    lacks: str | None = None
    if contains and pieces < len(contains):
        lacks = await screen.talk.type(
            title, "what lacks", some, facts=(f"{pieces} of {len(contains)} were counted.",)
        )
    await screen.act(deeds.send_kit_back(hire.hire, pieces, lacks))


def _count(text: str) -> int:
    found = number(text)
    if found < 0 or found != int(found):
        raise Refused(f"{text[:20]} is no number of pieces. Type one like 7.")
    return int(found)


async def keep_longer(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Say until when a kit is kept.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    hire = kit.hire
    if hire is None:
        raise Refused(f"{kit.name} is not hired.")
    session, zone = screen.session, screen.zone
    due = await screen.talk.type(
        f"{kit.name} is kept longer", "goes back",
        lambda text: by_day(session.shop, text, session.now(), zone), facts=(LIKE,),
    )  # fmt: skip
    await screen.act(deeds.extend_kit(hire.hire, due))
