"""The kit that a form is about, and which of its hires is meant."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from store.trouble import Refused
from store.views.parts_values import HireOut
from store.views.tools.hires_back import HireBack, Supply, supply
from store.views.tools.page import tools
from store.views.tools.values import KitNow
from tui import keys
from tui.parts.painted import Painted
from tui.parts.prompt import OPTION_KEYS, Option
from tui.words import day_time, evened, zone_of


@dataclass(frozen=True, slots=True)
class AtHand:
    """What one stands on.

    Attributes:
        kit: None where the line is no kit.
        back: the hire that went back, where the line is one.
        all_back: every hire that went back and is not settled.
    """

    screen: Painted[Any]
    kit: KitNow | None
    back: HireBack | None = None
    all_back: Sequence[HireBack] = ()

    @property
    def the_kit(self) -> KitNow:
        """The kit.

        Raises:
            Refused: the line is none.
        """
        if self.kit is None:
            raise Refused(keys.filled("That line is no kit. {tools.find-kit} finds one."))
        return self.kit


async def kit_of(screen: Painted[Any], code: str) -> KitNow:
    """A kit as it is now, by its code.

    Raises:
        Refused: the work book has no such kit.
    """
    session = screen.session
    view = await asyncio.to_thread(lambda: tools(session.shop, session.now()))
    found = next((one for one in view.kits if one.code == code), None)
    if found is None:
        raise Refused(f"The work book has no kit {code}.")
    return found


async def known(screen: Painted[Any]) -> Supply:
    """What is known of suppliers and what kits cost."""
    return await asyncio.to_thread(supply, screen.session.shop)


async def one_of(
    screen: Painted[Any], kit: KitNow, hires: Sequence[HireOut], title: str, none: str
) -> HireOut:
    """The hire that is meant; asked where there are several.

    Raises:
        Back: Esc.
        Refused: there is none.
    """
    if not hires:
        raise Refused(none)
    if len(hires) == 1:
        return hires[0]
    now, zone = screen.session.now(), screen.zone
    named = evened([f"for {one.job}" if one.job else "for any job" for one in hires])
    options = [
        Option(key, f"{name}{_more(one, now, zone)}", hot=one.hire == kit.hire)
        for key, name, one in zip(OPTION_KEYS, named, hires, strict=False)
    ]
    chosen = await screen.talk.pick(f"{kit.name}: {title}", options)
    return hires[OPTION_KEYS.index(chosen)]


def _more(hire: HireOut, now: datetime, zone: str) -> str:
    due = f", goes back {day_time(hire.due, zone_of(zone), now)}" if hire.due else ""
    return f"{hire.supplier}{due}"


def here_now(kit: KitNow) -> list[HireOut]:
    """Hires of it that are here."""
    return [one for one in kit.hires if one.here]


def coming(kit: KitNow) -> list[HireOut]:
    """Hires of it that are still to come."""
    return [one for one in kit.hires if not one.here]
