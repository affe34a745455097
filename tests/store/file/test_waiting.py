"""How a writer waits for another one: looking again and again, as often late as early."""

from __future__ import annotations

import sqlite3

import pytest

from store.file import opening
from store.file.opening import BUSY_S, LOOK_AGAIN_S
from store.file.trouble import Busy
from tests.store.actions.made import World
from tests.store.file.acts import set_rate

LOOKS = 60


def test_whoever_waits_looks_equally_often_and_goes_on_when_the_file_is_free(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = sqlite3.connect(world.shop.path, isolation_level=None)
    other.execute("begin immediate")
    slept: list[float] = []

    def sleep(seconds: float) -> None:
        slept.append(seconds)
        if len(slept) == LOOKS:
            other.execute("rollback")

    monkeypatch.setattr("store.file.opening.time.sleep", sleep)
    before = world.events()
    set_rate(world)
    other.close()
    assert (len(slept), world.events()) == (LOOKS, before + 1)
    assert 0.4 * LOOK_AGAIN_S < min(slept) < max(slept) < 1.6 * LOOK_AGAIN_S
    assert len(set(slept)) > LOOKS / 2, "two that look in step take turns for ever"


def test_all_else_waits_as_before(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    with world.shop.beside() as db:
        assert db.execute("pragma busy_timeout").fetchone()[0] == 1000 * BUSY_S
    monkeypatch.setattr(opening, "BUSY_S", 0.01)
    other = sqlite3.connect(world.shop.path, isolation_level=None)
    other.execute("begin immediate")
    with pytest.raises(Busy):
        set_rate(world)
    other.close()
    monkeypatch.undo()
    with world.shop.beside() as db:
        assert db.execute("pragma busy_timeout").fetchone()[0] == 1000 * BUSY_S
