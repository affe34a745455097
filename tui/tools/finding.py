"""Finding a kit by typing its name, its code, a piece of it, or who has it."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.tools.page import kits_now
from store.views.tools.values import KitNow
from tui.parts.choosing import Page, Row, choose
from tui.parts.painted import Painted
from tui.parts.typed_search import among, index, words_of

PAGE = Page(
    "find a kit", "name, code, a piece of it", "No kit is called so. Type less, or Esc goes back."
)


async def find_kit(screen: Painted[Any]) -> str:
    """Have a kit found; its code.

    Raises:
        Back: Esc.
        Trouble: the file cannot be read.
    """
    session = screen.session
    kits = await asyncio.to_thread(
        lambda: index(kits_now(session.shop, session.now()), kit_text)
    )  # fmt: skip
    named = index((one for one, _ in kits), _name)

    def found(text: str) -> list[KitNow]:
        """The best match first: see `rank`; then those of which a piece is."""
        called = sorted(among(text, named), key=lambda kit: rank(text, kit))
        return [*dict.fromkeys([*called, *among(text, kits)])]

    return (await choose(screen, PAGE, found, kit_row)).code


def rank(typed: str, kit: KitNow) -> int:
    """How well a kit is called so: its code, a name that begins so or has the word whole, else."""
    wanted, name = " ".join(words_of(typed)), " ".join(words_of(kit.name))
    if wanted == " ".join(words_of(kit.code)):
        return 0
    if name.startswith(wanted):
        return 1
    return 2 if f" {wanted} " in f" {name} " else 3


def _name(kit: KitNow) -> str:
    return f"{kit.name} {kit.code}"


def kit_text(kit: KitNow) -> str:
    """What is searched."""
    hires = (word for one in kit.hires for word in (one.supplier, one.job or "", one.serial or ""))
    return " ".join((kit.name, kit.code, kit.state, *kit.contains, *hires))


def kit_row(kit: KitNow) -> Row:
    """Its line in the list."""
    whose = "ours" if kit.owned else kit.supplier or "hired"
    return Row(kit.code, kit.name, f"{whose}, {kit.state}")
