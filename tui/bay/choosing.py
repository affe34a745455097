"""What labour can be on, as answers by digit: phases in columns, and reasons of no job."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import set_cell_size

from store.views.values import Bay, Choice
from tui.parts.prompt import Option
from tui.words import cut, tenth

INDIRECT = (
    Option("1", "tidying"),
    Option("2", "parts, data"),
    Option("3", "helping"),
    Option("4", "customers"),
    Option("5", "other"),
)
INDIRECT_REASONS = {"1": "tidying", "2": "parts", "3": "helping", "4": "customers", "5": "other"}
CHOICE_MARGIN = 8
"""Cells beside the words of an answer."""


def choice_words(choice: Choice, width: int, more: str) -> str:
    """A phase to go over to, in columns: number, name, vehicle, lift, hours.

    Args:
        more: the sign where words are cut.
    """
    figures = f"{tenth(choice.labour_h)}/{tenth(choice.estimate_h)} h"
    where = choice.place or ""
    room = max(20, width - 8 - 9 - len(figures))
    name = set_cell_size(cut(choice.name, room * 3 // 5 - 1, more), room * 3 // 5)
    vehicle = set_cell_size(
        cut(choice.vehicle, room - room * 3 // 5 - 1, more), room - room * 3 // 5
    )
    number = f"{choice.job}.{choice.phase}"
    return f"{number:<8}{name}{vehicle}{set_cell_size(where, 9)}{figures}"


def over_title(choices: Sequence[Choice]) -> str:
    """What is asked; how many of the answers are on the person's own list, which stand first."""
    yours = sum(one.yours for one in choices)
    if not yours:
        return "over to"
    return "over to (1 is yours)" if yours == 1 else f"over to (1 to {yours} are yours, in order)"


def next_own(bay: Bay) -> Choice | None:
    """What comes next on the person's own list, beside what is on the screen."""
    here = (bay.card.job.number, bay.phase) if bay.card else (None, None)
    return next((one for one in bay.choices if one.yours and (one.job, one.phase) != here), None)
