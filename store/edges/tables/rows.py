"""Rows of a CSV file (RFC 4180, or as spreadsheets write it), each with its line and its faults.

Read as a stream: a file is never held whole. A comma, a semicolon or a tab may part the fields;
whichever makes most of the header known is taken.
"""

from __future__ import annotations

import csv
import os
import re
from collections.abc import Callable, Generator, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from difflib import get_close_matches
from io import TextIOWrapper
from itertools import chain
from pathlib import Path
from typing import Any, Protocol, TextIO

from store.edges.reading import opened_to_read
from store.trouble import Refused

SEPARATORS = (",", ";", "\t")
LONGEST_LINE = 1_000_000
"""Signs; a longer line belongs to no table."""
LARGEST = 120_000_000
"""Bytes, or signs where it cannot be asked; ten years of a shop's clocks are half of it."""
TOO_LARGE = f"more than {LARGEST // 1_000_000} MB: no shop's past is as large. Give a part of it."
SHOWN = 40
UNSHOWABLE = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
"""Control characters, breaks of lines, signs that turn the writing; bytes that were no UTF-8."""


class Bad(ValueError):
    """A field that cannot be what its column holds: what is wrong, what to do."""


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong in a line (from 1) of the file, and what to do."""

    line: int
    says: str

    def __str__(self) -> str:
        """`line 7: …`"""
        return f"line {self.line}: {self.says}"


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a format.

    Attributes:
        read: gives the value of a field that is not empty, or raises Bad.
        needed: the file must have it, and no field of it may be empty.
    """

    name: str
    read: Callable[[str], Any]
    needed: bool = True


@dataclass(frozen=True, slots=True)
class Line:
    """A row that was read: values by column; empty fields are left out."""

    line: int
    values: dict[str, Any] = field(default_factory=dict[str, Any])
    faults: tuple[Fault, ...] = ()


Style = Callable[[bool], Sequence[Column]]
"""The columns of a format, given whether a comma may stand for the decimal point."""


class _Reader(Protocol):
    """What the library's reader is; it has no name of its own there."""

    @property
    def line_num(self) -> int: ...
    def __next__(self) -> list[str]: ...
    def __iter__(self) -> Iterator[list[str]]: ...


class NoTable(Refused):
    """The file cannot be read as this format at all."""


@contextmanager
def opened(path: Path) -> Generator[TextIO]:
    """Open a file of the user's to be read.

    Raises:
        Refused: it is not there, or cannot be read.
    """
    try:
        raw = opened_to_read(path)
    except (OSError, ValueError) as error:
        raise _unreadable(path, error) from error
    with TextIOWrapper(raw, encoding="utf-8-sig", errors="surrogateescape", newline="") as file:
        try:
            if os.fstat(raw.fileno()).st_size > LARGEST:
                raise NoTable(TOO_LARGE)
            yield file
        except OSError as error:
            raise _unreadable(path, error) from error
        except NoTable as wrong:
            raise NoTable(f"{path.name}, {wrong}") from wrong


def _unreadable(path: Path, error: Exception) -> Refused:
    why = getattr(error, "strerror", None) or "it cannot be read"
    return Refused(f"{path}: {why}. Give a CSV file that is there.")


def rows(file: TextIO, style: Style, renamed: Mapping[str, str] | None = None) -> Iterator[Line]:
    """Yield the rows of a table in their order; empty ones are passed over.

    Args:
        renamed: names of our columns by the file's own headings, where these are others.

    Raises:
        NoTable: no header, or one that lacks needed columns.
    """
    renamed = renamed or {}
    lines = _lines(file)
    first = next(lines, "")
    ours = [column.name for column in style(False)]
    separator = _separator(first, {*ours, *renamed})
    columns = style(separator != ",")
    reader = csv.reader(chain([first], lines), delimiter=separator, strict=True)
    header = _header(reader, columns, renamed)
    places = [(header.index(one.name), one) for one in columns if one.name in header]
    yield from _rows(reader, len(header), places)


