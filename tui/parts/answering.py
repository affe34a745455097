"""The customer's word on extra work: yes or no by one digit; by whom and how can be said later."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from store.sums.job_money import over
from store.trouble import Refused
from store.views.outside_values import JobMoney
from store.views.values import JobCard, SupplementLine
from tui import deeds
from tui.desk.reading import amount
from tui.job.outside_words import extra_amount, meanwhile_words
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.parts.when import maybe, some
from tui.words import money

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
YES, NO, ONE, AHEAD = "1", "2", "3", "4"


async def answer(screen: Painted[Any], card: JobCard, *, ask_how: bool = False) -> Done | None:
    """Write the customer's word down by one digit, as told by telephone.

    Where nothing waits, who gave the last word and how it came is put right. What passes the
    ceiling asks for the new one, and whose word it is, first.

    Args:
        ask_how: who gave the word and how it came is asked when it is written down; Esc leaves it.

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
    said, lines = await _word(screen, card, asked)
    numbers = [line.line for line in lines]
    if said == AHEAD:
        from store.file.job_money import AHEAD as BEFOREHAND

        return await screen.act(deeds.answer_supplement(job, True, numbers, None, BEFOREHAND))
    if said == YES and _beyond(card.money, lines) > 0:
        return await _with_ceiling(screen, card, lines)
    done = await screen.act(deeds.answer_supplement(job, said == YES, numbers, None, USUAL))
    if ask_how:
        with suppress(Back):
            await _how(screen, screen.shown or card)
    return done


async def _word(
    screen: Painted[Any], card: JobCard, asked: Sequence[SupplementLine]
) -> tuple[str, Sequence[SupplementLine]]:
    """Yes or no to all of it; where more than one line waits, to one of them by two digits."""
    job, many = card.job.number, len(asked) > 1
    options = [Option(YES, "approved, all" if many else "approved"),
               Option(NO, "refused, all" if many else "refused")]  # fmt: skip
    options += [Option(ONE, "one of them ...")] if many else []
    left = _free(card.money, asked)
    options += [] if left is None else [Option(AHEAD, f"agreed ahead: {money(left)} is left")]
    facts = [_words(line) for line in asked]
    facts += filter(None, [meanwhile_words(card)])
    chosen = await screen.talk.pick(f"{job}: what did the customer say?", options, facts=facts)
    if chosen != ONE:
        return chosen, asked
    lines = [Option(str(nth), _words(line)) for nth, line in enumerate(asked[:9], 1)]
    line = asked[int(await screen.talk.pick(f"{job}: to which extra work?", lines)) - 1]
    return await _word(screen, card, [line])


def _sum(lines: Sequence[SupplementLine]) -> float:
    return sum(line.money or 0.0 for line in lines)


def _free(found: JobMoney | None, lines: Sequence[SupplementLine]) -> float | None:
    """What is left of a sum agreed ahead, where the lines lie within it."""
    if found is None or found.free_left is None or any(line.money is None for line in lines):
        return None
    return found.free_left if over(found.free_left, _sum(lines)) == 0 else None


def _beyond(found: JobMoney | None, lines: Sequence[SupplementLine]) -> float:
    """By how much the lines pass the ceiling; 0 where they keep it, or there is none."""
    if found is None or found.ceiling is None or found.expected is None:
        return 0.0
    return over(found.ceiling, found.expected[0], _sum(lines))


async def _with_ceiling(
    screen: Painted[Any], card: JobCard, lines: Sequence[SupplementLine]
) -> Done:
    """The new ceiling, whose word it is and how it came; all of it one entry."""
    found, job = card.money, card.job.number
    assert found is not None
    assert found.ceiling is not None
    assert found.expected is not None
    title = f"{job}: over the ceiling of {money(found.ceiling)}"
    facts = [_words(line) for line in lines]
    facts.append(f"With it {money(found.expected[0] + _sum(lines))} is expected at the end.")
    ceiling = await screen.talk.type(title, "the new ceiling that was agreed", amount, facts=facts)
    if ceiling is None:
        raise Refused(f"Without a higher ceiling it is not approved: {job} stays as it is.")
    by = await screen.talk.type(title, "who agreed (Enter: the customer)", maybe)
    means = MEANS[await screen.talk.pick(f"{title}. How did the word come?", HOW[:3])]
    numbers = [line.line for line in lines]
    return await screen.act(
        deeds.answer_supplement(job, True, numbers, by or "customer", means, ceiling)
    )


async def _how(screen: Painted[Any], card: JobCard) -> None:
    """Who gave the newest word, and how it came; as it was written down nothing is done."""
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
    if all((line.answered_by, line.means) == (by, MEANS[chosen]) for line in lines):
        return
    await screen.act(deeds.note_answer(job, [line.line for line in lines], by, MEANS[chosen]))


def _words(line: SupplementLine) -> str:
    return f"{line.line}  {line.text}: {extra_amount(line)}"
