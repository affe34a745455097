"""A paper as plain text in so many columns: nothing is cut off, long words are broken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

from rich.cells import cell_len, set_cell_size

from tui.papers.paper import Block, Facts, Heading, Items, Lines, Paper, Table, Words
from tui.papers.pictures import Bars, Run, Strip
from tui.papers.pictures_text import bars_lines, run_lines, strip_lines
from tui.signs import UNICODE, Signs
from tui.words import counted, plain

GAP = 2
LEAST = 7
"""No column of a table is narrower."""
NAMES = 24
"""Cells for the names of facts at most."""


Kind = Literal["title", "head", "rule", "names", "text", "note", "void"]


class Line(NamedTuple):
    """One line, and what it is: for whoever paints it."""

    text: str
    kind: Kind = "text"


def text_of(paper: Paper, width: int = 80, signs: Signs = UNICODE) -> list[str]:
    """The paper in lines of at most `width` cells."""
    return [line.text for line in lines_of(paper, width, signs)]


def lines_of(paper: Paper, width: int = 80, signs: Signs = UNICODE) -> list[Line]:
    """The same with what each line is."""
    lines = [*_as("title", broken(paper.title.upper(), width))]
    lines += [Line(one) for one in broken(paper.about, width)]
    before: Block | None = None
    for block in paper.blocks:
        lines += [*([] if _close(before, block) else [Line("")]), *_block(block, width, signs)]
        before = block
    return [*lines, Line(""), *_as("note", broken(paper.foot, width))]


def _close(before: Block | None, block: Block) -> bool:
    """Whether nothing parts two blocks: what stands under its heading, tables that are folded."""
    if isinstance(before, Table) and isinstance(block, Table):
        return before.folded and block.folded
    return isinstance(before, Heading)


def _as(kind: Kind, texts: Iterable[str]) -> Iterator[Line]:
    return (Line(text, kind) for text in texts)


def broken(text: str, width: int) -> list[str]:
    """The text between words in lines of at most `width` cells; longer words within."""
    lines: list[str] = []
    for word in (piece for each in plain(text).split() for piece in _pieces(each, width)):
        if lines and cell_len(lines[-1]) + 1 + cell_len(word) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines or [""]


def _pieces(word: str, width: int) -> Iterator[str]:
    piece = ""
    for letter in word:
        if cell_len(piece + letter) > width:
            yield piece
            piece = ""
        piece += letter
    yield piece


def _block(block: Block, width: int, signs: Signs) -> Iterator[Line]:
    match block:
        case Heading(text):
            yield from _as("head", broken(text.upper(), width))
            yield Line("-" * width, "rule")
        case Words(text, note):
            yield from _as("note" if note else "text", broken(text, width))
        case Facts(rows):
            yield from _as("text", _facts(rows, width))
        case Items(texts):
            for text in texts:
                yield from _as("text", _hanging("* ", text, width))
        case Table():
            yield from _table(block, width)
        case Strip():
            yield from _as("text", strip_lines(block, width, signs))
        case Bars():
            yield from _as("text", bars_lines(block, width, signs))
        case Run():
            yield from _as("note", broken(block.name, width))
            yield from _as("text", run_lines(block, width, signs))
        case Lines(under):
            for text in under:
                yield from _as("text", ("", "", "_" * min(width, 40), *broken(text, width)))


def _hanging(mark: str, text: str, width: int) -> Iterator[str]:
    for n, line in enumerate(broken(text, width - len(mark))):
        yield (mark if n == 0 else " " * len(mark)) + line


def _facts(rows: Sequence[tuple[str, str]], width: int) -> Iterator[str]:
    room = min(NAMES, max((cell_len(name) for name, _ in rows), default=0))
    for name, value in rows:
        names = broken(name, room)
        values = broken(value, width - room - GAP)
        yield from _beside((names, values), (room, width - room - GAP))


def _beside(columns: Sequence[Sequence[str]], widths: Sequence[int]) -> Iterator[str]:
    """Cells of one row side by side, as high as the highest."""
    for n in range(max(map(len, columns))):
        cells = [
            set_cell_size(column[n] if n < len(column) else "", room)
            for column, room in zip(columns, widths, strict=True)
        ]
        yield (" " * GAP).join(cells).rstrip()


def _table(table: Table, width: int) -> Iterator[Line]:
    if table.folded:
        told = f"{table.caption}: {counted(len(table.rows), 'row')}, on the page"
        yield from _as("note", broken(told, width))
        return
    if LEAST * len(table.heads) + GAP * (len(table.heads) - 1) > width:
        yield from _stacked(table, width)
        return
    rows = [table.heads, *(row.cells for row in table.rows)]
    widths = shared([max(cell_len(row[n]) for row in rows) for n in range(len(table.heads))], width)
    if table.caption:
        yield from _as("note", broken(table.caption, width))
    yield from _as("names", _row(table.heads, widths, table.figures))
    yield Line((" " * GAP).join("-" * room for room in widths), "rule")
    for row in table.rows:
        yield from _as("void" if row.void else "text", _row(row.cells, widths, table.figures))


def _stacked(table: Table, width: int) -> Iterator[Line]:
    """A table of more columns than there is room for: each row as a sentence under its name."""
    if table.caption:
        yield from _as("names", broken(table.caption, width))
    for row in table.rows:
        kind: Kind = "void" if row.void else "text"
        yield from _as(kind, broken(row.cells[0], width))
        told = [f"{head} {cell}" for head, cell in zip(table.heads[1:], row.cells[1:], strict=True)
                if cell]  # fmt: skip
        yield from _as("note", _hanging("  ", "; ".join(told), width))


def _row(cells: Sequence[str], widths: Sequence[int], figures: Sequence[int]) -> Iterator[str]:
    columns = [broken(cell, room) for cell, room in zip(cells, widths, strict=True)]
    for n in figures:
        columns[n] = [f"{one:>{widths[n]}}" for one in columns[n]]
    return _beside(columns, widths)


def shared(wanted: Sequence[int], width: int) -> list[int]:
    """Widths of columns that fit together: the widest give first, none under `LEAST`."""
    widths = [max(one, 1) for one in wanted]
    room = width - GAP * (len(widths) - 1)
    while sum(widths) > room:
        widest = max(range(len(widths)), key=lambda n: widths[n])
        if widths[widest] <= LEAST:
            break
        widths[widest] -= 1
    return widths
