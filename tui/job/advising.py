"""The customer's word on what was advised: declined with the risk told or not, later, agreed."""

from __future__ import annotations

from typing import Any

from store.trouble import Refused
from store.views.outside_values import AdviceLine
from store.views.values import JobCard
from tui.job.calling import HOW, MEANS, OTHER
from tui.job.deeds import AdviceWord, OnAdvice, answer_advice
from tui.job.outside_words import advice_words
from tui.parts.painted import Painted
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import maybe, number, some

WORDS: dict[str, AdviceWord] = {"1": "declined", "2": "later", "3": "agreed"}
SAID = (
    Option("1", "declined"), Option("2", "later"), Option("3", "agreed: it becomes extra work"),
)  # fmt: skip
RISK = (Option("1", "yes, the risk was told"), Option("2", "no, it was not"))


async def advise(screen: Painted[Any], card: JobCard) -> None:
    """Have the customer's word on a piece of advice written down.

    Raises:
        Back: left with Esc.
        Trouble: refused, or nothing waits for a word.
    """
    line = await _line(screen, card)
    title = f"{card.job.number}: {line.text}"
    facts = advice_words(line, card.calendar.zone, card.at)
    answer = WORDS[await screen.talk.pick(f"{title}. What was said?", SAID, facts=facts)]
    word = OnAdvice(answer)
    if answer == "agreed":
        word = await _agreed(screen, card, line, title)
    else:
        told = await screen.talk.pick(f"{title}: {answer}. Was the risk told?", RISK)
        word = OnAdvice(answer, told == "1")
    by = await screen.talk.type(title, "who said so (Enter: the customer)", maybe)
    key = await screen.talk.pick(f"{title}: {answer}. How did the word come?", HOW)
    means = MEANS[int(key) - 1] if key != OTHER else await screen.talk.type(title, "how", some)
    said = OnAdvice(word.answer, word.risk_told, by, means, word.hours, word.phase)
    await screen.act(answer_advice(card.job.number, line.finding, said))


async def _line(screen: Painted[Any], card: JobCard) -> AdviceLine:
    lines = [one for one in card.advice if one.answer != "agreed"]
    if not lines:
        said = "was advised" if not card.advice else "that was advised waits for a word"
        raise Refused(f"Nothing {said} on {card.job.number}.")
    if len(lines) == 1:
        return lines[0]
    zone, now = card.calendar.zone, card.at
    options = [
        Option(OPTION_KEYS[n], f"{advice_words(one, zone, now)[0]}   {one.answer or 'not asked'}")
        for n, one in enumerate(lines[: len(OPTION_KEYS)])
    ]
    return lines[OPTION_KEYS.index(await screen.talk.pick("Which advice?", options))]


async def _agreed(screen: Painted[Any], card: JobCard, line: AdviceLine, title: str) -> OnAdvice:
    """Hours where nobody said them, and a phase that still goes on."""
    hours = None
    if line.hours is None:
        hours = await screen.talk.type(
            title, "hours that it takes", lambda text: number(text, above=0.0)
        )
    going = [one for one in card.phases if one.kind == "labour" and one.state in
             ("to come", "under way", "held")]  # fmt: skip
    if any(one.number == line.phase for one in going) or not going:
        return OnAdvice("agreed", hours=hours)
    options = [
        Option(OPTION_KEYS[n], f"{one.number} {one.name}   {one.state}")
        for n, one in enumerate(going[: len(OPTION_KEYS)])
    ]
    chosen = await screen.talk.pick(f"{title}: done in which phase?", options)
    return OnAdvice("agreed", hours=hours, phase=going[OPTION_KEYS.index(chosen)].number)
