"""What becomes of kits: asked for, looked through, kept longer, their pieces counted."""

from __future__ import annotations

import asyncio
from typing import Any

from store.trouble import Refused
from store.views.getting_ready import pieces_of
from store.views.parts_values import KitOnCard
from store.views.values import JobCard
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.when import number, some
from tui.ready import deeds
from tui.ready.days import LIKE, by_day, maybe_day
from tui.words import listed


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
