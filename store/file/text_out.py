"""A text file written whole or not at all: what was there stays until the new one is finished."""

from __future__ import annotations

from pathlib import Path

from store.file.csv_out import may_give_way, not_writable
from store.file.whole import half_made, put_over


def write_text(path: Path, text: str) -> None:
    """Write a text as UTF-8.

    Raises:
        NotWritable: folder or disk refused, or something stands there that may not be replaced.
            What was there is as it was.
    """
    may_give_way(path)
    try:
        with half_made(path) as half:
            half.write_text(text, "utf-8", newline="\n")
            put_over(half, path)
    except OSError as error:
        raise not_writable(path, error) from error
