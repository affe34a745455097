"""The intake: what its keys do. What is typed stays until it is agreed or cleared."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import replace
from functools import partial

from store.trouble import Refused
from tui import deeds, keys
from tui.intake.choosing import ask_extra, ask_hours, ask_lift, ask_option
from tui.intake.keeping import Keeping
from tui.intake.promise import offers
from tui.intake.reckoned import Reckoned
from tui.intake.state import DO, OFFER, Form, promised
from tui.intake.what_if import show_what_if
from tui.parts.everywhere import everywhere, no_key
from tui.parts.keyline import Pressed
from tui.parts.people import somebody
from tui.parts.when import coming
from tui.parts.where import BACK, Where
from tui.words import zone_of


class IntakeScreen(Keeping):
    """From vehicle and complaint to an agreed job."""

    CSS_PATH = "screen.tcss"

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self.new_hands()
        self.said, self.session.said = self.session.said, ""
        self.get_ready()
        try:
            said = self.said
            await self.renew()
            await self.know()
            self.said = self.said or said
            await self.doing(self.in_order)
            while not self.leaves:
                await self._key(await self.next_key())
            return BACK
        finally:
            self.leave()

    async def _key(self, key: Pressed) -> None:
        if key.key.startswith(OFFER):
            await self.doing(partial(self._choose, int(key.key.removeprefix(OFFER))))
            return
        does = key.key.removeprefix(DO) if key.key.startswith(DO) else None
        match does or keys.meant(keys.INTAKE, key.key):
            case "back":
                self.leaves = True
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
            "vehicle": lambda: self.type_in("vehicle"), "family": lambda: self.type_in("family"),
            "add": lambda: self.type_in("work"), "told": lambda: self.type_in("told"),
            "options": self._options, "grade": self._grade, "hours": self._hours,
            "lift": self._lift, "clear": self._clear, "keep": self.keep_it, "book": self.book_it,
            "quote": self.quote_it, "customer": self.say_whose, "comeback": self.link_back,
            "sheet": self.show_sheet,
            "up": lambda: self._scroll(-1), "down": lambda: self._scroll(1),
        }  # fmt: skip

    # -- what one says

    async def _options(self) -> None:
        assert self.shown is not None
        self.change(await ask_option(self, self.shown, self.form))

    async def _grade(self) -> None:
        self.change(replace(self.form, grade=self.form.grade % 4 + 1))

    async def _hours(self) -> None:
        assert self.shown is not None
        self.change(await ask_hours(self, self.shown, self.form))

    async def _lift(self) -> None:
        assert self.shown is not None
        self.change(await ask_lift(self, self.shown, self.state))

    async def _extras(self) -> None:
        self.change(await ask_extra(self, self.whole(), self.form))

    async def _what_if(self) -> None:
        found = self.whole()
        self.change(await show_what_if(self, found, self.form))

    async def _clear(self) -> None:
        self.drafts, self.before = {}, None
        self.change(Form())
        await self.in_order()

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
        self.change(replace(self.form, chance=chosen.chance, day=day))

    async def _promise(self) -> None:
        now, zone = self.session.now(), zone_of(self.zone)
        day = await self.talk.type(
            "promised for which day?", "day and time", lambda text: coming(text, now, zone),
            facts=("Like fri 16:00. Its chance stands under it; arrows go to the others.",),
        )  # fmt: skip
        self.change(replace(self.form, chance=None, day=day))

    # -- phases

    async def _scroll(self, by: int) -> None:
        self.first += by
        self.stay_on_page()
        self.repaint()

    # -- agreed

    async def _agree(self) -> None:
        """Take the job, and go back to where one came from.

        Raises:
            Elsewhere: it was taken.
            Back: nobody came, or the PIN was not typed.
            Trouble: something lacks, or it was refused.
        """
        if self.job:
            self._deed()
            await self.agree_to_job()
        else:
            deed = self._deed()
            await somebody(self)
            taken = await self.act(deed)
            await self.keep_customer(taken.job or "")
        self.done()

    def _deed(self) -> deeds.Deed:
        """What Enter takes.

        Raises:
            Refused: something lacks.
        """
        form, answer = self.form, self.current
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
