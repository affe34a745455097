"""A new shop file: whole or not at all."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from store.file.layout import APPLICATION_ID, LAYOUT, make_tables
from store.file.migrations import migrate
from store.file.opening import as_trouble, connect
from store.file.shop import Shop
from store.file.trouble import Busy, ShopExists, Unreadable
from store.file.whole import half_made, make_folder, put_in_place


def make_file(path: Path, begin: Callable[[Shop], object] | None = None) -> Shop:
    """Make a shop file and open it.

    Args:
        begin: writes what the shop begins with. Only then the file takes its name: whoever is
            killed meanwhile leaves nothing that the next try would take for a shop.

    Raises:
        ShopExists: something is there already; it was left as it is.
        Unreadable, NotWritten: the folder cannot be written, or the disk refused.
    """
    try:
        make_folder(path.parent)
        if path.exists():
            raise ShopExists(path)
        with half_made(path) as half:
            _fill(half)
            if begin is not None:
                _begin(half, begin)
            put_in_place(half, path)
    except FileExistsError as error:
        raise ShopExists(path) from error
    except OSError as error:
        raise Unreadable(
            path, error.strerror or "cannot be made", "Choose another place with --shop FILE."
        ) from error
    except sqlite3.Error as error:
        raise as_trouble(error, path.parent) from error
    return Shop(path)


def _begin(half: Path, begin: Callable[[Shop], object]) -> None:
    """Write what the shop begins with, and see to it that all of it is in the one file."""
    with closing(Shop(half)) as shop:
        begin(shop)
        if not shop.settle():
            raise Busy


def _fill(half: Path) -> None:
    db = connect(half, "rwc")
    try:
        db.execute("begin immediate")
        migrate(db)
        make_tables(db)
        db.execute(f"pragma application_id = {APPLICATION_ID}")
        db.execute(f"pragma user_version = {LAYOUT}")
        db.execute("commit")
        db.execute("pragma journal_mode = wal").fetchone()
    finally:
        db.close()
