"""What the tests of actions share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.actions.made import World, make

PROVEN: dict[str, str] = {}
"""PINs of the shop that were proven in earlier tests: each takes 50 ms."""


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    """A small shop of its own."""
    made = make(tmp_path)
    made.shop.proven = dict(PROVEN)
    yield made
    PROVEN.update(made.shop.proven)
    made.shop.close()
