"""The foreman's word that a phase may begin without the kit that it needs."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from typing import Any

from store.rules.roles import TABLE
from store.trouble import Refused
from store.views.tools.kits_stop import Stopped, stopped_phases
from tui.parts.in_keys import in_keys
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.talk import Back
from tui.parts.when import some
from tui.tools import deeds
from tui.tools.at_hand import AtHand
from tui.words import listed


async def let_at_hand(at: AtHand) -> None:
    """Let a phase begin without the kit at hand.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    code = at.kit.code if at.kit is not None else None
    await let_begin(at.screen, None, code)


async def let_on_job(screen: Painted[Any]) -> None:
    """Let a phase of the job at hand begin; of any job where none of that one waits.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    job, session = screen.job_at_hand(), screen.session
    found = await asyncio.to_thread(lambda: stopped_phases(session.shop, session.now(), job))
    await let_begin(screen, job if found else None)


async def let_begin(screen: Painted[Any], job: str | None, kit: str | None = None) -> None:
    """Have a phase chosen that waits for a kit, and let it begin; a reason is written down.

    Args:
        job: whose phases; None takes those of every job.
        kit: of those that wait for this one, where there are such.

    Raises:
        Back: Esc.
        Trouble: refused.
    """
    await somebody(screen)
    session = screen.session
    found = await asyncio.to_thread(lambda: stopped_phases(session.shop, session.now(), job))
    mine = [one for one in found if kit is None or kit in one.kits]
    one = await _which(screen, mine or found, job)
    why = await screen.talk.type(
        f"{one.job}.{one.phase} {one.name} begins without {listed(one.names)}", "why", some,
        facts=(f"It needs {one.says}.", "The maker's data and the caution of the phase stand."),
    )  # fmt: skip
    await screen.act(deeds.let_begin(one.job, one.phase, why))


async def _which(screen: Painted[Any], found: Sequence[Stopped], job: str | None) -> Stopped:
    if not found:
        whose = f"of {job}" if job else "of any job"
        raise Refused(f"No phase {whose} waits for a kit.")
    if len(found) == 1:
        return found[0]
    options = [
        Option(key, f"{one.job}.{one.phase} {one.name}: {one.says}")
        for key, one in zip(OPTION_KEYS, found, strict=False)
    ]
    chosen = await screen.talk.pick("which phase may begin without its kit?", options)
    return found[OPTION_KEYS.index(chosen)]


async def foremans_word(screen: Painted[Any], job: str, phase: str, refused: Refused) -> None:
    """A phase was refused for its kit: a foreman who stands by may let it begin all the same.

    Raises:
        Refused: nobody gave their word.
    """
    role = screen.session.who.role if screen.session.who is not None else None
    own = role is not None and role in TABLE["let begin without kit"].roles
    words = "begin all the same, and why ..." if own else "a foreman here lets it begin ..."
    title = f"{job}.{phase} waits for a kit"
    try:
        await screen.talk.pick(title, [Option("1", words)], facts=(in_keys(str(refused)),))
        badge, name = (None, "") if own else await screen.guests(
            f"{job}.{phase} begins without its kit", ("The foreman's badge.",)
        )  # fmt: skip
        why = await screen.talk.type(f"{job}.{phase} begins without its kit", "why", some)
        await screen.act(deeds.let_begin(job, phase, why), badge=badge, name=name)
    except Back:
        raise refused from None
