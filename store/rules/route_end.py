"""What is still done of a route when the planned work ends early."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from store.rules.book import Phase
from store.rules.routes import RoutePhase


def still_needed(
    route: Sequence[RoutePhase], begun: Collection[str], open_conditions: Collection[str]
) -> tuple[str, ...]:
    """Codes of the phases not begun that stay, so that the vehicle can be given back.

    What was opened is closed again, an open condition is closed by whatever the route has for it
    (oil in, wheels tightened), and what the book marks `always` stays.

    Args:
        begun: codes of the phases under way or finished.
        open_conditions: codes of the conditions open now.
    """
    to_come = [each for each in route if each.phase.code not in begun]
    opened = _opened([each.phase for each in route if each.phase.code in begun])
    stays = {each.phase.code for each in to_come if _shuts(each.phase, opened)}
    still_open = set(open_conditions)
    for each in to_come:
        closes = {*each.phase.closes, *(code for step in each.steps for code in step.closes)}
        if closes & still_open:
            stays.add(each.phase.code)
        if each.phase.code in stays:
            still_open |= {*each.phase.opens, *(c for step in each.steps for c in step.opens)}
            still_open -= closes
    return tuple(each.phase.code for each in to_come if each.phase.code in stays)


def _opened(begun: Sequence[Phase]) -> set[str]:
    """Codes of the off sides that were begun, or were part of one that was."""
    return {code for phase in begun for code in (phase.code, *phase.contains)}


def _shuts(phase: Phase, opened: Collection[str]) -> bool:
    return phase.always or (phase.side == "on" and f"{phase.access}-off" in opened)
