"""A new shop file: whole or not at all."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

from store.file.layout import APPLICATION_ID, LAYOUT, make_tables
from store.file.migrations import migrate
from store.file.shop import Shop, as_trouble, connect
from store.file.trouble import ShopExists, Unreadable


def make_file(path: Path) -> Shop:
    """Make an empty shop file and open it.

    Raises:
        ShopExists: something is there already; it was left as it is.
        Unreadable: the folder cannot be written.
    """
    if path.exists():
        raise ShopExists(path)
    half = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _fill(half)
        os.link(half, path)
    except FileExistsError as error:
        raise ShopExists(path) from error
    except OSError as error:
        raise Unreadable(
            path, error.strerror or "cannot be made", "Choose another place with --shop FILE."
        ) from error
    except sqlite3.Error as error:
        raise as_trouble(error, path) from error
    finally:
        half.unlink(missing_ok=True)
    return Shop(path)


def _fill(half: Path) -> None:
    db = connect(half)
    try:
        migrate(db)
        db.execute("begin immediate")
        make_tables(db)
        db.execute(f"pragma application_id = {APPLICATION_ID}")
        db.execute(f"pragma user_version = {LAYOUT}")
        db.execute("commit")
        db.execute("pragma journal_mode = wal").fetchone()
    finally:
        db.close()
