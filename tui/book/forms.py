"""The forms of the work book: hours, odds, a copy, a name, a part, an operation, a file."""

from __future__ import annotations

import asyncio
from pathlib import Path

from store.trouble import Refused
from tui import deeds, keys
from tui.book.changing import Changing
from tui.parts.on_disk import ask_target
from tui.parts.setting_up import load_book
from tui.parts.when import some


class Forms(Changing):
    """One form for each thing that can be changed."""

    async def hours(self) -> None:
        """Other hours for the phase or the surprise that one is at."""
        from store.edges.workbook import edit

        line = self.at()
        if line.kind not in ("phase", "family", "coming"):
            raise Refused("This line has no hours: a phase, a surprise or other work has some.")
        await self.may()
        source = self.state.view.source
        if line.kind == "coming":
            once = await self.screen.talk.type(
                f"{line.what} {line.text}", "hours",
                lambda text: edit.read_hours(text, edit.Hours(1.0, 1.0, 1.0)),
            )  # fmt: skip
            await self.change(lambda text: edit.set_coming_hours(text, line.what, once.book))
            return
        before = edit.written_hours(source, line.what, line.family)
        hours = await self.screen.talk.type(
            line.text, "low, book, high", lambda text: edit.read_hours(text, before),
            facts=("One in ten is quicker than low, one in ten slower than high; one number is "
                   "the book's, low and high move along.",
                   f"Now {', '.join(f'{one:g}' for one in before)}."),
        )  # fmt: skip
        await self.change(lambda text: edit.set_hours(text, line.what, hours, line.family))

    async def odds(self) -> None:
        """Other odds for the surprise or the answer that one is at."""
        from store.edges.workbook import edit

        line = self.at()
        if line.kind not in ("coming", "answer"):
            raise Refused("This line has no odds: surprises, other work and answers have some.")
        await self.may()
        odds = await self.screen.talk.type(
            f"{line.what} {line.text}", "odds", edit.read_odds,
            facts=("Like 1 in 8, 1:8 or 0.125. Other answers share what is left.",),
        )  # fmt: skip
        await self.change(lambda text: edit.set_odds(text, line.what, odds))

    async def copy(self) -> None:
        """An operation under a new code."""
        from store.edges.workbook.copy import copy

        self.book()
        code = self.operation()
        await self.may()
        talk = self.screen.talk
        new = await talk.type(
            f"a copy of {code}",
            "new code",
            lambda text: some(text).upper(),
            facts=("Phases of its own are copied too; those that it shares stay shared.",),
        )
        name = await talk.type(f"a copy of {code}, {new}", "name", some)
        await self.change(lambda text: copy(text, code, new, name))

    async def rename(self) -> None:
        """Another name for an operation."""
        from store.edges.workbook.edit import rename

        book, code = self.book(), self.operation()
        await self.may()
        name = await self.screen.talk.type(
            f"{code} is called", "name", some, text=book.operations[code].name
        )
        await self.change(lambda text: rename(text, code, name))

    async def part(self) -> None:
        """A part that is always renewed."""
        from store.edges.workbook.edit import add_part

        book, code = self.book(), self.operation()
        await self.may()
        talk = self.screen.talk
        what = await talk.type(f"{code}: always renewed", "what", some)
        route = list(dict.fromkeys(use.phase for use in book.operations[code].route))
        at = self.at()
        phase = await talk.type(
            f"{code}: {what}", "for which phase", some,
            text=at.what if at.kind in ("phase", "family") else route[0],
            facts=(f"One of {', '.join(route)}.",),
        )  # fmt: skip
        await self.change(lambda text: add_part(text, code, what, phase))

    async def add(self) -> None:
        """An operation from nothing."""
        from store.edges.workbook.edit import new_operation, read_phases

        await self.may()
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
        await self.change(
            lambda text: new_operation(text, code, name, phases, book="Our work book")
        )

    async def drop(self) -> None:
        """Take an operation out."""
        from store.edges.workbook.keep import drop

        self.book()
        code = self.operation()
        await self.may()
        await self.change(lambda text: drop(text, code))

    async def take(self) -> None:
        """The demo's operations, where there is no book."""
        from tui.cli.starter import offered, read_starter, starter_book

        if self.state.view.book is not None:
            raise Refused(keys.filled("There is a work book already: {book.copy} copies from it."))
        await self.may()
        listed = ", ".join(f"{code} {name}" for code, name in offered())
        codes = await self.screen.talk.type(
            "operations to begin with", "all, or codes", lambda text: read_starter(some(text)),
            facts=(f"{listed}.", "They are the demo's: put their hours right."),
        )  # fmt: skip
        source = await asyncio.to_thread(starter_book, codes, "our shop")
        if source is None:
            raise Refused("None was named: nothing was written.")
        await self.screen.act(deeds.load_book(source))
        await self.anew()

    async def load(self) -> None:
        """A book from a file."""
        await load_book(self.screen)
        await self.anew()

    async def write(self) -> None:
        """The book into a file."""
        self.book()
        source = self.state.view.source
        target = await ask_target(
            self.screen, "the work book as TOML",
            facts=("It is written on this machine; a file of that name is replaced.",),
        )  # fmt: skip
        await asyncio.to_thread(_write, target, source)
        self.screen.say(f"Work book {self.state.view.version} written: {target}.")


def _write(path: Path, source: str) -> None:
    from store.file.text_out import write_text

    write_text(path, source)
