"""The first run at a terminal: no shop file is there; one is made, or the demo is opened."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from textual import events, on, work
from textual.app import App, ComposeResult

from store.actions.founding import ShopPlan
from store.file.shop import By
from store.trouble import Trouble
from tui.cli.where import terminal_name
from tui.colours import Paint, textual_theme
from tui.keys import filled
from tui.now import machine_now
from tui.parts.board import Board
from tui.parts.keyline import KeyLine, pressed
from tui.parts.prompt import Prompt, paint_prompt
from tui.parts.said import paint_long_said, said_rows
from tui.parts.talk import Back, Scanned, Talk
from tui.settings import appearance, settings, use_keys
from tui.setup.paint import SetupState, setup_canvas
from tui.setup.questions import Question, checked, plan, questions
from tui.signs import Signs

MAKING = "Making the demo shop and its eighteen months: half a minute, once."


class Begun(NamedTuple):
    """A shop to open: its file, who signs in at once, and what is said first."""

    path: Path
    badge: str | None
    says: str


class FirstRun(App[Begun]):
    """Asks what a shop must know; nothing is written before the last answer."""

    CSS_PATH = "../app.tcss"
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False

    def __init__(
        self, path: Path, demo: Callable[[], Path], paint: Paint, signs: Signs, terminal: str
    ) -> None:
        """Begin at `path`; `demo` makes the demo shop where there is none, and returns its file."""
        super().__init__(ansi_color=True if paint.monochrome else None)
        self._path, self._demo, self._terminal = path, demo, terminal
        self._paint, self._signs = paint, signs
        self.line = KeyLine()
        self.talk = Talk(self.line, self._ask)
        self.board = Board()
        self._questions = questions()
        self._state = SetupState(str(path))
        self._prompt: Prompt | None = None
        theme = textual_theme(paint.look)
        self.register_theme(theme)
        self.theme = theme.name

    def compose(self) -> ComposeResult:
        """One board."""
        yield self.board

    def on_mount(self) -> None:
        """Begin to talk."""
        self._life()

    async def on_event(self, event: events.Event) -> None:
        """Every key goes into the line."""
        if isinstance(event, events.Key) and not event.is_forwarded:
            if event.key in ("ctrl+c", "ctrl+q"):
                self.exit(None)
            else:
                self.line.put(pressed(event))
            return
        if isinstance(event, events.Paste) and not event.is_forwarded:
            self.line.paste(event.text)
            return
        await super().on_event(event)

    # -- painting

    @on(Board.Resized)
    def repaint(self) -> None:
        """Paint anew."""
        size = self.board.size
        if size[0] < 1 or size[1] < 1:
            return
        said = self._prompt.wrong if self._prompt and self._prompt.wrong else self._state.said
        state = replace(self._state, said=said)
        canvas = setup_canvas(state, self._questions, (size[0], size[1]), self._signs)
        if self._prompt is not None:
            foot = max(3, 1 + said_rows(said, canvas.width))
            paint_prompt(canvas, self._prompt, self._signs, foot=foot)
        paint_long_said(canvas, said, self._signs)
        self.board.show(canvas.lines(self._paint))

    def _ask(self, prompt: Prompt | None) -> None:
        self._prompt = prompt
        self.repaint()

    def _show(self, state: SetupState) -> None:
        self._state = state
        self.repaint()

    # -- talking

    @work(exclusive=True, group="life")
    async def _life(self) -> None:
        while True:
            try:
                key = (await self.talk.key()).key
            except Scanned:
                key = "a code"
            if key == "Esc":
                break
            if key == "Enter":
                begun = await self._set_up()
            elif key in ("d", "D"):
                begun = await self._open_demo()
            else:
                self._show(
                    replace(
                        self._state, said="Enter sets up your shop, d opens the demo, Esc leaves."
                    )
                )
                continue
            if begun is not None:
                self.exit(begun)
                return
        self.exit(None)

    async def _open_demo(self) -> Begun | None:
        self._show(replace(self._state, busy=MAKING, said=""))
        try:
            path = await asyncio.to_thread(self._demo)
        except Trouble as trouble:
            self._show(replace(self._state, busy="", said=f"! {trouble}"))
            return None
        return Begun(path, None, "Every PIN is 2468. A02 is the foreman, B12 a technician.")

    async def _set_up(self) -> Begun | None:
        """All questions, forwards and back; None where it was left."""
        nth = 0
        while 0 <= nth <= len(self._questions):
            try:
                if nth < len(self._questions):
                    await self._one(nth)
                else:
                    return await self._found()
            except Scanned:
                self._show(replace(self._state, said="! A code means nothing yet. Type it."))
            except Back:
                nth -= 1
            except Trouble as trouble:
                self._show(replace(self._state, said=f"! {trouble}"))
                nth -= 1
            else:
                nth += 1
        self._show(replace(self._state, asked=None, said="Nothing was written."))
        return None

    async def _one(self, nth: int) -> None:
        question = self._questions[nth]
        answers = self._state.answers
        self._show(replace(self._state, asked=nth))
        text = await self.talk.type(
            f"your shop, {nth + 1} of {len(self._questions)}", question.label,
            lambda text: self._read(question, text), facts=question.facts,
            text="" if question.secret else answers.get(question.id, question.proposed),
            secret=question.secret,
        )  # fmt: skip
        self._show(replace(self._state, answers={**answers, question.id: text}, said=""))

    def _read(self, question: Question, text: str) -> str:
        return checked(question, text, self._state.answers)

    async def _found(self) -> Begun:
        wanted = plan(self._state.answers)
        await self.talk.sure(
            f"Make {wanted.name}?", "make the shop", "change something",
            facts=(f"Its file: {self._path}",),
        )  # fmt: skip
        by = By(wanted.owner_badge, self._terminal, machine_now())

        def make() -> None:
            from store.actions.founding import found_shop

            found_shop(self._path, by, wanted).close()

        await asyncio.to_thread(make)
        return Begun(self._path, wanted.owner_badge, f"{wanted.name} is made. {_next(wanted)}")


def _next(wanted: ShopPlan) -> str:
    if wanted.book is None:
        return filled("Next a work book: {floor.work-book}. Then people: {floor.all}, type people.")
    return filled(
        "{floor.work-book} shows its work book: put the hours right. People: {floor.all}, type "
        "people. {floor.new} takes a first job."
    )


def begin(path: Path, demo: Callable[[], Path], *, ascii_only: bool) -> Begun | None:
    """Lead through a first run at this terminal; None where nothing is to be opened.

    Raises:
        Trouble: the settings have a fault.
    """
    environ = dict(os.environ)
    kept = settings(environ)
    use_keys(kept.keys)
    seen = appearance(environ, kept, ascii_only)
    return FirstRun(path, demo, seen.paint, seen.signs, terminal_name(environ)).run()
