"""Who must do what, over any screen: one ranked list, each line one key from the act itself."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any

from store.rules.acts import Act
from store.trouble import Refused
from store.views.helps import helps
from store.views.needs import needs
from store.views.needs_values import Helps, Needs
from tui import keys
from tui.needs.doing import do_act
from tui.needs.laid import Laid
from tui.needs.paint import needs_canvas, rows_of
from tui.parts.canvas import Canvas
from tui.parts.painted import Painted


class NeedsPage(Laid):
    """The list as it was read last."""

    table = keys.NEEDS
    found: tuple[Needs, Helps]

    async def look(self) -> None:
        """The list as it is now, and what comes next where it is empty."""
        shop, now = self.screen.session.shop, self.screen.session.now()
        self.found = await asyncio.to_thread(lambda: (needs(shop, now), helps(shop, now)))

    @property
    def acts(self) -> list[Act]:
        """Every act, what matters most first."""
        return [one.act for one in self.found[0].needs]

    @property
    def names(self) -> list[str]:
        """The same by name."""
        return [one.name for one in self.acts]

    @property
    def job(self) -> str | None:
        """The job that the act is about."""
        return self._act().job

    def _act(self) -> Act:
        if not self.acts:
            raise Refused("Nothing needs anybody, so there is nothing to do here.")
        return self.acts[self.here]

    def rows(self) -> int:
        """As many lines as fit."""
        return rows_of(self.screen.board_size)

    def forms(self) -> dict[str, Callable[[], object]]:
        """Enter does the line."""
        return {**super().forms(), "do": self.do}

    async def do(self) -> None:
        """Do the act of the line one stands on."""
        await do_act(self.screen, self._act())

    def canvas(self, size: tuple[int, int], said: str) -> Canvas:
        """Paint the list."""
        return needs_canvas(self.found, self.here, size, self.screen.session.signs, said)


async def needs_page(screen: Painted[Any]) -> None:
    """Show who must do what until somebody goes back."""
    await NeedsPage(screen).show()
