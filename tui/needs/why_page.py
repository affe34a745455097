"""What waits for what, over any screen; each act under it is done by its digit."""

from __future__ import annotations

import asyncio
from typing import Any

from store.rules.acts import Act
from store.trouble import Refused
from store.views.needs_values import Why
from store.views.why import why
from tui import keys
from tui.needs.laid import Laid
from tui.needs.why_paint import shown_best, why_canvas
from tui.parts.canvas import Canvas
from tui.parts.painted import Painted


class WhyPage(Laid):
    """The chains as they were read last."""

    table = keys.WHY
    found: Why

    async def look(self) -> None:
        """What waits for what now."""
        session = self.screen.session
        self.found = await asyncio.to_thread(lambda: why(session.shop, session.now()))

    @property
    def acts(self) -> list[Act]:
        """What would help, best first, as far as it is seen."""
        return [one.need.act for one in shown_best(self.found, self.screen.board_size[1])]

    @property
    def names(self) -> list[str]:
        """Every job that waits."""
        return [one.job for one in self.found.chains]

    @property
    def job(self) -> str | None:
        """The job whose chain one stands on."""
        if not self.found.chains:
            raise Refused("Nothing waits for anything, so there is no job to open here.")
        return self.found.chains[self.here].job

    def canvas(self, size: tuple[int, int], said: str) -> Canvas:
        """Paint the chains and what would help."""
        return why_canvas(self.found, self.here, size, self.screen.session.signs, said)


async def why_page(screen: Painted[Any]) -> None:
    """Show what waits for what until somebody goes back."""
    await WhyPage(screen).show()
