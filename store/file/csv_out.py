"""CSV files written whole or not at all: what was there stays until the new one is finished."""

from __future__ import annotations

import csv
import re
from collections.abc import Generator, Iterable, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import TextIO

from store.edges.showable import bare
from store.file.opening import MAGIC
from store.file.whole import half_made, put_over
from store.trouble import Refused


class NotWritable(Refused):
    """The file cannot be written there."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"{path}: {why}. Nothing was written; give another place or name.")


FORMULA = re.compile(r"[=@\t\r]|[+-](?![0-9.]+(e[+-]?[0-9]+)?$)")
"""How a cell begins that a spreadsheet would reckon with; a number with a sign is none."""


def harmless(cell: str) -> str:
    """A cell that is shown as it is: it steers no terminal, and no spreadsheet runs it."""
    shown = bare(cell, kept="\n")
    return f"'{shown}" if FORMULA.match(shown) else shown


class CsvFile:
    """One file on its way (RFC 4180, UTF-8); rows are written as they come."""

    def __init__(self, path: Path, file: TextIO) -> None:
        self.path = path
        self._file = file
        self._writer = csv.writer(file)

    def row(self, cells: Iterable[str]) -> None:
        """Write one row.

        Raises:
            NotWritable: the disk refused; the file will not be there.
        """
        try:
            self._writer.writerow(map(harmless, cells))
        except OSError as error:
            raise not_writable(self.path, error) from error

    def rows(self, many: Iterable[Iterable[str]]) -> int:
        """Write rows; return how many.

        Raises:
            NotWritable: the disk refused; the file will not be there.
        """
        count = 0
        for cells in many:
            self.row(cells)
            count += 1
        return count


@contextmanager
def csv_files(*wanted: tuple[Path, Sequence[str]]) -> Generator[list[CsvFile]]:
    """Give files to write, each with its header; they take their names together, at the end.

    Raises:
        NotWritable: folder or disk refused, two names are the same, or something stands there
            that may not be replaced. What was there is as it was.
    """
    with ExitStack() as stack:
        _refuse_same([path for path, _ in wanted])
        halves = [(_half(stack, path), path) for path, _ in wanted]
        files = [_open(half, path) for half, path in halves]
        for file in files:
            stack.callback(_let_go, file)
        given = [CsvFile(path, file) for file, (_, path) in zip(files, halves, strict=True)]
        for one, (_, header) in zip(given, wanted, strict=True):
            one.row(header)
        yield given
        for file, (_, path) in zip(files, halves, strict=True):
            _close(file, path)
        for half, path in halves:
            _put(half, path)


def _refuse_same(paths: Sequence[Path]) -> None:
    seen: set[Path] = set()
    for path in paths:
        where = path.resolve()
        if where in seen:
            raise NotWritable(path, "two tables cannot be one file")
        seen.add(where)


def may_give_way(path: Path) -> Path:
    """The path of a file to write: only a plain file gives way, and never a database.

    Raises:
        NotWritable: something else stands there, or there is no such folder.
    """
    try:
        if not path.parent.is_dir():
            raise NotWritable(path, "there is no such folder")
        if path.exists():
            if not path.is_file():
                raise NotWritable(path, "that is no file that could be replaced")
            with path.open("rb") as file:
                if file.read(len(MAGIC)) == MAGIC:
                    raise NotWritable(path, "that is a database, which stays")
    except (OSError, ValueError) as error:
        raise not_writable(path, error) from error
    return path


def _half(stack: ExitStack, path: Path) -> Path:
    try:
        return stack.enter_context(half_made(may_give_way(path)))
    except OSError as error:
        raise not_writable(path, error) from error


def _open(half: Path, path: Path) -> TextIO:
    try:
        return half.open("w", encoding="utf-8", newline="")
    except OSError as error:
        raise not_writable(path, error) from error


def _close(file: TextIO, path: Path) -> None:
    try:
        file.close()
    except OSError as error:
        raise not_writable(path, error) from error


def _let_go(file: TextIO) -> None:
    """What is kept back for a file that will not be there need not reach the disk."""
    with suppress(OSError):
        file.close()


def _put(half: Path, path: Path) -> None:
    try:
        put_over(half, path)
    except OSError as error:
        raise not_writable(path, error) from error


def not_writable(path: Path, error: Exception) -> NotWritable:
    """Why the disk refused a file."""
    return NotWritable(path, getattr(error, "strerror", None) or "it cannot be written")
