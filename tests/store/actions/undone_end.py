"""What is taken back in the months after a job."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from store.actions import follow_ups
from store.rules.follow_ups import ToDo
from tests.store.actions.made import World
from tests.store.made_end import handed_over

Act = Callable[[World, str], object]
NOVEMBER = date(2026, 11, 1)


def _handed(w: World) -> str:
    w.to(8)
    return handed_over(w)


END: dict[str, tuple[Callable[[World], str], str, Act]] = {
    "follow-ups-set": (
        _handed, "T1",
        lambda w, j: follow_ups.set_follow_ups(
            w.shop, w.by("T1"), job=j,
            lines=[ToDo("ring", "foreman", NOVEMBER), ToDo("oil", "shop", None, 900)],
        ),
    ),
    "follow-up-moved": (
        _handed, "T1",
        lambda w, j: follow_ups.move_follow_up(w.shop, w.by("T1"), job=j, line=2, day=NOVEMBER),
    ),
    "follow-up-moved, for the first time": (
        _handed, "T1",
        lambda w, j: follow_ups.move_follow_up(w.shop, w.by("T1"), job=j, line=5, distance=2e5),
    ),
    "follow-up-done": (
        _handed, "T1",
        lambda w, j: follow_ups.follow_up_done(w.shop, w.by("T1"), job=j, line=2, outcome="well"),
    ),
}  # fmt: skip
"""How each is made, by whom, and what it does."""
