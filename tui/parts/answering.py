"""The customer's word on extra work: yes or no by one digit; by whom and how can be said later."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from store.trouble import Refused
from store.views.values import JobCard, SupplementLine
from tui import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import some
from tui.words import hours, money

if TYPE_CHECKING:
    from store.actions.acting import Done

USUAL = "telephone"
"""How the word comes, unless somebody says otherwise."""
MEANS = {"1": USUAL, "2": "in person", "3": "in writing"}
SOMEBODY = "4"
HOW = (
    Option("1", "by telephone", hot=True),
    Option("2", "in person"),
    Option("3", "in writing"),
    Option(SOMEBODY, "who gave it ..."),
)


async def answer(screen: Painted[Any], card: JobCard) -> Done | None:
    """Write the customer's word down by one digit, as told by telephone.

    Where nothing waits, who gave the last word and how it came is put right.

    Returns:
        What was written down; None where it was only put right.

    Raises:
        Back: left with Esc.
        Trouble: nothing waits for an answer and none was given, or it was refused.
    """
    job = card.job.number
    asked = [line for line in card.supplements if line.state == "asked"]
    if not asked:
        await _how(screen, card)
        return None
    approve, lines = await _word(screen, job, asked)
    numbers = [line.line for line in lines]
    return await screen.act(deeds.answer_supplement(job, approve, numbers, None, USUAL))


async def _word(
    screen: Painted[Any], job: str, asked: Sequence[SupplementLine]
) -> tuple[bool, Sequence[SupplementLine]]:
    """Yes or no to all of it; where more than one line waits, to one of them by two digits."""
    options = [Option("1", "approved"), Option("2", "refused")]
    if len(asked) > 1:
        options = [Option("1", "approved, all"), Option("2", "refused, all"),
                   Option("3", "one of them ...")]  # fmt: skip
    facts = tuple(_words(line) for line in asked)
    chosen = await screen.talk.pick(f"{job}: what did the customer say?", options, facts=facts)
    if chosen != "3":
        return chosen == "1", asked
    lines = [Option(str(nth), _words(line)) for nth, line in enumerate(asked[:9], 1)]
    line = asked[int(await screen.talk.pick(f"{job}: to which extra work?", lines)) - 1]
    return await _word(screen, job, [line])


async def _how(screen: Painted[Any], card: JobCard) -> None:
    """Who gave the newest word, and how it came."""
    job = card.job.number
    given = [line for line in card.supplements if line.answered_at is not None]
    if not given:
        raise Refused(f"{job} has no extra work that waits for an answer.")
    newest = max(line.answered_at for line in given if line.answered_at is not None)
    lines = [line for line in given if line.answered_at == newest]
    by, title = lines[0].answered_by, f"{job}: {lines[0].state}. How did the word come?"
    chosen = await screen.talk.pick(title, HOW, facts=tuple(_words(line) for line in lines))
    if chosen == SOMEBODY:
        by = await screen.talk.type(title, "who gave it", some)
        chosen = await screen.talk.pick(f"{job}: {lines[0].state} by {by}. How?", HOW[:3])
    await screen.act(deeds.note_answer(job, [line.line for line in lines], by, MEANS[chosen]))


def _words(line: SupplementLine) -> str:
    price = f", {money(line.money)}" if line.money is not None else ""
    return f"{line.line}  {line.text}: +{hours(line.hours)}{price}"
