"""A small shop for the screens: two jobs on lifts, one free lift, one job that waits."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.file.shop import Shop
from tests.tui.shops import Pen, worked_on


@pytest.fixture
def pen() -> Pen:
    return Pen()


@pytest.fixture
def shop(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    made = worked_on(tmp_path / "made.shop", pen)
    yield made
    made.close()
