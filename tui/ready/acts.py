"""What becomes of parts, asked in few keys: a digit, and a word where one is needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from store.rules.part_states import MAY_BECOME, PartState, why_not
from store.trouble import Refused
from store.views.parts_values import PartOnCard
from store.views.values import JobCard
from tui.parts.holding import hold_for_parts, parts_expected
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.talk import Back
from tui.parts.when import maybe, some
from tui.ready import deeds
from tui.ready.days import LIKE, maybe_day
from tui.words import cut, day_time, listed, zone_of

WORDS: dict[PartState, str] = {
    "ordered": "ordered", "here": "it is here", "wrong": "wrong, or damaged",
    "returned": "goes back", "fitted": "fitted", "not needed": "not needed",
    "wanted": "wanted after all",
}  # fmt: skip
ORDER: tuple[PartState, ...] = (
    "ordered", "here", "wrong", "returned", "fitted", "not needed", "wanted",
)  # fmt: skip
LIVE = ("under way", "held")


async def add_part(screen: Painted[Any], card: JobCard, at: PartOnCard | None) -> None:
    """List a part by typing; it is for the phase of the line one stands on, or for the job.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    job = card.job.number
    text = await screen.talk.type(f"{job} needs", "part", some, facts=("What it is, how many.",))
    phase = await _which_phase(screen, card, at, text)
    await screen.act(deeds.list_part(job, text, phase))


async def _which_phase(
    screen: Painted[Any], card: JobCard, at: PartOnCard | None, text: str
) -> str | None:
    """For which phase it must be here; Enter is that of the line at hand, or the job."""
    live = [one for one in card.phases if one.state not in ("finished", "skipped")]
    hot = at.phase if at is not None else None
    options = [
        Option(key, f"{one.number} {one.name}", hot=one.number == hot)
        for key, one in zip(OPTION_KEYS, live, strict=False)
    ]
    whole = Option("z", "the whole job", hot=all(not one.hot for one in options))
    chosen = await screen.talk.pick(f"{cut(text, 40)}: for which phase?", [*options, whole])
    return None if chosen == "z" else live[OPTION_KEYS.index(chosen)].number


async def what_became(screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard]) -> None:
    """Ask what became of parts, of what can.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    possible: list[PartState] = [
        one for one in ORDER
        if all(one in MAY_BECOME[part.state] or _again(part, one) for part in parts)
    ]  # fmt: skip
    if not possible:
        raise Refused("These have nothing in common that could become of them. Take one alone.")
    options = [Option(key, WORDS[one]) for key, one in zip(OPTION_KEYS, possible, strict=False)]
    chosen = await screen.talk.pick(_title(card, parts), options)
    await move(screen, card, parts, possible[OPTION_KEYS.index(chosen)])


def _again(part: PartOnCard, state: PartState) -> bool:
    """What is ordered may be ordered for another day."""
    return part.state == state == "ordered"


def _title(card: JobCard, parts: Sequence[PartOnCard]) -> str:
    return f"{card.job.number}: {listed([one.text for one in parts])}"


async def move(
    screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard], state: PartState
) -> None:
    """Say what became of parts, with what belongs to it; wrong ones may hold their phase.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    job, lines = card.job.number, [one.line for one in parts]
    for one in parts:
        reason = why_not(one.state, state)
        if reason:
            raise Refused(f"Line {one.line}, {one.text}, {reason}")
    title = _title(card, parts)
    if state == "ordered":
        await _order(screen, card, parts, title)
    elif state == "wrong":
        note = await screen.talk.type(f"{title}: wrong", "what is wrong (Enter: not said)", maybe)
        await screen.act(deeds.move_parts(job, lines, state, note=note))
        await _offer_hold(screen, card, parts)
    elif state == "fitted":
        label = "batch or serial (Enter: none)"
        batch = await screen.talk.type(f"{title}: fitted", label, maybe)
        await screen.act(deeds.move_parts(job, lines, state, batch=batch))
    else:
        await screen.act(deeds.move_parts(job, lines, state))


async def _order(
    screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard], title: str
) -> None:
    session, zone = screen.session, screen.zone
    expected = await screen.talk.type(
        f"{title}: ordered", "expected (Enter: not known)",
        lambda text: maybe_day(session.shop, text, session.now(), zone), facts=(LIKE,),
    )  # fmt: skip
    known = next((one.supplier for one in parts if one.supplier), "") or ""
    supplier = await screen.talk.type(
        f"{title}: ordered", "supplier (Enter: not said)", maybe, text=known
    )
    await screen.act(
        deeds.move_parts(card.job.number, [one.line for one in parts], "ordered",
                         expected=expected, supplier=supplier)
    )  # fmt: skip


async def _offer_hold(screen: Painted[Any], card: JobCard, parts: Sequence[PartOnCard]) -> None:
    """The phase under way that cannot go on without them may be held, until they are expected."""
    wanted = {one.phase for one in parts}
    phase = next((one for one in card.phases if one.state == "under way" and one.number in wanted),
                 None)  # fmt: skip
    if phase is not None:
        rest = [one for one in card.parts if one.line not in {part.line for part in parts}]
        until = parts_expected(replace(card, parts=tuple(rest)), phase.number, screen.session.now())
        await offer_hold(screen, card, phase.number, until)


async def offer_hold(
    screen: Painted[Any], card: JobCard, phase: str, until: datetime | None
) -> None:
    """Ask once whether a phase is held for parts; Enter holds it."""
    where = f"{card.job.number}.{phase}"
    when = f", until {day_time(until, zone_of(screen.zone), screen.session.now())}" if until else ""
    try:
        await screen.talk.sure(f"{where} is under way. Hold it for parts{when}?", "hold it",
                               "it goes on")  # fmt: skip
    except Back:
        return
    await hold_for_parts(screen, card.job.number, phase, until)
