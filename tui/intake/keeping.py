"""What the intake does beside taking work at once: it keeps, books, quotes, and agrees to a job."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from store.trouble import Refused, Trouble
from store.views.desk.at_desk import AtDesk
from tui import keys
from tui.desk import deeds
from tui.desk.agreeing import Promise, agree
from tui.desk.booking import book
from tui.desk.coming_back import comes_back
from tui.desk.customers import may_see, owner, whose
from tui.intake.asking import Asking
from tui.intake.for_job import (
    before_by_name,
    before_of,
    call_of,
    form_of,
    is_as_kept,
    known_of,
)
from tui.intake.quoting import give_quote
from tui.intake.state import FieldName, Form, promised
from tui.parts.people import somebody
from tui.parts.where import BACK, Elsewhere, Where

if TYPE_CHECKING:
    from store.views.estimate import Estimate


class Keeping(Asking):
    """A form of a new job, or of one that the desk knows."""

    here: AtDesk | None = None

    # -- talking

    def about(self, here: Where) -> None:
        """Which job; "" is a new one. What was typed for another waits until one returns."""
        self.kept = getattr(self, "kept", {})
        if here.job == self.job:
            return
        self.kept[self.job] = (self.form, getattr(self, "drafts", {}))
        self.job, self.answer, self.first = here.job, None, 0
        self.form, self.drafts = self.kept.pop(here.job, (Form(), {}))
        self.here = self.before = None

    async def know(self) -> None:
        """What the desk knows of the job; it stands in the form unless something was typed."""
        if not self.job:
            return
        try:
            self.here = here = await known_of(self, self.job)
        except Trouble as trouble:
            self.say_no(str(trouble))
            return
        self.before = before_of(here.vehicle, here.before, self.session.now(), self.zone)
        if self.form.is_empty:
            self.change(form_of(here))

    def whole(self) -> Estimate:
        """The whole answer.

        Raises:
            Refused: it is not there yet, or cannot be.
        """
        answer = self.current
        if answer is None or answer.found is None:
            raise Refused(
                keys.filled("Say the work and the family first: {intake.add} and {intake.family}.")
            )
        if answer.depth != "whole":
            raise Refused("It is still being worked out. A moment, then again.")
        return answer.found

    async def type_in(self, name: FieldName) -> None:
        """Have a field typed; of a vehicle that was here before it is said.

        Raises:
            Back: Esc; what was typed is kept.
        """
        await super().type_in(name)
        if name == "vehicle" and not self.job:
            self.before = await before_by_name(self, self.form.label)
            self.repaint()

    async def keep_it(self) -> None:
        """Keep it for later, and go back to where one came from.

        Raises:
            Elsewhere: it was kept.
            Back: nobody came.
            Trouble: something lacks, or it was refused.
        """
        await self.kept_job()
        self.done()

    async def kept_job(self) -> AtDesk:
        """The job, with what the form says of its work written down; a new one is an enquiry.

        Raises:
            Back: nobody came.
            Trouble: something lacks, or it was refused.
        """
        form = self.form
        if not form.vehicle:
            raise Refused(keys.filled("Which vehicle? {intake.vehicle} says it."))
        await somebody(self)
        if not self.job:
            done = await self.act(deeds.enquire(call_of(form)))
            self.job = done.job or ""
        elif self.here is None or not is_as_kept(form, self.here):
            await self.act(deeds.choose_work(self.job, call_of(form)))
        self.here = await known_of(self, self.job)
        if form.mass is not None and form.mass != self.here.vehicle.mass_kg:
            read = deeds.Identity(mass_kg=form.mass)
            await self.act(deeds.identify(self.job, read))
        return self.here

    async def book_it(self) -> None:
        """Keep it, book the day on which it comes, and go back to where one came from."""
        await book(self, await self.kept_job())
        self.done()

    async def say_whose(self) -> None:
        """Whose it is: of a job at once, of a new one when it is kept."""
        if self.job:
            await owner(self, await known_of(self, self.job))
            self.here = await known_of(self, self.job)
            self.form = replace(self.form, customer=self.here.customer)
        else:
            await may_see(self)
            found = await whose(self, "whose is it?", self.form.customer or ("", ""))
            self.form = replace(self.form, customer=found)
        self.repaint()

    async def keep_customer(self, job: str) -> None:
        """Keep whose vehicle it is, of a job that was taken at once; what was said stays said."""
        if self.form.customer is None:
            return
        said = self.said
        try:
            await self.act(deeds.know_customer(job, *self.form.customer))
        except Trouble as trouble:
            self.say_no(f"{job} was taken, but: {trouble}")
        else:
            self.say(said)

    async def show_sheet(self) -> None:
        """Keep it, and read the estimate sheet as the customer gets it."""
        from tui.job.papers import show_paper

        await show_paper(self, (await self.kept_job()).job)

    async def link_back(self) -> None:
        """Keep it, and say from which job before it comes back."""
        await comes_back(self, await self.kept_job())

    async def quote_it(self) -> None:
        """Give the estimate as a quote, and go back to where one came from.

        Raises:
            Elsewhere: it was given.
            Back: left with Esc.
            Trouble: something lacks, or it was refused.
        """
        found = self.whole()
        await self.kept_job()
        promise = promised(self.form, found)
        await give_quote(self, self.job, found, promise, call_of(self.form))
        self.done()

    async def agree_to_job(self) -> None:
        """The customer's word on a job that the desk knows: by whom, how, on which terms."""
        if self.form.small:
            raise Refused(
                keys.filled("A small job is one of its own: {floor.small} on the floor takes it.")
            )
        here, answer, form = await self.kept_job(), self.current, self.form
        at = promised(form, answer.found if answer else None)
        told = answer.told if answer else None
        await agree(self, here, Promise(at, form.chance if at else None, told))

    def done(self) -> None:
        """It is over with this form.

        Raises:
            Elsewhere: back to where one came from.
        """
        self.session.said, self.said = self.said, ""
        self.form, self.drafts, self.answer = Form(), {}, None
        self.job, self.here, self.before = "", None, None
        raise Elsewhere(BACK)