def _rows(reader: _Reader, width: int, places: Sequence[tuple[int, Column]]) -> Iterator[Line]:
    while True:
        line = reader.line_num + 1
        try:
            cells = next(reader, None)
        except csv.Error as error:
            yield Line(line, {}, (Fault(line, _quoting(error)),))
            continue
        if cells is None:
            return
        if any(cells):
            yield _line(line, cells, width, places)


def _line(line: int, cells: list[str], width: int, places: Sequence[tuple[int, Column]]) -> Line:
    if len(cells) != width and (len(cells) < width or any(cells[width:])):
        wrong = f"has {len(cells)} fields, the first line has {width}: check its separators"
        return Line(line, {}, (Fault(line, f"{wrong} and quotation marks."),))
    values: dict[str, Any] = {}
    faults: list[Fault] = []
    for place, column in places:
        text = cells[place].strip()
        if text:
            try:
                values[column.name] = column.read(text)
            except Bad as bad:
                faults.append(Fault(line, f"{column.name} {bad}"))
        elif column.needed:
            faults.append(Fault(line, f"{column.name} is empty: fill it in."))
    return Line(line, values, tuple(faults))


def _lines(file: TextIO) -> Iterator[str]:
    length = 0
    while text := file.readline(LONGEST_LINE):
        length += len(text)
        if len(text) == LONGEST_LINE:
            raise NoTable("a line has no end: this is no CSV text. Save the table as CSV.")
        if length > LARGEST:
            raise NoTable(TOO_LARGE)
        yield text


def _separator(first: str, known: set[str]) -> str:
    def knows(separator: str) -> int:
        try:
            cells = next(csv.reader([first], delimiter=separator), list[str]())
        except csv.Error:
            return -1
        return sum(cell.strip() in known for cell in cells)

    return max(SEPARATORS, key=knows)


def _header(reader: _Reader, columns: Sequence[Column], renamed: Mapping[str, str]) -> list[str]:
    """The columns by our names, unknown ones by their own."""
    try:
        theirs = [cell.strip() for cell in next(reader, list[str]())]
    except csv.Error as error:
        raise NoTable(f"line 1: {_quoting(error)}") from error
    if any(UNSHOWABLE.search(cell) for cell in theirs):
        raise NoTable("line 1: this is no CSV text. Save the table as CSV in UTF-8.")
    names = ", ".join(one.name for one in columns if one.needed)
    if not theirs:
        raise NoTable(f"line 1: the file is empty. Its first line names the columns: {names}.")
    for heading in renamed:
        if heading not in theirs:
            raise NoTable(f"line 1: no column is called {heading!r}: {_all(theirs)}.")
    taken = set(renamed.values())
    header = [renamed.get(one, f"{one} (theirs)" if one in taken else one) for one in theirs]
    for one in columns:
        if header.count(one.name) > 1:
            raise NoTable(f"line 1: the column {one.name} is there twice: take one of them out.")
    lacking = [one.name for one in columns if one.needed and one.name not in header]
    if lacking:
        raise NoTable(f"line 1: lacks {', '.join(lacking)}. {_hint(lacking, theirs)}")
    return header


def _hint(lacking: list[str], theirs: list[str]) -> str:
    folded = {one.casefold().replace(" ", "_"): one for one in theirs if one}
    for name in lacking:
        close = get_close_matches(name, folded, n=1, cutoff=0.6)
        if close:
            return f"If a column has another heading, say so: --map {folded[close[0]]!r}={name}."
    return f"If a column has another heading, say so: --map HEADING={lacking[0]}."


def _all(theirs: list[str]) -> str:
    return f"it has {', '.join(one for one in theirs if one)}"[:300]


def _quoting(error: csv.Error) -> str:
    says = str(error)
    if "end of data" in says:
        return "a quotation mark is opened and never closed, so all after it is lost: close it."
    if "limit" in says:
        return "a field is far too long: is a quotation mark lacking?"
    return "a quotation mark stands where none can: put the field in quotes, double those in it."


def quoted(text: str) -> str:
    """A field as a fault shows it."""
    return repr(text if len(text) <= SHOWN else f"{text[:SHOWN]}…")
