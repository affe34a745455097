"""The work book over whatever screen one is at: looked through, and changed one thing at a time."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from store.rules.book import WorkBook
from store.rules.book_changes import BookChange
from store.rules.roles import why_not
from store.trouble import Refused
from store.views.book_seen import BookSeen, book_seen
from tui import deeds, keys
from tui.book.paint import LINE, book_canvas, rows_of
from tui.book.state import BookLine, BookState, lines_of
from tui.parts.everywhere import everywhere, no_key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.setting_up import load_book
from tui.parts.when import some
from tui.words import counted

MOST_SAID = 8
"""Changes that are shown before they are written; of more the number is said."""
Edit = Callable[[str], str]


async def work_book(screen: Painted[Any]) -> None:
    """Show the book until somebody goes back.

    Raises:
        Elsewhere: another screen is wanted.
        Trouble: it cannot be read.
    """
    await _Looking(screen, await _seen(screen)).run()


async def _seen(screen: Painted[Any]) -> BookSeen:
    session = screen.session
    return await asyncio.to_thread(lambda: book_seen(session.shop, session.now()))


class _Looking:
    """One look through the book."""

    def __init__(self, screen: Painted[Any], view: BookSeen) -> None:
        self.screen = screen
        self.state = BookState(view)
        self._list = 0

    async def run(self) -> None:
        """Take keys until somebody goes back."""
        screen, before = self.screen, self.screen.page
        screen.say("")
        try:
            while True:
                self._show()
                key = (await screen.talk.key()).key
                if key.startswith(LINE):
                    self._to(int(key.removeprefix(LINE)))
                    continue
                match keys.meant(keys.BOOK, key):
                    case "back" if self.state.opened is None:
                        return
                    case "back":
                        self.state = replace(self.state, opened=None, here=self._list)
                    case "up" | "down" | "page-up" | "page-down" as way:
                        self._step(way)
                    case None:
                        no_key(screen, key, keys.BOOK)
                    case meant if meant in keys.COMMON:
                        await screen.doing(partial(everywhere, screen, meant, keys.BOOK))
                    case meant:
                        await screen.doing(self._forms()[meant])
        finally:
            screen.cover(before)
            screen.say("")

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        return {
            "open": self._open, "hours": self._hours, "odds": self._odds, "copy": self._copy,
            "rename": self._rename, "part": self._part, "add": self._add, "drop": self._drop,
            "write": self._write, "load": self._load, "take": self._take,
        }  # fmt: skip

    # -- where one is

    def _show(self) -> None:
        state, screen = self.state, self.screen
        signs = screen.session.signs
        screen.cover(lambda size: book_canvas(state, size, signs, screen.saying or ""))

    def _lines(self) -> list[BookLine]:
        return lines_of(self.state)

    def _step(self, way: str) -> None:
        page = rows_of(self.screen.board_size[1])
        by = {"up": -1, "down": 1, "page-up": -page, "page-down": page}[way]
        self._to(self.state.here + by, by)

    def _to(self, row: int, by: int = 1) -> None:
        """To a line; over a title one goes on."""
        lines = self._lines()
        row = min(max(0, row), max(0, len(lines) - 1))
        if lines and lines[row].kind == "title":
            row = min(max(0, row + (1 if by > 0 else -1)), len(lines) - 1)
        if row == self.state.here:
            self.screen.remark("The list ends here.")
        self.state = replace(self.state, here=row)

    async def _open(self) -> None:
        line = self._at()
        if line.kind != "operation":
            raise Refused(keys.filled("{book.hours} changes its hours, {book.odds} its odds."))
        self._list = self.state.here
        self.state = replace(self.state, opened=line.what, here=0)

    def _at(self) -> BookLine:
        lines = self._lines()
        if not lines:
            raise Refused(keys.filled("No work book yet. {book.add} writes a first operation."))
        return lines[self.state.here]

    def _operation(self) -> str:
        """The operation that is open, or the one that one is at."""
        return self.state.opened or self._at().what

    def _book(self) -> WorkBook:
        if self.state.view.book is None:
            raise Refused(keys.filled("No work book yet. {book.add} writes a first operation."))
        return self.state.view.book

    async def _may(self) -> None:
        """Go on only with somebody who may change the book."""
        await somebody(self.screen)
        who = self.screen.session.who
        says = why_not("load work book", who.role, "") if who is not None else None
        if who is not None and says is not None:
            raise Refused(f"{who.name} {says}")

    # -- changes

    async def _change(self, edit: Edit) -> None:
        """Show what would be otherwise, ask once, write the next version."""
        view, screen = self.state.view, self.screen
        source, said = await asyncio.to_thread(changed, view, edit)
        arrow = f" {screen.session.signs.becomes} "
        facts = [_words(one, arrow) for one in said[:MOST_SAID]]
        facts += [f"and {len(said) - MOST_SAID} more"] if len(said) > MOST_SAID else []
        await screen.talk.sure(
            "The work book from now on; jobs that are taken keep the old one:",
            "write it", "leave it as it is", facts=facts,
        )  # fmt: skip
        try:
            await screen.act(deeds.load_book(source, upon=view.version or None))
        finally:
            await self._anew()  # what was refused because the book has changed is looked at anew

    async def _anew(self) -> None:
        """Read the book again, and stay on the line where there is one."""
        view = await _seen(self.screen)
        opened = self.state.opened
        if view.book is None or opened not in view.book.operations:
            opened = None
        state = replace(self.state, view=view, opened=opened)
        last = max(0, len(lines_of(state)) - 1)
        self.state = replace(state, here=min(state.here, last))

    async def _hours(self) -> None:
        from store.edges import workbook_edit as edit

        line = self._at()
        if line.kind not in ("phase", "coming"):
            raise Refused("This line has no hours: a phase, a surprise or other work has some.")
        await self._may()
        source = self.state.view.source
        if line.kind == "coming":
            once = await self.screen.talk.type(
                f"{line.what} {line.text}", "hours",
                lambda text: edit.read_hours(text, edit.Hours(1.0, 1.0, 1.0)),
            )  # fmt: skip
            await self._change(lambda text: edit.set_coming_hours(text, line.what, once.book))
            return
        before = edit.written_hours(source, line.what)
        hours = await self.screen.talk.type(
            line.text, "low, book, high", lambda text: edit.read_hours(text, before),
            facts=("One in ten is quicker than low, one in ten slower than high; one number is "
                   "the book's, low and high move along.",
                   f"Now {', '.join(f'{one:g}' for one in before)}."),
        )  # fmt: skip
        await self._change(lambda text: edit.set_hours(text, line.what, hours))

    async def _odds(self) -> None:
        from store.edges import workbook_edit as edit

        line = self._at()
        if line.kind not in ("coming", "answer"):
            raise Refused("This line has no odds: surprises, other work and answers have some.")
        await self._may()
        odds = await self.screen.talk.type(
            f"{line.what} {line.text}", "odds", edit.read_odds,
            facts=("Like 1 in 8, 1:8 or 0.125. Other answers share what is left.",),
        )  # fmt: skip
        await self._change(lambda text: edit.set_odds(text, line.what, odds))

    async def _copy(self) -> None:
        from store.edges.workbook_copy import copy

        self._book()
        code = self._operation()
        await self._may()
        talk = self.screen.talk
        new = await talk.type(
            f"a copy of {code}",
            "new code",
            lambda text: some(text).upper(),
            facts=("Phases of its own are copied too; those that it shares stay shared.",),
        )
        name = await talk.type(f"a copy of {code}, {new}", "name", some)
        await self._change(lambda text: copy(text, code, new, name))

    async def _rename(self) -> None:
        from store.edges.workbook_edit import rename

        book, code = self._book(), self._operation()
        await self._may()
        name = await self.screen.talk.type(
            f"{code} is called", "name", some, text=book.operations[code].name
        )
        await self._change(lambda text: rename(text, code, name))

    async def _part(self) -> None:
        from store.edges.workbook_edit import add_part

        book, code = self._book(), self._operation()
        await self._may()
        talk = self.screen.talk
        what = await talk.type(f"{code}: always renewed", "what", some)
        route = list(dict.fromkeys(use.phase for use in book.operations[code].route))
        at = self._at()
        phase = await talk.type(
            f"{code}: {what}", "for which phase", some,
            text=at.what if at.kind == "phase" else route[0],
            facts=(f"One of {', '.join(route)}.",),
        )  # fmt: skip
        await self._change(lambda text: add_part(text, code, what, phase))

    async def _add(self) -> None:
        from store.edges.workbook_edit import new_operation, read_phases

        await self._may()
        talk = self.screen.talk
        code = await talk.type("a new operation", "code, like CL", lambda text: some(text).upper())
        name = await talk.type(f"operation {code}", "name", some)
        phases = await talk.type(
            f"{code} {name}",
            "phases and hours",
            read_phases,
            facts=(
                "In their order, like: strip 2, clutch 3.5, refit 2. A code alone, like ZF, is "
                "a phase of the book.",
            ),
        )
        await self._change(
            lambda text: new_operation(text, code, name, phases, book="Our work book")
        )

    async def _drop(self) -> None:
        from store.edges.workbook_keep import drop

        self._book()
        code = self._operation()
        await self._may()
        await self._change(lambda text: drop(text, code))

    async def _take(self) -> None:
        from tui.cli.starter import offered, read_starter, starter_book

        if self.state.view.book is not None:
            raise Refused(keys.filled("There is a work book already: {book.copy} copies from it."))
        await self._may()
        listed = ", ".join(f"{code} {name}" for code, name in offered())
        codes = await self.screen.talk.type(
            "operations to begin with", "all, or codes", lambda text: read_starter(some(text)),
            facts=(f"{listed}.", "They are the demo's: put their hours right."),
        )  # fmt: skip
        source = await asyncio.to_thread(starter_book, codes, "our shop")
        if source is None:
            raise Refused("None was named: nothing was written.")
        await self.screen.act(deeds.load_book(source))
        await self._anew()

    async def _load(self) -> None:
        await load_book(self.screen)
        await self._anew()

    async def _write(self) -> None:
        self._book()
        source, shop = self.state.view.source, self.screen.session.shop.path
        target = await self.screen.talk.type(
            "the work book as TOML", "file", lambda text: _target(some(text), shop),
            facts=("It is written on this machine; a file of that name is replaced.",),
        )  # fmt: skip
        await asyncio.to_thread(_write, target, source)
        self.screen.say(f"Work book {self.state.view.version} written: {target}.")


def _target(typed: str, shop: Path) -> Path:
    path = Path(typed).expanduser()
    if path.resolve().name.startswith(shop.resolve().name) and path.parent == shop.parent:
        raise Refused("That is the shop file. Type another name.")
    return path


def _write(path: Path, source: str) -> None:
    from store.file.text_out import write_text

    write_text(path, source)


def changed(view: BookSeen, edit: Edit) -> tuple[str, tuple[BookChange, ...]]:
    """The book's text after a change, and what it says otherwise.

    Raises:
        BadWorkBook: the checker refuses it.
        Refused: it says so already.
    """
    from store.edges.workbook import load
    from store.rules.book_changes import changes

    source = edit(view.source)
    after = load(source)
    if view.book is None:
        added = counted(len(after.operations), "operation")
        return source, (BookChange("a first work book", "", added),)
    said = changes(view.book, after)
    if not said:
        raise Refused("The work book says so already: nothing would change.")
    return source, said


def _words(one: BookChange, arrow: str) -> str:
    if not one.before:
        return f"{one.what}: {one.after}, new"
    if not one.after:
        return f"{one.what}: {one.before}, gone"
    return f"{one.what}  {one.before}{arrow}{one.after}"
