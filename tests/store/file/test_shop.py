"""A shop file opened, read and changed: all of an act or nothing, by whoever else is at it."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path
from typing import ClassVar

import pytest

from store.actions import settings
from store.edges.events.shop import RateSet
from store.file import opening
from store.file import shop as shop_module
from store.file.layout import APPLICATION_ID, LAYOUT
from store.file.shop import Shop
from store.file.trouble import (
    Busy,
    NewerShop,
    NoShop,
    NotAShop,
    OldSqlite,
)
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.file.acts import one_line, set_pragma, set_rate, slip, use
from tests.store.made import busy_shop


def test_a_file_of_a_newer_program_is_refused_and_left(path: Path) -> None:
    set_pragma(path, "user_version", LAYOUT + 1)
    before = path.read_bytes()
    with pytest.raises(NewerShop) as caught:
        Shop(path)
    says = one_line(caught.value)
    assert f"layout {LAYOUT + 1}" in says
    assert "update hoistbook" in says
    assert path.read_bytes() == before


def test_a_file_that_became_newer_while_it_was_open_is_not_written(world: World) -> None:
    set_rate(world)
    before = world.events()
    set_pragma(world.shop.path, "user_version", LAYOUT + 1)
    for attempt in (lambda: set_rate(world), world.events):
        with pytest.raises(NewerShop):
            attempt()
    set_pragma(world.shop.path, "user_version", LAYOUT)
    assert world.events() == before
    set_rate(world)
    assert world.events() == before + 1


def test_another_kind_of_file_put_in_its_place_is_not_written(world: World) -> None:
    set_rate(world)
    set_pragma(world.shop.path, "application_id", 7)
    with pytest.raises(NotAShop):
        world.events()
    set_pragma(world.shop.path, "application_id", APPLICATION_ID)
    assert world.events()


def test_an_old_sqlite_is_named(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 34, 1))
    with pytest.raises(OldSqlite, match=r"3\.38"):
        Shop(path)


def test_a_file_kept_by_another_terminal_is_busy(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "BUSY_S", 0.0)
    before = world.events()
    other = sqlite3.connect(world.shop.path, isolation_level=None)
    other.execute("begin immediate")
    with pytest.raises(Busy) as caught:
        set_rate(world)
    assert "Try again" in one_line(caught.value)
    assert world.events() == before  # readers do not wait
    other.execute("rollback")
    other.close()
    set_rate(world)
    assert world.events() == before + 1


def test_threads_of_one_process_write_one_after_the_other(world: World) -> None:
    before, failed = world.events(), list[BaseException]()

    def ten(name: str) -> None:
        try:
            for at in range(10):
                by = shop_module.By("OWN", name, world.now, pin="2468", key=f"{name}-{at}-abcdef")
                settings.set_rate(world.shop, by, per_hour=at)
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=ten, args=[f"bay-{n}"]) for n in range(4)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert not failed
    assert world.events() == before + 40
    assert verify(world.shop.path).ok


def test_another_thread_does_not_see_a_bulk_that_is_not_done(world: World) -> None:
    before, seen = world.events(), list[int]()
    with world.shop.bulk():
        set_rate(world)
        assert world.events() == before + 1
        look = threading.Thread(target=lambda: seen.append(world.events()))
        look.start()
        look.join()
    assert seen == [before]
    assert world.events() == before + 1


def replaced_by(world: World, folder: Path) -> World:
    """Put another shop's file in the place of an open one."""
    folder.mkdir()
    other = busy_shop(folder)
    set_rate(other, 55)
    other.shop.close()
    for ending in ("-wal", "-shm"):
        Path(f"{world.shop.path}{ending}").unlink(missing_ok=True)
    other.shop.path.replace(world.shop.path)
    return other


def test_a_file_put_in_its_place_is_the_one_that_is_written(world: World, tmp_path: Path) -> None:
    set_rate(world, 44)
    replaced_by(world, tmp_path / "other")
    set_rate(world, 66)
    rates = world.all("select payload ->> '$.per_hour' from ledger where kind = 'rate-set'")
    assert [one for (one,) in rates][-2:] == [55, 66]
    world.shop.close()
    assert verify(world.shop.path).ok


def test_a_file_replaced_while_a_writer_waited_is_noticed(
    world: World, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Slow(sqlite3.Connection):
        waited: ClassVar[bool] = False

        def execute(self, sql: str, /, *more: object) -> sqlite3.Cursor:
            if sql == "begin immediate" and not Slow.waited:
                Slow.waited = True
                replaced_by(world, tmp_path / "other")
            return super().execute(sql, *more)  # type: ignore[arg-type]  # passed through

    use(monkeypatch, Slow)
    set_rate(world, 66)
    assert Slow.waited
    rates = world.all("select payload ->> '$.per_hour' from ledger where kind = 'rate-set'")
    assert [one for (one,) in rates][-2:] == [55, 66]


def test_a_deleted_file_is_said_to_be_gone_and_not_made_anew(world: World) -> None:
    set_rate(world)
    world.shop.path.unlink()
    for attempt in (lambda: set_rate(world), world.events):
        with pytest.raises(NoShop):
            attempt()
    assert not world.shop.path.exists()


def test_an_act_that_fails_half_way_leaves_no_trace(world: World) -> None:
    before, tables = world.events(), world.tables()
    with pytest.raises(RuntimeError):
        slip(world)
    assert (world.events(), world.tables()) == (before, tables)
    set_rate(world)
    assert world.events() == before + 1


def test_a_statement_that_fails_takes_its_act_with_it(world: World) -> None:
    before = world.events()

    def impossible() -> None:
        with world.shop.changing(world.by("OWN")) as change:
            change.record(RateSet(from_day="2028-01-01", per_hour=91))
            change.db.execute("insert into person (person) values ('p-1')")

    with pytest.raises(sqlite3.IntegrityError):
        impossible()
    assert world.events() == before


def test_an_act_that_fails_in_a_bulk_leaves_the_others(world: World) -> None:
    before = world.events()
    with world.shop.bulk():
        set_rate(world, 81)
        with pytest.raises(RuntimeError):
            slip(world)
        set_rate(world, 82)
    rates = world.all("select seq, payload ->> '$.per_hour' from ledger where seq > ?", before)
    assert rates == [(before + 1, 81), (before + 2, 82)]
    assert verify(world.shop.path).ok


def test_a_bulk_that_fails_leaves_nothing(world: World) -> None:
    before, tables = world.events(), world.tables()

    def two_and_a_slip() -> None:
        with world.shop.bulk():
            set_rate(world, 81)
            set_rate(world, 82)
            raise RuntimeError

    with pytest.raises(RuntimeError):
        two_and_a_slip()
    assert (world.events(), world.tables()) == (before, tables)
    set_rate(world)
    assert verify(world.shop.path).ok


def test_what_was_written_is_synced_and_in_a_log_beside(world: World) -> None:
    with world.shop.beside() as db:
        assert db.execute("pragma journal_mode").fetchone()[0] == "wal"
        assert db.execute("pragma synchronous").fetchone()[0] == 2
        assert db.execute("pragma foreign_keys").fetchone()[0] == 1


def test_a_backup_copied_by_hand_is_put_into_the_mode_for_many(path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("pragma journal_mode = delete")
    db.close()
    shop = Shop(path)
    with shop.beside() as db:
        assert db.execute("pragma journal_mode").fetchone()[0] == "wal"
    shop.close()
