"""What the tests of actions share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.actions.made import World, make


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    """A small shop of its own."""
    made = make(tmp_path)
    yield made
    made.shop.close()
