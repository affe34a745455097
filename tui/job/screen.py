"""The job card: what its keys do."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from datetime import datetime
from functools import partial

from store.trouble import Refused
from store.views.job import job_card
from store.views.values import JobCard, PhaseLine
from tui import deeds, keys
from tui.job.paint import Page, job_canvas, job_page, rows_of
from tui.job.state import JobState
from tui.parts.answering import answer
from tui.parts.canvas import Canvas
from tui.parts.everywhere import do_key
from tui.parts.finding import report_finding
from tui.parts.finishing import finish_phase
from tui.parts.holding import hold
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.promising import promise
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.step_list import step_list
from tui.parts.when import maybe, some
from tui.parts.where import BACK, Where
from tui.signs import Signs
from tui.words import Chance, settled

NOTCH = 3
"""Lines for each notch of the mouse's wheel."""
LIVE = ("to come", "under way", "held")
"""States of a phase that is not over."""


class JobScreen(Painted[JobCard]):
    """All that is known of one job."""

    CSS_PATH = "screen.tcss"

    job = ""
    scroll = 0
    _settled: Chance | None = None
    _laid: tuple[JobCard, int, Signs, Chance | None, Page] | None = None

    def about(self, here: Where) -> None:
        """Which job."""
        self.job = here.job

    def look(self, now: datetime) -> JobCard:
        """The card."""
        return job_card(self.session.shop, self.job, now, names=self.session.sees_customers)

    def took(self, view: JobCard) -> None:
        """Words of chances stay until they are clear of a border."""
        self.zone = view.zone
        chance = view.job.promise_chance
        self._settled = None if chance is None else settled(self._settled, chance)

    def picture(self, view: JobCard, size: tuple[int, int]) -> Canvas:
        """The card from where it is scrolled to."""
        state = JobState(
            self.scroll,
            self._settled,
            self.saying,
            self.session.sees_customers,
            keys.last_row(keys.JOB),
        )
        return job_canvas(view, size, self._signs(), state, self._laid_out(view, size[0]))

    def _signs(self) -> Signs:
        signs = self.session.signs
        return signs.without_colour() if self.session.paint.monochrome else signs

    def _laid_out(self, view: JobCard, width: int) -> Page:
        """The whole page; a key that only moves it lays nothing out again."""
        signs = self._signs()
        if self._laid is None or self._laid[0] is not view or self._laid[1:4] != (
            width, signs, self._settled,
        ):  # fmt: skip
            page = job_page(view, width, signs, self._settled, names=self.session.sees_customers)
            self._laid = (view, width, signs, self._settled, page)
        return self._laid[4]

    def job_at_hand(self) -> str | None:
        """The job of the card."""
        return self.job

    def way_back(self) -> str:
        """The card's own undo."""
        return keys.filled("  {job.undo} undoes it.")

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self.scroll, self._settled, self.shown = 0, None, None
        self.said, self.session.said = self.session.said, ""
        await self.renew()
        while True:
            key = (await self.next_key()).key
            if not await do_key(self, key, keys.JOB, self._forms()):
                return BACK

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        rows = max(1, rows_of(self.board_size[1]) - 1)
        return {
            "answer": self._word, "release": self._release, "hold": self._hold,
            "steps": self._steps, "finding": self._finding, "promise": self._promise,
            "record": self._paper, "follow-job": self._follow,
            "phase": self._phase, "close": self._close, "undo": self._undo,
            "up": lambda: self._scroll(-1), "down": lambda: self._scroll(1),
            "page-up": lambda: self._scroll(-rows), "page-down": lambda: self._scroll(rows),
            "before": lambda: self._section(-1), "after": lambda: self._section(1),
            "ledger": self._ledger, "note": self._note, "at-desk": self._at_desk,
            "parts": self._parts, "let": self._let,
            **{one: partial(self._outside, one) for one in ("tried", "outwork", "advice")},
        }  # fmt: skip

    async def _let(self) -> None:
        from tui.tools.letting import let_begin

        await let_begin(self, self.job_at_hand())

    async def _scroll(self, by: int) -> None:
        if self.shown is not None:
            last = self._page_now(self.shown).last_scroll(self.board_size[1])
            await self._to(min(max(0, self.scroll + by), last))

    async def _section(self, way: int) -> None:
        """To where the next section begins, or the one before."""
        if self.shown is None:
            return
        starts = self._page_now(self.shown).starts(self.board_size[1])
        ahead = [row for row in starts if (row - self.scroll) * way > 0]
        if not ahead:
            self.remark("The page ends here." if way > 0 else "The page begins here.")
            return
        await self._to(ahead[0] if way > 0 else ahead[-1])

    async def _ledger(self) -> None:
        if self.shown is not None:
            await self._to(self._page_now(self.shown).ledger(self.board_size[1]))

    async def _to(self, row: int) -> None:
        """Move the page; where it stands already that is said."""
        if row == self.scroll:
            self.remark("The page does not go farther.")
            return
        self.scroll = row
        self.repaint()

    def _page_now(self, card: JobCard) -> Page:
        return self._laid_out(card, self.board_size[0])

    def _wheel(self, way: int) -> None:
        """The wheel moves the page by some lines a notch."""
        for _ in range(NOTCH):
            super()._wheel(way)

    async def _card(self) -> JobCard:
        """The card, and somebody who acts on it.

        Raises:
            Back: nobody came.
            Refused: it cannot be read.
        """
        if self.shown is None:
            raise Refused(f"There is no job {self.job}. Esc goes back to the floor.")
        await somebody(self)
        return self.shown

    # -- acts

    async def _word(self) -> None:
        await answer(self, await self._card(), ask_how=True)

    async def _release(self) -> None:
        card = await self._card()
        holds = list(dict.fromkeys(one.phase for one in card.holds))
        if len(holds) < 2:
            await self.act(deeds.release(self.job, holds[0] if holds else None))
            return
        options = [
            Option(OPTION_KEYS[n], "the whole job" if one is None else f"phase {one}")
            for n, one in enumerate(holds)
        ]
        chosen = await self.talk.pick(f"{self.job}: what can go on?", options)
        await self.act(deeds.release(self.job, holds[OPTION_KEYS.index(chosen)]))

    async def _hold(self) -> None:
        card = await self._card()
        phase = await self._which(card, "hold which phase?", LIVE, whole=True)
        await hold(self, self.job, phase.number if phase else None)

    async def _steps(self) -> None:
        card = self.shown
        if card is None:
            return
        await step_list(self, self.job, card.job.phase.number if card.job.phase else None)
        await self.renew()

    async def _finding(self) -> None:
        card = await self._card()
        phase = await self._which(card, "found in which phase?",
                                  ("to come", "under way", "held", "finished"))  # fmt: skip
        assert phase is not None
        await report_finding(self, self.job, phase.number, priced=True)

    async def _note(self) -> None:
        await self._card()
        text = await self.talk.type(f"{self.job}: what is to be remembered?", "note", some)
        await self.act(deeds.note(self.job, text))

    async def _outside(self, which: str) -> None:
        """With the customer or another firm; loaded when it is wanted."""
        from tui.job.outside_forms import FORMS

        await FORMS[which](self, await self._card())

    async def _promise(self) -> None:
        await self._card()
        await promise(self, self.job)

    async def _phase(self) -> None:
        card = await self._card()
        chosen = await self.talk.pick(
            f"{self.job}: a phase", [Option("1", "finish it"), Option("2", "leave it out"),
                                     Option("3", "open it again")],
        )  # fmt: skip
        if chosen == "1":
            phase = await self._which(card, "finish which phase?", LIVE)
            assert phase is not None
            await finish_phase(self, self.job, phase.number)
        elif chosen == "2":
            phase = await self._which(card, "leave which phase out?", LIVE)
            assert phase is not None
            reason = await self.talk.type(f"{self.job}.{phase.number} left out", "because", some)
            await self.act(deeds.skip(self.job, phase.number, reason))
        else:
            phase = await self._which(card, "open which phase again?", ("finished",))
            assert phase is not None
            why = await self.talk.type(
                f"{self.job}.{phase.number} opened again", "because (Enter: not said)", maybe,
                facts=("What was signed on it, and on what followed, is signed again.",),
            )  # fmt: skip
            await self.act(deeds.reopen(self.job, phase.number, why))

    async def _which(
        self, card: JobCard, title: str, states: tuple[str, ...], *, whole: bool = False
    ) -> PhaseLine | None:
        """One of the phases in these states; None is the whole job."""
        fitting = [one for one in card.phases if one.state in states]
        if not fitting and not whole:
            raise Refused(f"{self.job} has no phase for that.")
        at = card.job.phase.number if card.job.phase else None
        options = [
            Option(OPTION_KEYS[n], f"{one.number} {one.name}   {one.state}", hot=one.number == at)
            for n, one in enumerate(fitting[: len(OPTION_KEYS)])
        ]
        if whole:
            options.append(Option("z", "the whole job"))
        chosen = await self.talk.pick(f"{self.job}: {title}", options)
        return None if chosen == "z" else fitting[OPTION_KEYS.index(chosen)]

    async def _close(self) -> None:
        """Loaded when it is wanted, as the next two."""
        from tui.job.ending import hand_over

        await hand_over(self, self.job)

    async def _paper(self) -> None:
        from tui.job.papers import show_paper

        await show_paper(self, self.job)

    async def _follow(self) -> None:
        from tui.follow.acts import follow_job

        await follow_job(self, self.job)

    async def _parts(self) -> None:
        """Loaded when it is wanted."""
        from tui.ready.page import parts_list

        await parts_list(self, self.job)
        await self.renew()

    async def _at_desk(self) -> None:
        """Loaded when it is wanted: most cards are of jobs that the desk is done with."""
        from tui.desk.acts import at_desk_by_digit

        await at_desk_by_digit(self, self.job)

    async def _undo(self) -> None:
        await self._card()
        await self.act(deeds.undo)
