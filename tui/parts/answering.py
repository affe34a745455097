"""The customer's word on extra work: yes or no by one digit, by whom, and how it came."""

from __future__ import annotations

from typing import Any

from store.trouble import Refused
from store.views.values import JobCard, SupplementLine
from tui import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import maybe
from tui.words import hours, money

MEANS = (
    Option("1", "telephone", hot=True),
    Option("2", "in person"),
    Option("3", "in writing"),
    Option("4", "not known"),
)
MEANS_WORDS = {"1": "telephone", "2": "in person", "3": "in writing", "4": None}


async def answer(screen: Painted[Any], card: JobCard) -> None:
    """Write the customer's word down.

    Raises:
        Back: left with Esc.
        Trouble: nothing waits for an answer, or it was refused.
    """
    job = card.job.number
    asked = [line for line in card.supplements if line.state == "asked"]
    if not asked:
        raise Refused(f"{job} has no extra work that waits for an answer.")
    lines = await _which(screen, job, asked)
    facts = tuple(_words(line) for line in lines)
    chosen = await screen.talk.pick(
        f"{job}: what did the customer say?",
        [Option("1", "approved"), Option("2", "refused")], facts=facts,
    )  # fmt: skip
    by = await screen.talk.type(
        f"{job}: who gave the word?", "by (Enter: not said)", maybe, facts=facts
    )
    means = await screen.talk.pick(f"{job}: how did it come?", MEANS, facts=facts)
    numbers = [line.line for line in lines] if len(lines) < len(asked) else []
    await screen.act(deeds.answer_supplement(job, chosen == "1", numbers, by, MEANS_WORDS[means]))


def _words(line: SupplementLine) -> str:
    price = f", {money(line.money)}" if line.money is not None else ""
    return f"{line.line}  {line.text}: +{hours(line.hours)}{price}"


async def _which(
    screen: Painted[Any], job: str, asked: list[SupplementLine]
) -> list[SupplementLine]:
    if len(asked) == 1:
        return asked
    options = [Option(str(n), _words(line)) for n, line in enumerate(asked[:8], 1)]
    options.append(Option("9", "all of it", hot=True))
    chosen = await screen.talk.pick(f"{job}: on which extra work?", options)
    return asked if chosen == "9" else [asked[int(chosen) - 1]]
