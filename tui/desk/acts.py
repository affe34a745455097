"""What is done to one job at the desk: by keys on the desk, by digits on its card."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from typing import Any

from store.trouble import Refused
from store.views.desk.at_desk import AtDesk, at_desk
from tui.desk.agreeing import agree
from tui.desk.arriving import arrive
from tui.desk.booking import book
from tui.desk.coming_back import comes_back
from tui.desk.customers import owner, tried
from tui.desk.identity import identify
from tui.desk.judging import decline, judge
from tui.desk.words import title
from tui.keys import filled
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.where import Elsewhere, Where

Act = Callable[[Painted[Any], AtDesk], Awaitable[None]]
BEFORE = ("enquiry", "booked", "arrived", "quoted")
"""States in which nothing was agreed."""


async def to_intake(screen: Painted[Any], here: AtDesk) -> None:
    """Its work and its estimate are chosen on the intake.

    Raises:
        Elsewhere: there.
        Refused: it is agreed already.
    """
    _refuse_agreed(here)
    raise Elsewhere(Where("intake", here.job))


async def quote(screen: Painted[Any], here: AtDesk) -> None:
    """A quote is given from the estimate, so on the intake.

    Raises:
        Elsewhere: there.
        Refused: it is agreed already.
    """
    _refuse_agreed(here)
    screen.session.said = filled("{intake.quote} gives the quote, when its work is right.")
    raise Elsewhere(Where("intake", here.job))


def _refuse_agreed(here: AtDesk) -> None:
    if here.state not in BEFORE:
        raise Refused(f"{here.job} is {here.state.replace('-', ' ')}: its card has what it takes.")


async def call_in(screen: Painted[Any], here: AtDesk) -> None:
    """Onto a free lift.

    Raises:
        Back: left with Esc.
        Refused: no lift is free for it, or it lacks something.
    """
    from tui.desk.calling_in import call_in as bring

    await bring(screen, here)


async def sheet(screen: Painted[Any], here: AtDesk) -> None:
    """The estimate sheet, read on the screen.

    Raises:
        Trouble: it cannot be read.
    """
    from tui.job.papers import show_paper

    await show_paper(screen, here.job)


async def visits(screen: Painted[Any], here: AtDesk) -> None:
    """Every visit of its vehicle."""
    from tui.desk.visits import show_visits

    await show_visits(screen, here)


ACTS: dict[str, Act] = {
    "book": book, "arrived": arrive, "judge": judge, "quote": quote, "agree": agree,
    "decline": decline, "call": call_in, "work": to_intake, "identify": identify,
    "customer": owner, "vehicle": visits, "sheet": sheet, "comeback": comes_back, "tried": tried,
}  # fmt: skip
"""By the id of their key."""
WORDS: dict[str, str] = {
    "book": "book the day on which it comes", "arrived": "it is here",
    "judge": "what the check came to", "work": "its work and what that would take",
    "quote": "give a quote", "agree": "the customer agreed", "decline": "it comes to nothing",
    "call": "call it in", "tried": "a try to reach the customer", "customer": "the owner",
    "identify": "number plate, VIN, codes", "vehicle": "its visits before",
    "comeback": "it comes back from a job before",
}  # fmt: skip
FITTING: dict[str, tuple[str, ...]] = {
    "enquiry": ("book", "arrived", "work", "quote", "agree", "decline", "tried", "customer"),
    "booked": ("arrived", "book", "work", "quote", "agree", "decline", "tried", "customer"),
    "arrived": ("judge", "work", "quote", "agree", "decline", "identify", "tried", "customer"),
    "quoted": ("agree", "decline", "arrived", "work", "quote", "judge", "tried", "customer"),
    "waiting": ("call", "arrived", "decline", "identify", "tried", "customer"),
}
"""What fits a job by its state, the likeliest first."""
ALWAYS = ("identify", "tried", "customer")
COMING, IN_THE_HOUSE = ("arrived", "book"), ("judge", "call")
"""What is done before the vehicle is here, and only when it is."""
KEYS = "123456789abcde"


async def at_desk_by_digit(screen: Painted[Any], job: str) -> None:
    """From a job's card: what is done at the desk, by one digit.

    Raises:
        Back: left with Esc.
        Elsewhere: it is done on another screen.
        Trouble: refused.
    """
    await somebody(screen)
    session = screen.session
    sees = session.sees_customers
    here = await asyncio.to_thread(
        lambda: at_desk(session.shop, job, session.now(), customers=sees)
    )
    fitting = [*FITTING.get(here.state, ALWAYS), "vehicle", "comeback"]
    fitting = [one for one in fitting if one not in (COMING if here.here else IN_THE_HOUSE)]
    options = [Option(key, WORDS[name]) for key, name in zip(KEYS, fitting, strict=False)]
    chosen = await screen.talk.pick(title(here, "at the desk"), options)
    await ACTS[fitting[KEYS.index(chosen)]](screen, here)
