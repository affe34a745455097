"""Sheets of codes in the terminal: as many beside each other as there is room for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from tui.cli import qr
from tui.cli.codes_list import Printed, Sheet
from tui.words import cut, plain, wrapped

GAP = 2
CAPTION_LINES = 2


def lines(sheet: Sheet, columns: int, *, coloured: bool, light: bool, ascii_only: bool
          ) -> Iterator[str]:  # fmt: skip
    """The sheet; colours and letters as `qr.in_letters` takes them."""
    yield cut(plain(sheet.title), columns)
    yield from wrapped(plain(sheet.note), columns)
    for group in sheet.groups:
        yield ""
        yield cut(f"-- {plain(group.title)} ", columns).ljust(columns, "-")
        made = [(one, qr.modules(one.typed)) for one in group.codes]
        while made:
            row, made = _row(made, columns, ascii_only)
            yield from _beside(row, coloured=coloured, light=light, ascii_only=ascii_only)


_Made = list[tuple[Printed, qr.Modules]]


def _row(made: _Made, columns: int, ascii_only: bool) -> tuple[_Made, _Made]:
    """The codes that fit beside each other, at least one, and those that are left."""
    room, many = columns, 0
    for _, rows in made:
        room -= qr.width(rows, ascii_only=ascii_only)
        if room < 0:
            break
        room -= GAP
        many += 1
    many = max(1, many)
    return made[:many], made[many:]


def _beside(row: _Made, *, coloured: bool, light: bool, ascii_only: bool) -> Iterator[str]:
    blocks: list[list[str]] = []
    for one, rows in row:
        size = qr.width(rows, ascii_only=ascii_only)
        drawn = qr.in_letters(rows, coloured=coloured, light=light, ascii_only=ascii_only)
        blocks.append([*(line.ljust(size) for line in _captions(one, size)), *drawn])
    tallest = max(len(block) for block in blocks)
    sizes = [qr.width(rows, ascii_only=ascii_only) for _, rows in row]
    blank = [" " * size for size in sizes]
    padded = [[blank[n]] * (tallest - len(block)) + block for n, block in enumerate(blocks)]
    yield ""
    for parts in zip_longest(*padded):
        yield (" " * GAP).join(parts).rstrip(" ")


def _captions(one: Printed, size: int) -> Sequence[str]:
    """What it is, who signs, and its letters."""
    words = wrapped(plain(one.says), size)
    if len(words) > CAPTION_LINES:
        words = [*words[: CAPTION_LINES - 1], cut(" ".join(words[CAPTION_LINES - 1 :]), size)]
    notes = [cut(one.note, size)] if one.note else []
    return [*words, *notes, cut(one.letters, size)]
