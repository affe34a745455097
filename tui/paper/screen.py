"""Whose day and which, then the grid: one row after another, checked as it is typed."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from typing import Any

from store.edges.instants import BadDate, parse_date
from store.edges.tables.paper_rows import PaperPage, RowRead, noted
from store.rules.codes import Code
from store.rules.roles import LEADS
from store.trouble import Refused, Trouble
from store.views.paper import paper_view
from tui import deeds
from tui.bay.choosing import INDIRECT_REASONS
from tui.paper.paint import HOW, paper_canvas
from tui.paper.state import Grid
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Field, Option
from tui.parts.talk import EDITING, Back, Scanned, edited
from tui.words import DAYS, counted, hours, local, zone_of

REASONS = tuple(INDIRECT_REASONS.values())
WRITE = (
    Option("1", "write them", hot=True),
    Option("2", "write them and confirm the day"),
    Option("3", "go on typing"),
)
DAY_FACTS = ("Enter is today, 1 yesterday; or tue, or 2026-10-14.",)


async def enter_paper(screen: Painted[Any]) -> None:
    """Enter a day from paper.

    Raises:
        Back: left with Esc; what was typed is there when one returns.
        Trouble: refused; nothing was written.
    """
    await somebody(screen)
    badge, name = await _whose(screen)
    session = screen.session
    today = local(session.now(), zone_of(screen.zone)).date()
    day = await screen.talk.type(
        f"a day from paper: {name}, {badge}",
        "which day",
        partial(day_of, today=today),
        facts=DAY_FACTS,
    )
    view = await asyncio.to_thread(paper_view, session.shop, badge, day, session.now())
    if view.sheet.confirmed:
        raise Refused(f"{view.sheet.name}'s {day} is confirmed already: it takes no more rows.")
    await _Typing(screen, Grid(view, PaperPage(day, view.calendar, REASONS))).run()


async def _whose(screen: Painted[Any]) -> tuple[str, str]:
    """Badge and name: one's own day; a foreman is asked whose."""
    who = screen.session.who
    assert who is not None
    if who.role not in LEADS:
        return who.badge, who.name
    known = await screen.at_door()
    found = await screen.talk.type(
        "a day from paper: whose?", "badge", lambda text: known.who(text or who.badge),
        facts=("Scan or type the badge; Enter is your own.",), scanned=True,
    )  # fmt: skip
    return found.badge, found.name


def day_of(text: str, today: date) -> date:
    """A day that has been: nothing for today, `1` for yesterday, `tue`, or a date.

    Raises:
        Refused: it is none, or has not come yet.
    """
    words = text.strip().lower().removeprefix("-")
    if not words:
        return today
    if words.isdecimal() and len(words) <= 2:
        return today - timedelta(days=int(words))
    weekday = next(
        (n for n, name in enumerate(DAYS) if len(words) > 1 and words[:3] == name.lower()), None
    )
    if weekday is not None:
        return today - timedelta(days=(today.weekday() - weekday) % 7)
    try:
        found = parse_date(text.strip())
    except BadDate as bad:
        raise Refused(f"{bad}") from bad
    if found > today:
        raise Refused(f"{found} has not come yet. Type a day that has been.")
    return found


