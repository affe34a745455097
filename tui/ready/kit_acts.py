"""What becomes of the kits of a job, from its list of parts: by the forms of special tools."""

from __future__ import annotations

from typing import Any

from store.trouble import Refused
from store.views.parts_values import HireOut, KitOnCard
from store.views.tools.values import KitNow
from store.views.values import JobCard
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.tools import deeds
from tui.tools.asking import ask_for
from tui.tools.at_hand import kit_of
from tui.tools.going_back import hand_over, keep_until
from tui.tools.looking_through import look_through


async def kit_next(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Ask what becomes of a kit, of what can.

    Raises:
        Back: Esc.
        Refused: the shop owns it, or another job has it.
    """
    await somebody(screen)
    hire = kit.hire
    if hire is None:
        await ask_kit(screen, card, kit)
        return
    options = (
        [Option("1", "goes back to the supplier"), Option("2", "is kept until another day")]
        if hire.here
        else [Option("1", "it is here"), Option("2", "is not wanted any more")]
    )
    chosen = await screen.talk.pick(f"{card.job.number}: {kit.name}", options)
    match chosen, hire.here:
        case "1", True:
            await send_back(screen, card, kit)
        case "2", True:
            await keep_longer(screen, card, kit)
        case "1", False:
            await receive(screen, card, kit)
        case _:
            await screen.act(deeds.cancel(hire.hire))


async def ask_kit(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Say at whose it was asked for, and for when.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    if kit.owned:
        elsewhere = f"{kit.name} is the shop's own, and {kit.job} has it in use."
        own = f"{kit.name} is the shop's own: nothing has to be asked for."
        raise Refused(elsewhere if kit.at == "elsewhere" else own)
    if kit.hire is not None:
        raise Refused(f"{kit.name} is asked for already, at {kit.hire.supplier}.")
    await ask_for(screen, await kit_of(screen, kit.code), card.job.number)


async def receive(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Look a kit through against its list.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    if kit.hire is None or kit.hire.here:
        raise Refused(f"{kit.name} is not on its way here.")
    await look_through(screen, *await _as_it_is(screen, kit, kit.hire))


async def send_back(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Count a kit's pieces and hand it to the carrier.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    if kit.hire is None or not kit.hire.here:
        raise Refused(f"{kit.name} is not here, so it cannot go back.")
    await hand_over(screen, *await _as_it_is(screen, kit, kit.hire))


async def keep_longer(screen: Painted[Any], card: JobCard, kit: KitOnCard) -> None:
    """Say until when a kit is kept.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    if kit.hire is None:
        raise Refused(f"{kit.name} is not hired.")
    await keep_until(screen, *await _as_it_is(screen, kit, kit.hire))


async def _as_it_is(
    screen: Painted[Any], kit: KitOnCard, hire: HireOut
) -> tuple[KitNow, HireOut]:  # fmt: skip
    """The kit with its forecast, and its hire."""
    found = await kit_of(screen, kit.code)
    return found, next((one for one in found.hires if one.hire == hire.hire), hire)
