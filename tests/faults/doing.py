"""How the catalogue of random acts is written: one small function for each kind of act."""

from __future__ import annotations

from collections.abc import Callable

from store.actions.acting import Done
from store.file.change import By
from store.file.shop import Shop
from tests.faults.held import Held

Do = Callable[[Shop, By], Done]
"""Does one act."""
Maker = Callable[[Held], "Do | None"]
"""Makes an act up out of what the shop holds; None where there is nothing to do it to."""


def listed(acts: dict[str, tuple[int, Maker]], name: str, often: int) -> Callable[[Maker], Maker]:
    """Put the decorated maker into a catalogue, to be picked so often."""

    def keep(maker: Maker) -> Maker:
        acts[name] = (often, maker)
        return maker

    return keep
