"""What the qualifying check came to, and the ways in which a job ends before it begins."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.desk.at_desk import AtDesk
from store.views.job import job_card
from store.views.values import JobCard
from tui.desk import deeds
from tui.desk.words import title
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.when import some

RESULTS: dict[str, deeds.Result] = {"1": "pass", "2": "pass with conditions", "3": "fail"}
ASKED = {"2": "on which conditions", "3": "why it fails"}
MEANS = {"1": "telephone", "2": "in person", "3": "in writing"}
HOW = (
    Option("1", "by telephone", hot=True), Option("2", "in person"), Option("3", "in writing"),
)  # fmt: skip
ENDS = (
    Option("1", "the price"), Option("2", "takes too long"), Option("3", "goes elsewhere"),
    Option("4", "gives the vehicle up"), Option("5", "another reason ..."),
    Option("6", "we: it failed the check"), Option("7", "we: no work for us"),
    Option("8", "we: another reason ..."),
)  # fmt: skip
SAID = {
    "1": "the price", "2": "takes too long", "3": "goes elsewhere", "4": "gives the vehicle up",
    "6": "failed the qualifying check", "7": "no work for us",
}  # fmt: skip
OURS = "678"
FOR_GOOD = "This cannot be undone."
FACTS = 4
"""Readings that are told before it is judged."""


async def judge(screen: Painted[Any], here: AtDesk) -> None:
    """Have the qualifying check judged by one digit; conditions and a failure in words.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    session, number = screen.session, here.job
    card = await asyncio.to_thread(lambda: job_card(session.shop, number, session.now()))
    options = [Option(key, words, hot=key == "1") for key, words in RESULTS.items()]
    asks = title(here, "what did the check come to?")
    key = await screen.talk.pick(asks, options, facts=check_facts(card))
    text = None
    if key in ASKED:
        text = await screen.talk.type(f"{here.job}: {RESULTS[key]}", ASKED[key], some)
    await screen.act(deeds.judge(here.job, RESULTS[key], text))


def check_facts(card: JobCard) -> tuple[str, ...]:
    """What the check found so far: what was reported, its readings and its answers."""
    found = [f"{one.kind}: {one.text}" for one in card.findings]
    for step in (step for phase in card.phases for step in phase.steps):
        last = next((one for one in reversed(step.signed) if not one.void), None)
        if last is None:
            continue
        if last.readings:
            values = ", ".join(f"{name} {value:g}".strip() for name, value in last.readings)
            out = "" if last.in_limits else ", outside its limits"
            found.append(f"{step.text}: {values}{out}")
        elif last.answer:
            found.append(f"{step.text}: {dict(step.answers).get(last.answer, last.answer)}")
    return tuple(dict.fromkeys(found))[:FACTS]


async def decline(screen: Painted[Any], here: AtDesk) -> None:
    """Have it written down that a job comes to nothing, and why.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    await somebody(screen)
    key = await screen.talk.pick(title(here, "it comes to nothing. Why?"), ENDS)
    why = SAID.get(key, "")
    if not why:
        why = await screen.talk.type(title(here, "it comes to nothing"), "because", some)
    if key in OURS:
        await screen.talk.sure(
            title(here, f"turned away: {why}"), "turn it away", "keep it", facts=(FOR_GOOD,)
        )
        await screen.act(deeds.turn_away(here.job, why))
        return
    asks = f"{here.job} declined: {why}. How did the word come?"
    chosen = await screen.talk.pick(asks, HOW, facts=(FOR_GOOD,))
    await screen.act(deeds.decline(here.job, why, "the customer", MEANS[chosen]))
