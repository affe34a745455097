"""A busy shop for the papers."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.actions.made import World
from tests.store.made import busy_shop


@pytest.fixture(name="busy", scope="package")
def busy_fixture(tmp_path_factory: pytest.TempPathFactory) -> Iterator[World]:
    world = busy_shop(Path(tmp_path_factory.mktemp("papers")))
    yield world
    world.shop.close()