class _Typing:
    """Rows being typed."""

    def __init__(self, screen: Painted[Any], grid: Grid) -> None:
        self.screen, self.grid = screen, grid
        sheet = grid.view.sheet
        self.name = f"paper {sheet.badge} {grid.page.day}"
        self.note = ""

    async def run(self) -> None:
        """Take keys until the day is written."""
        screen = self.screen
        before = screen.page
        kept = screen.talk.kept(self.name).split("\n")
        self.grid = replace(self.grid, typed=tuple(one for one in kept if one))
        await self._to(len(self.grid.typed))
        screen.say("")
        if self.grid.typed:
            await self._check()
        try:
            while not await self._one():
                pass
        finally:
            screen.cover(before)

    async def _one(self) -> bool:
        """Take one key; True once the day is written."""
        self._show()
        screen, grid = self.screen, self.grid
        try:
            key = await screen.talk.key()
        except Scanned as scan:
            self._scanned(scan.code)
            return False
        if key.key == "Esc":
            self._keep_line()
            screen.talk.keep(self.name, "\n".join(self.grid.typed))
            raise Back
        if key.key == "Enter":
            return await self._enter()
        step = {"up": -1, "down": 1}.get(key.key)
        if step is not None:
            self._keep_line()
            await self._to(min(max(0, grid.here + step), len(self.grid.typed)))
            await self._check()
            return False
        after = edited(grid.line, key)
        if after != grid.line:
            self.note = ""
            self.grid = replace(grid, line=after)
        elif key.key not in EDITING:
            screen.remark(HOW)
        return False

    def _scanned(self, code: Code) -> None:
        """A phase's code is what the row was on."""
        if code.kind != "phase":
            self.screen.remark("Here a phase's code says what a row was on. Others mean nothing.")
            return
        text = f"{code.name} "
        self.grid = replace(self.grid, line=Field("", text, len(text)))

    def _show(self) -> None:
        grid, screen = self.grid, self.screen
        signs = screen.session.signs
        _, faults = grid.read()
        fault = faults.get(grid.here + 1)
        at_rest = grid.here < len(grid.typed) and grid.line.text == grid.typed[grid.here]
        said = f"! {fault}" if fault and at_rest else self.note
        screen.cover(
            lambda size: paper_canvas(grid, size, signs, screen.saying or said)
        )  # fmt: skip

    def _keep_line(self) -> None:
        """What stands in the row at hand is its text now; an empty row is none."""
        grid, text = self.grid, self.grid.line.text.strip()
        rows = list(grid.typed)
        rows[grid.here : grid.here + 1] = [text] if text else []
        self.grid = replace(grid, typed=tuple(rows), refused={})

    async def _to(self, row: int) -> None:
        text = self.grid.typed[row] if row < len(self.grid.typed) else ""
        self.grid = replace(self.grid, here=row, line=Field("", text, len(text)))

    async def _enter(self) -> bool:
        """The next row; on an empty last one the day is written."""
        here, text = self.grid.here, self.grid.line.text.strip()
        if not text and here >= len(self.grid.typed):
            return await self._write()
        self._keep_line()
        await self._check()
        rows, faults = self.grid.read()
        if text and here + 1 in faults:
            await self._to(here)
            return False
        await self._to(len(self.grid.typed))
        row = rows[here] if text and here < len(rows) else None
        self.note = noted(row, self.grid.page) if row is not None else ""
        return False

    async def _check(self) -> None:
        """Ask the shop what it would refuse of the rows so far."""
        good = self._rows()
        screen, view = self.screen, self.grid.view
        if not good:
            self.grid = replace(self.grid, refused={})
            return
        day = (view.sheet.badge, self.grid.page.day, good)
        try:
            faults = await asyncio.to_thread(
                deeds.check_paper(day), screen.session.shop, screen.session.by()
            )
        except Trouble as trouble:
            screen.say_no(str(trouble))
            return
        self.grid = replace(self.grid, refused=faults)

    def _rows(self) -> list[tuple[int, RowRead]]:
        rows, _ = self.grid.read()
        return [(n, row) for n, row in enumerate(rows, 1) if row is not None]

    async def _write(self) -> bool:
        rows, faults = self.grid.read()
        if not rows:
            self.screen.remark(HOW)
            return False
        if faults:
            first = min(faults)
            await self._to(first - 1)
            return False
        view, good = self.grid.view, self._rows()
        total = sum(self.grid.hours(row) for _, row in good)
        title = f"{view.sheet.name}, {self.grid.page.day}: {counted(len(good), 'row')}"
        try:
            chosen = await self.screen.talk.pick(f"{title}, {hours(total)}", WRITE)
        except Back:
            return False
        if chosen == "3":
            return False
        day = (view.sheet.badge, self.grid.page.day, good)
        try:
            await self.screen.act(deeds.enter_paper(day, confirm=chosen == "2"))
        except Back:
            return False
        except Trouble as trouble:
            self.screen.say_no(str(trouble))
            return False
        return True
