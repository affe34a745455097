"""What is best done about one kit: about each of its hires, and about jobs that have none yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from store.views.parts_values import HireOut
from store.views.tools.ask import asks
from store.views.tools.clash import clashes
from store.views.tools.draws import Drawn
from store.views.tools.hires import on_hire
from store.views.tools.money import Reckoning
from store.views.tools.read import KitRow
from store.views.tools.running import Running
from store.views.tools.values import Advice, Clash


@dataclass(frozen=True, slots=True)
class Advised:
    """What was worked out about one kit."""

    advice: tuple[Advice, ...] = ()
    clashes: tuple[Clash, ...] = ()


def advised(
    reckoning: Reckoning, kit: KitRow, hires: Sequence[HireOut], needs: Sequence[Drawn]
) -> Advised:
    """Return advice on a kit and its clashes.

    Args:
        hires: its open hires.
        needs: all stretches that want it, the first to need it first.
    """
    bare = [] if kit.owned else without_kit(hires, needs)
    found = [on_hire(_running(reckoning, one, hires, needs, bare)) for one in hires]
    shared = {one.best.to for one in found if one is not None}
    left = [one for one in bare if one.told.job not in shared]
    asked = list(asks(reckoning, kit.code, left)) if left else []
    return Advised(
        (*(one for one in found if one is not None), *asked),
        tuple(clashes(reckoning, kit, hires, needs)),
    )


def without_kit(hires: Sequence[HireOut], needs: Sequence[Drawn]) -> list[Drawn]:
    """Return stretches for which no kit is here or coming, and in which none is in use."""
    if any(one.job is None for one in hires):
        return []
    own = {one.job for one in hires}
    begun = {one.told.job for one in needs if one.need.begun}
    return [one for one in needs if one.told.job not in own | begun]


def served(hire: HireOut, hires: Sequence[HireOut], needs: Sequence[Drawn]) -> list[Drawn]:
    """Return the stretches that a hire is for: its job's, or those of jobs without one."""
    if hire.job is not None:
        return [one for one in needs if one.told.job == hire.job]
    own = {one.job for one in hires if one.job is not None}
    return [one for one in needs if one.told.job not in own]


def _running(
    reckoning: Reckoning, hire: HireOut, hires: Sequence[HireOut], needs: Sequence[Drawn],
    bare: Sequence[Drawn],
) -> Running:  # fmt: skip
    known = reckoning.known
    came = hire.received_at or max(hire.expected or known.now, known.now)
    due = None if hire.due is None else known.calendar.day_of(hire.due)
    other = next((one for one in bare if one.told.job != hire.job), None)
    return Running(
        reckoning, hire, reckoning.terms(hire), served(hire, hires, needs),
        other if hire.here else None, came, due,
    )  # fmt: skip
