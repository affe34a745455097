"""A try to reach the customer: the means by one digit, reached or not, when again."""

from __future__ import annotations

from typing import Any

from store.views.values import JobCard
from tui.desk.deeds import note_call
from tui.job.outside_words import call_words
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import coming, maybe, some
from tui.words import zone_of

MEANS = ("telephone", "text message", "e-mail", "letter", "in person")
OTHER = str(len(MEANS) + 1)
HOW = (
    *(Option(str(nth), one, hot=nth == 1) for nth, one in enumerate(MEANS, 1)),
    Option(OTHER, "otherwise ..."),
)
CAME = (Option("1", "not reached", hot=True), Option("2", "reached"))
LATEST = 2
"""Attempts before this one that are shown."""


async def tried(screen: Painted[Any], card: JobCard) -> None:
    """Have an attempt written down.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    job, talk = card.job.number, screen.talk
    title = f"{job}: tried to reach the customer"
    facts = tuple(call_words(one, card) for one in card.calls[-LATEST:])
    key = await talk.pick(title, HOW, facts=facts)
    means = MEANS[int(key) - 1] if key != OTHER else await talk.type(title, "how", some)
    title = f"{title}, {means}"
    reached = await talk.pick(title, CAME) == "2"
    text = await talk.type(title, "what was said, or left (Enter: nothing)", maybe)
    now, zone = screen.session.now(), zone_of(screen.zone)
    again = await talk.type(
        title, "again when (Enter: not set)",
        lambda typed: coming(typed, now, zone) if typed else None,
        facts=("Like 14:00, fri 10:00, or +2 for two hours from now.",),
    )  # fmt: skip
    await screen.act(note_call(job, means, reached, text, again))
