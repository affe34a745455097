"""What the tests of the shop file share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.actions.made import World
from tests.store.made import busy_shop


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    """A busy shop, open."""
    made = busy_shop(tmp_path)
    yield made
    made.shop.close()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A busy shop's file that nobody has open."""
    made = busy_shop(tmp_path)
    made.shop.close()
    return made.shop.path
