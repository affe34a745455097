"""What the intake knows: the form, and what its work would take, worked out next door."""

from __future__ import annotations

import asyncio
from contextlib import suppress
from datetime import datetime
from typing import TYPE_CHECKING

from textual import work
from textual.worker import Worker

from store.views import likely
from store.views.counter import Counter, counter
from tui import keys
from tui.intake.fields import AND, fitting_options
from tui.intake.paint import intake_canvas, shown_phases
from tui.intake.reckoned import Question, Reckoned, reckon
from tui.intake.reckoner import Reckoner
from tui.intake.searching import get_ready
from tui.intake.state import Before, FieldName, Form, IntakeState, Stage, Typing
from tui.parts.canvas import Canvas
from tui.parts.lines import Key
from tui.parts.painted import Painted

if TYPE_CHECKING:
    from store.views.estimate import Estimate

TYPED_KEYS: dict[FieldName, tuple[Key, ...]] = {
    "vehicle": (Key("Enter", "goes on"), Key("up down", "one that was here"), Key("Esc", "back")),
    "family": (Key("Enter", "takes the marked one", "takes it"), Key("up down", "choose"),
               Key("Esc", "back")),
    "work": (Key("Enter", "takes the marked one and goes on", "takes it"),
             Key(AND, "and another"), Key("up down", "choose"),
             Key("backspace", "takes the last off", "off"), Key("Esc", "back")),
    "told": (Key("Enter", "keeps it"), Key("Esc", "back")),
}  # fmt: skip
ONLY_LEADS = "To agree on other than small jobs takes a foreman or the owner."


class Working(Painted[Counter]):
    """The form of a job that nobody has agreed to, and its hours as far as they are there."""

    form = Form()
    job = ""
    before: Before | None = None
    typing: Typing | None = None
    first = 0
    _reckoner: Reckoner | None = None
    answer: Reckoned | None = None
    _asked: Question | None = None
    _working: Worker[None] | None = None

    def look(self, now: datetime) -> Counter:
        """What can be chosen."""
        found = counter(self.session.shop, now)
        get_ready(found)
        return found

    def took(self, view: Counter) -> None:
        """The shop changed or a minute passed: what is worked out may have moved."""
        self.zone = view.zone
        self._reckon()

    # -- painting

    def picture(self, view: Counter, size: tuple[int, int]) -> Canvas:
        """Form, hours, promise."""
        signs = self.session.signs
        if self.session.paint.monochrome:
            signs = signs.without_colour()
        return intake_canvas(view, size, signs, self.state)

    @property
    def found(self) -> Estimate | None:
        """What was worked out for the work as it is now."""
        return self.current.found if self.current else None

    @property
    def current(self) -> Reckoned | None:
        """The answer to what the form asks now; None where there is none yet."""
        asked = self._question()
        answer = self.answer
        return answer if answer and asked and asked.same_work(answer.question) else None

    @property
    def state(self) -> IntakeState:
        """All that is painted beside the counter."""
        answer = self.current
        stage: Stage = answer.depth if answer and answer.found else ""
        row = TYPED_KEYS[self.typing.name] if self.typing else keys.last_row(keys.INTAKE)
        return IntakeState(
            self.form, answer.found if answer else None, stage, answer.wrong if answer else "",
            self.typing, self._day_chance(), self.first, self.saying, self.stale,
            self._note(stage), row, self.job, self.before,
        )  # fmt: skip

    def _day_chance(self) -> float | None:
        answer, day = self.current, self.form.day
        if self.shown is None or answer is None or answer.found is None or day is None:
            return None
        if not answer.found.finish_h:
            return None
        return likely.chance(self.shown.calendar, answer.question.now, answer.found.finish_h, day)

    def _note(self, stage: Stage) -> str:
        if self.form.can_be_asked and stage in ("", "book") and not self._is_refused():
            return "Being worked out from what was learned; the work book's hours stand meanwhile."
        if self.form.can_be_asked and stage in ("hours", "dates"):
            return "What may change it is being worked out."
        found, here = self.found, self.shown
        if found is not None and here is not None:
            if not any(one.on_family for one in found.route) and found.says != "book":
                return f"No job here on {self.form.family} yet: its hours may lie far off these."
            if found.says == "book":
                return "From the work book alone: nothing was learned here yet."
        who = self.session.who
        return ONLY_LEADS if who is not None and who.role == "technician" else ""

    def _is_refused(self) -> bool:
        return self.current is not None and self.current.found is None

    # -- working it out

    def _question(self) -> Question | None:
        form = self.form
        if self.shown is None or not form.can_be_asked:
            return None
        options = tuple(sorted(form.options.items()))
        return Question(form.work, form.family, options, form.grade, self.shown.at)

    def _reckon(self) -> None:
        """Have it worked out, unless it was, or is."""
        asked = self._question()
        if asked is None or asked == self._asked:
            return
        self._asked = asked
        if self._working is not None:
            self._working.cancel()
        self._working = self._work_out(asked)

    @work(group="reckon")
    async def _work_out(self, asked: Question) -> None:
        """The work book's hours at once, in a thread; then the learned ones, from next door."""
        shop = self.session.shop
        if self.current is None:
            self._tell(await asyncio.to_thread(reckon, shop, asked, "book"))
        try:
            async for part in self._next_door().ask(asked):
                if part.depth == "whole" or self._is_new(part):
                    self._tell(part)
        except OSError:  # no room for a process
            self._tell(await asyncio.to_thread(reckon, shop, asked, "whole"))

    def _is_new(self, part: Reckoned) -> bool:
        """Learned hours are shown before the dates only where nothing whole stands there."""
        return self.current is None or self.current.depth != "whole" or part.found is None

    def _tell(self, part: Reckoned) -> None:
        asked = self._question()
        if asked is not None and asked.same_work(part.question):
            self.answer = part
            self.stay_on_page()
            self.repaint()

    def _next_door(self) -> Reckoner:
        if self._reckoner is None:
            self._reckoner = Reckoner(self.session.shop.path)
        return self._reckoner

    def get_ready(self) -> None:
        """Begin the process while the vehicle is typed."""
        with suppress(OSError):  # no room for it: it will be worked out here
            self._next_door().begin()

    def on_unmount(self) -> None:
        """Nobody is to work anything out any more."""
        if self._reckoner is not None:
            self._reckoner.end()

    def leave(self) -> None:
        """Nobody is here: what is being worked out is not wanted."""
        if self._working is not None:
            self._working.cancel()
        self._asked = None
        if self._reckoner is not None:
            self._reckoner.end()

    def change(self, form: Form) -> None:
        """The form says something else: its hours are worked out anew."""
        assert self.shown is not None
        self.form = fitting_options(self.shown, form)
        self.said = ""
        self._reckon()
        self.stay_on_page()
        self.repaint()

    def stay_on_page(self) -> None:
        """Scroll no farther than there are phases."""
        if self.shown is None or self.board_size[0] < 1:
            return
        state = self.state
        many = len(state.found.route) if state.found else 0
        shown = shown_phases(self.shown, self.board_size, self.session.signs, state)
        self.first = min(max(0, self.first), max(0, many - shown))
