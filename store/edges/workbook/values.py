"""Values of a work book before anybody looks at what they mean: texts that can be shown, numbers
that can be hours."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from store.edges.showable import bare, showable
from store.edges.toml_lines import Path
from store.edges.workbook.fault import UNKNOWN, Fault

LONGEST = 2000
"""Signs of the longest text; more was pasted by mistake."""
LARGEST = 10**12
"""Beyond it a whole number is a slip of the fingers."""
SHOWN = 40
DEEPEST = 12
"""Tables and lists in one another; the format needs 6."""


def put_right(raw: dict[str, object]) -> tuple[Fault, ...]:
    """Take every value that cannot be out of a book, so that the rest can be looked through.

    Returns:
        What was wrong; nothing in it is looked at twice.
    """
    return tuple(_table(raw, ()))


def _table(table: dict[str, object], path: Path) -> Iterator[Fault]:
    for key in list(table):
        if not showable(key) or len(key) > LONGEST:
            del table[key]
            yield Fault(path, f"`{bare(key)[:SHOWN]}` is no word of the work book: take it out.")
            continue
        for fault, stand_in in _value(table[key], (*path, key), key):
            if stand_in is not None:
                table[key] = stand_in
            yield fault


def _value(value: object, path: Path, word: str) -> Iterator[tuple[Fault, object]]:
    """What is wrong with a value or inside it, and what may stand instead; None: nothing need."""
    if len(path) > DEEPEST:
        yield Fault(path[:1], f"`{bare(str(path[0]))}` holds tables too deep: write them flat."), 1
    elif isinstance(value, dict):
        yield from ((one, None) for one in _table(cast("dict[str, object]", value), path))
    elif isinstance(value, list):
        yield from ((one, None) for one in _items(cast("list[object]", value), path, word))
    elif isinstance(value, str) and not showable(value):
        says = f"`{word}` holds a line break or a sign that cannot be shown: write it on one line."
        yield Fault(path, says), UNKNOWN
    elif isinstance(value, str) and len(value) > LONGEST:
        yield Fault(path, f"`{word}` is longer than {LONGEST} signs: shorten it."), UNKNOWN
    elif isinstance(value, int) and abs(value) > LARGEST:
        yield Fault(path, f"`{word}` is too large a number: put it right."), 1


def _items(items: list[object], path: Path, word: str) -> Iterator[Fault]:
    for index, item in enumerate(items):
        for fault, stand_in in _value(item, (*path, index), word):
            if stand_in is not None:
                items[index] = stand_in
            yield fault
