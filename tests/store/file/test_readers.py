"""Looks at the file: kept connections see the newest state, each look one moment of it."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path

import pytest

from store.file.readers import MOST
from store.file.shop import Shop
from tests.store.actions.made import World
from tests.store.file.acts import set_rate
from tests.store.made import busy_shop

COUNT = "select count(*) from ledger"


def test_a_look_sees_one_moment_and_the_next_one_the_newest(world: World) -> None:
    before = world.events()
    with world.shop.reading() as db:
        assert db.execute(COUNT).fetchone()[0] == before
        set_rate(world)
        assert db.execute(COUNT).fetchone()[0] == before
    with world.shop.reading() as db:
        assert db.execute(COUNT).fetchone()[0] == before + 1


def test_looks_one_after_the_other_share_a_connection(world: World) -> None:
    with world.shop.reading() as first:
        pass
    with world.shop.reading() as second:
        assert second is first


def test_looks_at_the_same_time_do_not(world: World) -> None:
    with world.shop.reading() as first, world.shop.reading() as second:
        assert second is not first


def test_a_look_that_failed_leaves_no_transaction_behind(world: World) -> None:
    def slip() -> None:
        with world.shop.reading() as db:
            db.execute("select * from ledger")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        slip()
    set_rate(world)
    with world.shop.reading() as db:
        assert db.execute("select max(seq) from ledger").fetchone()[0] == world.events()


def test_a_look_writes_nothing_that_lasts(world: World) -> None:
    with world.shop.reading() as db:
        db.execute("update shop set name = 'another'")
    assert world.one("select name from shop") == "Made"


def test_many_threads_look_and_one_writes(world: World) -> None:
    before, seen, failed = world.events(), list[list[int]](), list[BaseException]()

    def look() -> None:
        try:
            mine = [world.events() for _ in range(40)]
        except BaseException as error:
            failed.append(error)
        else:
            seen.append(mine)

    threads = [threading.Thread(target=look) for _ in range(2 * MOST)]
    for one in threads:
        one.start()
    for per_hour in range(20):
        set_rate(world, per_hour)
    for one in threads:
        one.join()
    assert not failed
    assert all(mine == sorted(mine) for mine in seen)
    assert len(seen) == 2 * MOST
    assert world.events() == before + 20


def test_another_file_in_its_place_is_seen_by_the_next_look(world: World, tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    other = busy_shop(tmp_path / "other")
    set_rate(other, 55)
    events = other.events()
    other.shop.close()
    with world.shop.reading() as db:
        other.shop.path.replace(world.shop.path)
        assert db.execute(COUNT).fetchone()[0] == events - 1
    assert world.events() == events


def test_a_closed_shop_has_let_go_of_its_file(path: Path) -> None:
    shop = Shop(path)
    with shop.reading() as db:
        pass
    shop.close()
    with pytest.raises(sqlite3.ProgrammingError):
        db.execute("select 1")
    assert [one.name for one in path.parent.iterdir()] == [path.name]
