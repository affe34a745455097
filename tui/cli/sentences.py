"""Sentences for people: broken into lines of 80 columns, no number parted from its unit."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from tui import words

WIDTH = 80
TOGETHER = "\N{CURRENCY SIGN}"
"""Stands for the blank between a number and its unit while lines are broken."""
UNIT = re.compile(r"(?<=\d) (?=(?:%|h)(?!\w))")


def wrapped(text: str, width: int = WIDTH) -> list[str]:
    """The text in lines of at most `width` cells."""
    broken = words.wrapped(UNIT.sub(TOGETHER, text), width)
    return [one.replace(TOGETHER, " ") for one in broken]


def items(sentences: Iterable[str]) -> Iterator[str]:
    """Sentences below one another, further lines of each set in."""
    for one in sentences:
        first, *rest = wrapped(one, WIDTH - 4)
        yield f"  {first}"
        yield from (f"    {each}" for each in rest)
