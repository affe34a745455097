"""The qualifying check: what of a route is done before anything is agreed."""

from __future__ import annotations

from collections.abc import Sequence

from store.rules.routes import RoutePhase


def qualifying(route: Sequence[RoutePhase]) -> tuple[RoutePhase, ...]:
    """Return the route up to and including the qualifying checks of its operations.

    What stands before a check in the route comes with it: a vehicle is received before it is
    driven. () where no operation has a check.
    """
    checks = [place for place, one in enumerate(route) if one.phase.qualifies]
    return tuple(route[: checks[-1] + 1]) if checks else ()
