"""A folder of CSV tables that belong together: all of them or none, and nobody's file is lost."""

from __future__ import annotations

import csv
from collections.abc import Generator, Mapping, Sequence
from contextlib import contextmanager, suppress
from itertools import islice
from pathlib import Path

from store.file.csv_out import CsvFile, NotWritable, csv_files, not_writable
from store.file.whole import OWN_FOLDER


@contextmanager
def csv_folder(
    folder: Path, tables: Mapping[str, Sequence[str]], mark: str
) -> Generator[dict[str, CsvFile]]:
    """Give tables to write, each with its header; the folder is made where there is none.

    A table that is there already gives way only to itself: the same header, and `mark` in the
    first cell of its first row, or no row at all. Other files of the folder are left alone.

    Args:
        tables: headers by name of the file.
        mark: what stands in the first cell of every row.

    Raises:
        NotWritable: no folder can be there, the disk refused, or a file of such a name is no such
            table. What was there is as it was.
    """
    made = _made(folder)
    try:
        paths = {name: folder / name for name in tables}
        for name, path in paths.items():
            _check(path, tables[name], mark)
        with csv_files(*((paths[name], header) for name, header in tables.items())) as files:
            yield dict(zip(tables, files, strict=True))
    except BaseException:
        if made:
            with suppress(OSError):  # something of somebody else's lies in it by now
                folder.rmdir()
        raise


def _made(folder: Path) -> bool:
    """Make the folder; return whether it was not there."""
    try:
        folder.mkdir(OWN_FOLDER)
    except FileExistsError as error:
        if folder.is_dir():
            return False
        raise NotWritable(folder, "that is a file, and a folder is wanted") from error
    except FileNotFoundError as error:
        raise NotWritable(folder, "there is no folder to make it in") from error
    except (OSError, ValueError) as error:
        raise not_writable(folder, error) from error
    return True


def _check(path: Path, header: Sequence[str], mark: str) -> None:
    try:
        if not path.is_file():
            return  # what else may stand there is refused where it is opened
        with path.open(encoding="utf-8", newline="") as file:
            rows = csv.reader(file)
            lines = [*islice(rows, 2)]
    except (UnicodeDecodeError, csv.Error):
        lines = []
    except OSError as error:
        raise not_writable(path, error) from error
    if lines[:1] != [list(header)] or any(line[:1] != [mark] for line in lines[1:]):
        raise NotWritable(path, "that is there already, and is no such table of this month")
