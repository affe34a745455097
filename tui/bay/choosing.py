"""What labour can be on, as answers by digit: phases in columns, and reasons of no job."""

from __future__ import annotations

from rich.cells import set_cell_size

from store.views.values import Choice
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
