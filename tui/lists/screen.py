"""Everybody's list over any screen: a line is given, moved or taken away by one key."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from store.trouble import Refused
from store.views.assigned import list_of
from store.views.assigned_values import Assigned, WorkList
from tui import keys
from tui.lists import deeds
from tui.lists.deeds import Which
from tui.lists.giving import hand, look, more_for, nobodys, to_somebody
from tui.lists.paint import FOOT, LINE, TOP, Spot, lists_canvas, spots_of
from tui.parts.everywhere import do_key
from tui.parts.painted import Painted
from tui.parts.people import somebody

MOVES = ("up", "down", "page-up", "page-down")
"""What changes nothing: the lists are not read again for it."""


class Lists:
    """The page, and the line that one stands on."""

    def __init__(self, screen: Painted[Any], view: Assigned) -> None:
        self.screen, self.view, self.here = screen, view, 0

    @property
    def spots(self) -> list[Spot]:
        """Every line one can stand on."""
        return spots_of(self.view)

    def spot(self) -> Spot:
        """The line one stands on.

        Raises:
            Refused: there is none.
        """
        if not self.spots:
            raise Refused("Nobody works here yet, and nothing waits to be done.")
        return self.spots[self.here]

    def person(self) -> WorkList:
        """Whose list the line is on.

        Raises:
            Refused: it is on nobody's.
        """
        spot = self.spot()
        if not spot.badge:
            raise Refused(
                "This is on nobody's list. " + keys.filled("{lists.give} gives it to somebody.")
            )
        return list_of(self.view, spot.badge)

    def which(self) -> Which:
        """The work of the line, as it is seen here.

        Raises:
            Refused: nothing stands there.
        """
        work = self.spot().work
        if work is None:
            raise Refused(
                "Nothing is on this list. " + keys.filled("{lists.add} gives them something.")
            )
        seen = [
            one.badge
            for one in self.view.people
            for each in one.works
            if (each.job, each.phase) == (work.job, work.phase)
        ]
        return Which(work.job, work.phase, f"{work.where} {work.name}", tuple(seen))

    async def renew(self) -> None:
        """Read again; one stands on the same line where it is still there."""
        name = self.spots[self.here].name if self.spots else ("", "")
        self.view = await look(self.screen)
        self.stand_on(name)

    def stand_on(self, name: tuple[str, str]) -> None:
        """Go to a line by its name; where it is gone to the one at its place."""
        names = [one.name for one in self.spots]
        self.here = names.index(name) if name in names else min(self.here, max(0, len(names) - 1))

    def step(self, by: int) -> None:
        """Up or down, as far as there are lines."""
        self.here = min(max(0, self.here + by), max(0, len(self.spots) - 1))

    def forms(self) -> dict[str, Callable[[], object]]:
        """What each key of the page does."""
        rows = self.screen.board_size[1] - TOP - FOOT
        return {
            "give": self.give, "add": self.add, "off": self.off, "undo": self.undo,
            "earlier": partial(self.move, -1), "later": partial(self.move, 1),
            "first": partial(self.move, -len(self.spots)),
            "up": partial(self.step, -1), "down": partial(self.step, 1),
            "page-up": partial(self.step, -rows), "page-down": partial(self.step, rows),
        }  # fmt: skip

    async def give(self) -> None:
        """To somebody; a technician takes on what is nobody's."""
        screen, spot = self.screen, self.spot()
        if spot.work is None:
            await self.add()
            return
        await somebody(screen)
        who = screen.session.who
        if not spot.badge and who is not None and who.role == "technician":
            await hand(screen, nobodys(spot.work), who.badge)
            return
        await to_somebody(screen, self.which())

    async def add(self) -> None:
        """One of what is nobody's to the person of the line."""
        await more_for(self.screen, self.view, self.person())

    async def off(self) -> None:
        """Off this person's list."""
        person, which = self.person(), self.which()
        await somebody(self.screen)
        await self.screen.act(deeds.unassign(which, person.badge))

    async def move(self, by: int) -> None:
        """Up or down its list by one; far up is its front."""
        person, which = self.person(), self.which()
        works = [(one.job, one.phase) for one in person.works]
        at = works.index((which.job, which.phase))
        to = max(0, at + by)
        if to == at or to >= len(works):
            place = "first" if to == at else "last"
            raise Refused(f"{which.where} is the {place} line of {person.name}'s list already.")
        works.insert(to, works.pop(at))
        await somebody(self.screen)
        await self.screen.act(deeds.reorder(person.badge, works))

    async def undo(self) -> None:
        """One's own last entry."""
        from tui import deeds as common

        await somebody(self.screen)
        await self.screen.act(common.undo)

    def paint(self) -> None:
        """Show the page as it is now."""
        screen = self.screen
        view, here, signs = self.view, self.here, screen.session.signs
        screen.cover(lambda size: lists_canvas(view, here, size, signs, _said(screen)))


def _said(screen: Painted[Any]) -> str:
    """What was done, with this page's own way back."""
    said = screen.saying or ""
    way_back = screen.way_back()
    if way_back and said.endswith(way_back):
        return said.removesuffix(way_back) + keys.filled("  {lists.undo} undoes it.")
    return said


async def work_lists(screen: Painted[Any]) -> None:
    """Show everybody's list until somebody goes back."""
    before = screen.page
    page = Lists(screen, await look(screen))
    try:
        while True:
            page.paint()
            key = (await screen.talk.key()).key
            if key.startswith(LINE):
                page.here = int(key.removeprefix(LINE))
                continue
            if not await do_key(screen, key, keys.LISTS, page.forms()):
                return
            if keys.meant(keys.LISTS, key) not in MOVES:
                await page.renew()
    finally:
        screen.cover(before)
