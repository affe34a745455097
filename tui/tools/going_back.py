"""Hires that go back, stay longer, are given to another job, or are called off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from store.views.parts_values import HireOut
from store.views.tools.values import KitNow
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import maybe, some
from tui.tools import deeds
from tui.tools.at_hand import AtHand, coming, here_now, one_of
from tui.tools.days import step_words
from tui.tools.deeds import Counted
from tui.tools.typed import LIKE, back_by, cut_off_of, or_as_it_is, whole
from tui.tools.words import need_words, when
from tui.words import counted, listed, zone_of

ANY = "a"
OTHER_DAY = ("extend", "shorten", "use next")
"""Advice that is followed by agreeing another day."""


async def send_back(at: AtHand) -> None:
    """Send the kit at hand back.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    kit = at.the_kit
    none = f"{kit.name} is not here, so it cannot go back."
    if kit.owned and not kit.hires:
        none = f"{kit.name} is the shop's own: it goes back to nobody."
    await hand_over(at.screen, kit, await one_of(at.screen, kit, here_now(kit), "which?", none))


async def hand_over(screen: Painted[Any], kit: KitNow, hire: HireOut) -> None:
    """Count a kit's pieces, look it over, and hand it to the carrier.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    title, many = f"{kit.name} goes back to {hire.supplier}", len(kit.contains)
    pieces = await screen.talk.type(title, "pieces counted", whole, facts=_facts(screen, kit, hire))
    seen = Counted(pieces)
    if many and pieces < many:
        lacks = await screen.talk.type(
            title, "what lacks", some, facts=(f"{pieces} of {many} were counted.",)
        )
        seen = replace(seen, lacks=lacks)
    what = Filling(("goes back", hire.hire), title, "the carrier has it")

    def entries(found: Counted) -> list[Entry]:
        return _entries(found, many)

    async def change(key: str, found: Counted) -> Counted:
        return await _change(screen, title, key, found)

    forget(screen, what)  # it is counted anew each time
    found = await fill_in(screen, what, seen, entries, change)
    await screen.act(deeds.send_back(hire.hire, found))
    forget(screen, what)


def _facts(screen: Painted[Any], kit: KitNow, hire: HireOut) -> Sequence[str]:
    facts = [f"{counted(len(kit.contains), 'piece')}: {listed(kit.contains)}."]
    if not kit.contains:
        facts = ["The work book does not say what belongs to it: see the supplier's list."]
    cut = cut_off_of(hire)
    if cut is not None:
        facts.append(f"What the carrier has by {cut:%H:%M} counts for that day.")
    return facts


def _entries(found: Counted, many: int) -> list[Entry]:
    of = f" of {many}" if many else ""
    return [
        Entry("1", "counted", f"{found.pieces}{of}"),
        Entry("2", "lacks", found.lacks or "nothing"),
        Entry("3", "clean", "NO: the supplier cleans it" if found.dirty else "yes"),
        Entry("4", "damage", found.damage or "none"),
    ]


async def _change(screen: Painted[Any], title: str, key: str, found: Counted) -> Counted:
    match key:
        case "1":
            return replace(found, pieces=await screen.talk.type(title, "pieces counted", whole))
        case "2":
            lacks = await screen.talk.type(title, "what lacks (Enter: nothing)", maybe)
            return replace(found, lacks=lacks)
        case "3":
            return replace(found, dirty=not found.dirty)
        case _:
            damage = await screen.talk.type(title, "damage (Enter: none)", maybe)
            return replace(found, damage=damage)


async def extend(at: AtHand) -> None:
    """Keep the kit at hand longer, or shorter.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    kit = at.the_kit
    hires = [*here_now(kit), *coming(kit)]
    none = f"{kit.name} is not hired."
    await keep_until(at.screen, kit, await one_of(at.screen, kit, hires, "which?", none))


async def keep_until(screen: Painted[Any], kit: KitNow, hire: HireOut) -> None:
    """Say until when a hire is kept; the day that the forecast proposes stands there.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    zone, now = zone_of(screen.zone), screen.session.now()
    best = _proposed(kit, hire)
    facts = [LIKE]
    if hire.due is not None:
        facts.append(f"It was to go back {when(hire.due, zone, now)}.")
    if best is not None and kit.advice is not None and step_words(kit.advice, zone, now):
        facts.append(step_words(kit.advice, zone, now))
    title = f"{kit.name} is kept until"

    def read(text: str) -> datetime:
        return back_by(screen, text, cut_off_of(hire))

    if best is None:
        due = await screen.talk.type(title, "goes back", read, facts=facts)
    else:
        says = when(best, zone, now)
        due = await or_as_it_is(screen, (title, "goes back"), read, best, says, facts)
    await screen.act(deeds.extend(hire.hire, due))


def _proposed(kit: KitNow, hire: HireOut) -> datetime | None:
    advice = kit.advice
    if advice is None or advice.hire not in (None, hire.hire):
        return None
    days = [advice.best, *advice.ways]
    return next((one.until for one in days if one.do in OTHER_DAY and one.until), None)


async def give(at: AtHand) -> None:
    """Let another job use the kit at hand, or any.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    kit, screen = at.the_kit, at.screen
    await somebody(screen)
    none = f"{kit.name} is not hired: any job may use what is the shop's own."
    hire = await one_of(screen, kit, [*here_now(kit), *coming(kit)], "which?", none)
    zone, now = zone_of(screen.zone), screen.session.now()
    needs = {one.job: one for one in kit.needed_by if one.job != hire.job}
    jobs = [*needs][:9]
    options = [
        Option(key, need_words(needs[job], zone, now))
        for key, job in zip(OPTION_KEYS, jobs, strict=False)
    ]
    if hire.job is not None:
        options.append(Option(ANY, "any job that needs it"))
    options.append(Option("o", "another job ..."))
    chosen = await screen.talk.pick(f"{kit.name} is for which job now?", options)
    to = None if chosen == ANY else await _job(screen, kit, chosen, jobs)
    await screen.act(deeds.give(hire.hire, to))


async def _job(screen: Painted[Any], kit: KitNow, chosen: str, jobs: Sequence[str]) -> str:
    if chosen == "o":
        return await screen.talk.type(f"{kit.name} is for which job now?", "number", some)
    return jobs[OPTION_KEYS.index(chosen)]


async def cancel(at: AtHand) -> None:
    """What was asked for is not wanted any more.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    kit, screen = at.the_kit, at.screen
    await somebody(screen)
    none = f"{kit.name} is here: send it back instead." if here_now(kit) else (
        f"Nobody asked for {kit.name}."
    )  # fmt: skip
    hire = await one_of(screen, kit, coming(kit), "which is not wanted?", none)
    await screen.act(deeds.cancel(hire.hire))
