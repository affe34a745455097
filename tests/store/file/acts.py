"""Small acts and looks that the tests of the shop file share."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from store.actions import settings
from store.edges.events.shop import RateSet
from store.file import shop as shop_module
from store.trouble import Trouble
from tests.store.actions.made import World


def set_rate(world: World, per_hour: float = 77) -> None:
    """Some act that writes."""
    settings.set_rate(world.shop, world.by("OWN"), per_hour=per_hour)


def slip(world: World) -> None:
    """An act that fails half way."""
    with world.shop.changing(world.by("OWN")) as change:
        change.record(RateSet(from_day="2028-01-01", per_hour=91))
        raise RuntimeError


def one_line(trouble: Trouble) -> str:
    """Its words, which must be one line that can be shown."""
    says = str(trouble)
    assert says
    assert says.isprintable(), ascii(says)
    return says


def content(path: Path) -> dict[str, bytes]:
    """Everything in a folder."""
    return {one.name: one.read_bytes() for one in path.iterdir() if one.is_file()}


def set_pragma(path: Path, name: str, value: int) -> None:
    """Write one of the numbers in a file's head."""
    db = sqlite3.connect(path)
    db.execute(f"pragma {name} = {value}")
    db.close()


def sqlite3_error(code: str) -> sqlite3.OperationalError:
    """An error as Python raises it for a code of SQLite."""
    error = sqlite3.OperationalError(f"made up: {code}")
    error.sqlite_errorname = code
    return error


def use(monkeypatch: pytest.MonkeyPatch, kind: type[sqlite3.Connection]) -> None:
    """Let the shop open its connections as this class."""

    def connect(path: Path, mode: str = "rw") -> sqlite3.Connection:
        db = sqlite3.connect(
            f"{path.as_uri()}?mode={mode}", uri=True, isolation_level=None, factory=kind,
            check_same_thread=False,
        )  # fmt: skip
        db.row_factory = sqlite3.Row
        return db

    monkeypatch.setattr(shop_module, "connect", connect)
