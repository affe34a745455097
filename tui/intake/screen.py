"""The intake: what its keys do. What is typed stays until it is agreed or cleared."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from textual import work
from textual.worker import Worker

from store.trouble import Refused
from store.views import likely
from store.views.counter import Counter, counter
from tui import deeds, keys
from tui.intake.choosing import ask_extra, ask_hours, ask_lift, ask_option
from tui.intake.paint import intake_canvas, shown_phases
from tui.intake.promise import offers
from tui.intake.reckoned import Question, Reckoned, reckon
from tui.intake.reckoner import Reckoner
from tui.intake.searching import get_ready
from tui.intake.state import (
    DO,
    MATCH,
    OFFER,
    FieldName,
    Form,
    IntakeState,
    Stage,
    Typing,
    promised,
)
from tui.intake.typing import AND, begun, fitting_options, pressed, taken
from tui.intake.what_if import show_what_if
from tui.parts.canvas import Canvas
from tui.parts.everywhere import everywhere, no_key
from tui.parts.keyline import ENTER, Pressed
from tui.parts.lines import Key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.talk import Back
from tui.parts.when import coming
from tui.parts.where import BACK, Elsewhere, Where
from tui.words import zone_of

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
IN_ORDER: tuple[FieldName, ...] = ("vehicle", "family", "work")
ONLY_LEADS = "To agree on other than small jobs takes a foreman or the owner."


class IntakeScreen(Painted[Counter]):
    """From vehicle and complaint to an agreed job."""

    CSS_PATH = "screen.tcss"

    form = Form()
    typing: Typing | None = None
    first = 0
    _reckoner: Reckoner | None = None
    _answer: Reckoned | None = None
    _asked: Question | None = None
    _working: Worker[None] | None = None
    _drafts: dict[FieldName, str]
    _whose: str | None = None

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
        return self._current.found if self._current else None

    @property
    def _current(self) -> Reckoned | None:
        asked = self._question()
        answer = self._answer
        return answer if answer and asked and asked.same_work(answer.question) else None

    @property
    def state(self) -> IntakeState:
        """All that is painted beside the counter."""
        answer = self._current
        stage: Stage = answer.depth if answer and answer.found else ""
        row = TYPED_KEYS[self.typing.name] if self.typing else keys.last_row(keys.INTAKE)
        return IntakeState(
            self.form, answer.found if answer else None, stage, answer.wrong if answer else "",
            self.typing, self._day_chance(), self.first, self.saying, self.stale,
            self._note(stage), row,
        )  # fmt: skip

    def _day_chance(self) -> float | None:
        answer, day = self._current, self.form.day
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
        return self._current is not None and self._current.found is None

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
        if self._current is None:
            self._tell(await asyncio.to_thread(reckon, shop, asked, "book"))
        try:
            async for part in self._next_door().ask(asked):
                if part.depth == "whole" or self._is_new(part):
                    self._tell(part)
        except OSError:  # no room for a process
            self._tell(await asyncio.to_thread(reckon, shop, asked, "whole"))

    def _is_new(self, part: Reckoned) -> bool:
        """Learned hours are shown before the dates only where nothing whole stands there."""
        return self._current is None or self._current.depth != "whole" or part.found is None

    def _tell(self, part: Reckoned) -> None:
        asked = self._question()
        if asked is not None and asked.same_work(part.question):
            self._answer = part
            self._stay_on_page()
            self.repaint()

    def _next_door(self) -> Reckoner:
        if self._reckoner is None:
            self._reckoner = Reckoner(self.session.shop.path)
        return self._reckoner

    def _get_ready(self) -> None:
        """Begin the process while the vehicle is typed."""
        with suppress(OSError):  # no room for it: it will be worked out here
            self._next_door().begin()

    def on_unmount(self) -> None:
        """Nobody is to work anything out any more."""
        if self._reckoner is not None:
            self._reckoner.end()

    # -- talking

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self._new_hands()
        self.said, self.session.said = self.session.said, ""
        self._get_ready()
        try:
            await self.renew()
            await self.doing(self._in_order)
            while not self._leaves:
                await self._key(await self.next_key())
            return BACK
        finally:
            self._leave()

    def _new_hands(self) -> None:
        """What somebody else left here is not for who is here now."""
        badge = self.session.who.badge if self.session.who else None
        if badge != self._whose and self._whose is not None:
            self.form, self._drafts = Form(), {}
        self._whose = badge or self._whose
        self._drafts = getattr(self, "_drafts", {})
        self._leaves = False

    def _leave(self) -> None:
        if self._working is not None:
            self._working.cancel()
        self._asked = None
        if self._reckoner is not None:
            self._reckoner.end()

    async def _key(self, key: Pressed) -> None:
        if key.key.startswith(OFFER):
            await self.doing(partial(self._choose, int(key.key.removeprefix(OFFER))))
            return
        does = key.key.removeprefix(DO) if key.key.startswith(DO) else None
        match does or keys.meant(keys.INTAKE, key.key):
            case "back":
                self._leaves = True
            case None:
                no_key(self, key.key, keys.INTAKE)
            case meant if meant in keys.COMMON:
                await self.doing(partial(everywhere, self, meant, keys.INTAKE))
            case meant:
                await self.doing(self._forms()[meant])

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        return {
            "agree": self._agree, "what-if": self._what_if, "extras": self._extras,
            "promise": self._promise,
            "later": lambda: self._move(1), "sooner": lambda: self._move(-1),
            "vehicle": lambda: self._type("vehicle"), "family": lambda: self._type("family"),
            "add": lambda: self._type("work"), "told": lambda: self._type("told"),
            "options": self._options, "grade": self._grade, "hours": self._hours,
            "lift": self._lift, "clear": self._clear,
            "up": lambda: self._scroll(-1), "down": lambda: self._scroll(1),
        }  # fmt: skip

    def _change(self, form: Form) -> None:
        """The form says something else: its hours are worked out anew."""
        assert self.shown is not None
        self.form = fitting_options(self.shown, form)
        self.said = ""
        self._reckon()
        self._stay_on_page()
        self.repaint()

    # -- typing

    async def _in_order(self) -> None:
        """The fields that say nothing yet, one after another; Esc leaves the screen.

        Raises:
            Back: Esc.
        """
        for name in IN_ORDER:
            if self._says_nothing(name):
                try:
                    await self._type(name)
                except Back:
                    self._leaves = True
                    raise

    def _says_nothing(self, name: FieldName) -> bool:
        form = self.form
        match name:
            case "vehicle":
                return not form.vehicle
            case "family":
                return not form.family and not form.small
            case _:
                return not form.work and not form.small

    async def _type(self, name: FieldName) -> None:
        """Have a field typed.

        Raises:
            Back: Esc; what was typed is kept.
        """
        assert self.shown is not None
        said = {"vehicle": self.form.vehicle, "told": self.form.told}.get(name, "")
        self._write(begun(self.shown, self.form, name, self._drafts.pop(name, said)))
        try:
            while self.typing is not None:
                await self._typed(self.typing, await self.talk.key())
                await asyncio.sleep(0)  # letters typed at once keep nobody else waiting
        except BaseException:
            if self.typing is not None and self.typing.field.text:
                self._drafts[name] = self.typing.field.text
            raise
        finally:
            self.typing = None
            self.repaint()

    def _write(self, typing: Typing | None) -> None:
        self.typing = typing
        self.repaint()

    async def _typed(self, typing: Typing, key: Pressed) -> None:
        assert self.shown is not None
        here = self.shown
        meant = keys.meant(keys.INTAKE, key.key)
        if key.key == "Esc":
            raise Back
        if key.key.startswith(MATCH):
            typing = replace(typing, at=int(key.key.removeprefix(MATCH)))
            key = ENTER
        if meant in keys.COMMON and not key.text:
            await everywhere(self, meant, keys.INTAKE)
        elif key.key == "Enter":
            if self._take(typing):
                self._write(None)
        elif typing.name == "work" and key.text == AND:
            if typing.field.text.strip() and self._take(typing):
                self._write(begun(here, self.form, "work"))
        elif typing.name == "work" and key.key == "backspace" and not typing.field.text:
            last = self.form.work[-1:]
            self._change(self.form.without(last[0]) if last else replace(self.form, small=""))
            self._write(begun(here, self.form, "work"))
        else:
            self.said = ""
            self._write(pressed(here, self.form, typing, key))

    def _take(self, typing: Typing) -> bool:
        """Whether what the field says can be taken; it is said why not."""
        assert self.shown is not None
        try:
            self._change(taken(self.shown, self.form, typing))
        except Refused as refused:
            self.say_no(str(refused))
            return False
        return True

    # -- what one says

    async def _options(self) -> None:
        assert self.shown is not None
        self._change(await ask_option(self, self.shown, self.form))

    async def _grade(self) -> None:
        self._change(replace(self.form, grade=self.form.grade % 4 + 1))

    async def _hours(self) -> None:
        assert self.shown is not None
        self._change(await ask_hours(self, self.shown, self.form))

    async def _lift(self) -> None:
        assert self.shown is not None
        self._change(await ask_lift(self, self.shown, self.state))

    async def _extras(self) -> None:
        self._change(await ask_extra(self, self._whole(), self.form))

    async def _what_if(self) -> None:
        found = self._whole()
        self._change(await show_what_if(self, found, self.form))

    def _whole(self) -> Estimate:
        """The whole answer.

        Raises:
            Refused: it is not there yet, or cannot be.
        """
        answer = self._current
        if answer is None or answer.found is None:
            raise Refused(
                keys.filled("Say the work and the family first: {intake.add} and {intake.family}.")
            )
        if answer.depth != "whole":
            raise Refused("It is still being worked out. A moment, then again.")
        return answer.found

    async def _clear(self) -> None:
        self._drafts = {}
        self._change(Form())
        await self._in_order()

    # -- the promise

    async def _move(self, by: int) -> None:
        assert self.shown is not None
        found = offers(self.shown, self.state)
        if len(found) < 2:
            raise Refused(
                keys.filled("There is no date to choose yet. {intake.promise} types a day.")
            )
        at = next((n for n, one in enumerate(found) if one.chosen), 0)
        await self._choose(min(max(0, at + by), len(found) - 1))

    async def _choose(self, place: int) -> None:
        """Promise what stands at that place of the row."""
        assert self.shown is not None
        chosen = offers(self.shown, self.state)[place]
        day = self.form.day if chosen.at is not None else None
        self._change(replace(self.form, chance=chosen.chance, day=day))

    async def _promise(self) -> None:
        now, zone = self.session.now(), zone_of(self.zone)
        day = await self.talk.type(
            "promised for which day?", "day and time", lambda text: coming(text, now, zone),
            facts=("Like fri 16:00. Its chance stands under it; arrows go to the others.",),
        )  # fmt: skip
        self._change(replace(self.form, chance=None, day=day))

    # -- phases

    async def _scroll(self, by: int) -> None:
        self.first += by
        self._stay_on_page()
        self.repaint()

    def _stay_on_page(self) -> None:
        if self.shown is None or self.board_size[0] < 1:
            return
        state = self.state
        many = len(state.found.route) if state.found else 0
        shown = shown_phases(self.shown, self.board_size, self.session.signs, state)
        self.first = min(max(0, self.first), max(0, many - shown))

    # -- agreed

    async def _agree(self) -> None:
        """Take the job, and go back to where one came from.

        Raises:
            Elsewhere: it was taken.
            Back: nobody came, or the PIN was not typed.
            Trouble: something lacks, or it was refused.
        """
        deed = self._deed()
        await somebody(self)
        await self.act(deed)
        self.session.said, self.said = self.said, ""
        self.form, self._drafts, self._answer = Form(), {}, None
        raise Elsewhere(BACK)

    def _deed(self) -> deeds.Deed:
        """What Enter takes.

        Raises:
            Refused: something lacks.
        """
        form, answer = self.form, self._current
        if not form.vehicle:
            raise Refused(keys.filled("Which vehicle? {intake.vehicle} says it."))
        if form.small:
            return deeds.take_small(form.small, form.label, form.small_h, form.lift)
        if not form.work:
            raise Refused(keys.filled("Which work? {intake.add} says it."))
        if not form.family:
            raise Refused(keys.filled("Which family? {intake.family} says it."))
        if answer is not None and answer.found is None:
            raise Refused(answer.wrong)
        return deeds.take(self._agreement(answer))

    def _agreement(self, answer: Reckoned | None) -> deeds.Agreed:
        form = self.form
        return deeds.Agreed(
            form.work, form.family, form.label, dict(form.options), form.grade, form.lift,
            promised(form, answer.found if answer else None), form.chance, form.mass,
            form.told or None, answer.told if answer else None,
        )  # fmt: skip

    def way_back(self) -> str:
        """The floor's undo."""
        return keys.filled("  {floor.undo} undoes it.")
