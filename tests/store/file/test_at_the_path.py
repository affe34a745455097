"""Whatever stands at the path of a shop file: one clear line, and it is left as it is."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from store.file import making
from store.file.layout import LAYOUT
from store.file.making import make_file
from store.file.shop import Shop
from store.file.trouble import (
    Damaged,
    NoShop,
    NotAShop,
    NotWritten,
    ShopExists,
    Unreadable,
)
from store.file.verify import verify
from store.file.whole import companion, half_made
from tests.store.actions.made import World
from tests.store.file.acts import content, one_line, set_rate, sqlite3_error
from tests.store.file.people import open_folder, unprivileged
from tests.store.made import busy_shop


def a_text(path: Path) -> None:
    path.write_text("Not a shop, but quite long enough to be mistaken for one.\n" * 100)


def nothing_in_it(path: Path) -> None:
    path.touch()


def a_folder(path: Path) -> None:
    path.mkdir()


def a_pipe(path: Path) -> None:
    os.mkfifo(path)


def another_database(path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("create table ledger (seq, key)")
    db.commit()
    db.close()


def another_database_of_our_layout(path: Path) -> None:
    another_database(path)
    db = sqlite3.connect(path)
    db.execute(f"pragma user_version = {LAYOUT}")
    db.close()


def a_head_and_nothing_behind(path: Path) -> None:
    path.write_bytes(b"SQLite format 3\0")


def a_head_and_rubbish(path: Path) -> None:
    path.write_bytes(b"SQLite format 3\0" + b"\xa5" * 5000)


NO_SHOPS = [
    a_text, nothing_in_it, a_folder, a_pipe, another_database, another_database_of_our_layout,
    a_head_and_nothing_behind, a_head_and_rubbish,
]  # fmt: skip


@pytest.mark.parametrize("make", NO_SHOPS)
def test_what_is_no_shop_is_left_as_it_is(tmp_path: Path, make: Callable[[Path], None]) -> None:
    path = tmp_path / "it"
    make(path)
    before = content(tmp_path)
    with pytest.raises((NotAShop, Damaged)) as caught:
        Shop(path)
    assert str(path) in one_line(caught.value)
    assert content(tmp_path) == before


@pytest.mark.parametrize("make", NO_SHOPS)
def test_what_is_there_is_never_made_into_a_shop(
    tmp_path: Path, make: Callable[[Path], None]
) -> None:
    path = tmp_path / "it"
    make(path)
    before = content(tmp_path)
    with pytest.raises(ShopExists) as caught:
        make_file(path)
    one_line(caught.value)
    assert content(tmp_path) == before


def test_where_nothing_is_nothing_is_made(tmp_path: Path) -> None:
    with pytest.raises(NoShop) as caught:
        Shop(tmp_path / "it")
    assert "hoistbook init" in one_line(caught.value)
    assert content(tmp_path) == {}


def test_a_link_to_nowhere_is_no_place_for_a_shop(tmp_path: Path) -> None:
    path = tmp_path / "it"
    path.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(ShopExists):
        make_file(path)
    assert [one.name for one in tmp_path.iterdir()] == ["it"]


def test_a_name_with_every_sign_is_a_name(tmp_path: Path) -> None:
    path = tmp_path / "our shop? #1 100% ä.shop"
    make_file(path).close()
    Shop(path).close()
    assert [one.name for one in tmp_path.iterdir()] == [path.name]


def test_a_name_too_long_is_refused_in_words(tmp_path: Path) -> None:
    for attempt in (Shop, make_file):
        with pytest.raises(Unreadable) as caught:
            attempt(tmp_path / ("n" * 300))
        one_line(caught.value)


def test_what_a_deleted_shop_left_behind_does_not_get_into_a_new_one(tmp_path: Path) -> None:
    old, new = busy_shop(tmp_path), tmp_path / "new.shop"
    set_rate(old)
    for ending in ("-wal", "-shm"):
        shutil.copy(f"{old.shop.path}{ending}", f"{new}{ending}")
    made = make_file(new)
    with made.reading() as db:
        assert db.execute("select count(*) from ledger").fetchone()[0] == 0
    made.close()
    assert verify(new).ok


def test_a_failed_making_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(half: Path) -> None:
        half.touch()
        raise sqlite3_error("SQLITE_FULL")

    monkeypatch.setattr(making, "_fill", full)
    with pytest.raises(NotWritten, match="disk is full"):
        make_file(tmp_path / "new.shop")
    assert content(tmp_path) == {}


def test_a_shop_takes_its_name_only_with_all_that_it_begins_with(tmp_path: Path) -> None:
    path, seen = tmp_path / "new.shop", list[bool]()

    def begin(shop: Shop) -> None:
        seen.append(path.exists())
        with shop.beside() as db:
            db.execute("insert into pin_tries (person, wrong, last_at) values ('p-1', 1, 'now')")

    with make_file(path, begin).reading() as db:
        assert db.execute("select count(*) from pin_tries").fetchone()[0] == 1
    assert seen == [False]

    def fails(shop: Shop) -> None:
        raise NotWritten("the disk is full", "Make room.")

    with pytest.raises(NotWritten):
        make_file(tmp_path / "other.shop", fails)
    assert not [one for one in tmp_path.iterdir() if "other" in one.name]


def test_folders_that_are_made_for_a_shop_outlive_a_power_cut(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced, fsync = set[str](), os.fsync

    def noted(number: int) -> None:
        synced.add(os.path.realpath(f"/proc/self/fd/{number}"))
        fsync(number)

    monkeypatch.setattr(os, "fsync", noted)
    make_file(tmp_path / "a" / "b" / "new.shop").close()
    assert synced >= {str(tmp_path), str(tmp_path / "a"), str(tmp_path / "a" / "b")}


def test_what_somebody_left_half_made_goes_and_what_somebody_makes_stays(tmp_path: Path) -> None:
    left, linked = tmp_path / ".a.shop.0123abcd.half", tmp_path / ".b.shop.0123abcd.half"
    for one in (left, companion(left, "-wal"), tmp_path / "b.shop", tmp_path / ".mine.half"):
        one.write_text("x")
    os.link(tmp_path / "b.shop", linked)  # it had its name already
    with half_made(tmp_path / "c.shop") as mine:
        assert {one.name for one in tmp_path.iterdir()} == {"b.shop", ".mine.half", mine.name}
        with half_made(tmp_path / "d.shop") as other:
            assert mine.exists()
            assert other.exists()
    assert {one.name for one in tmp_path.iterdir()} == {"b.shop", ".mine.half"}


def test_a_disk_without_hard_links_takes_a_new_shop_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(source: object, target: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    make_file(tmp_path / "new.shop").close()
    with pytest.raises(ShopExists):
        make_file(tmp_path / "new.shop")
    assert list(content(tmp_path)) == ["new.shop"]


@pytest.fixture
def shared() -> Iterator[World]:
    """A shop in a folder that an unprivileged user can enter."""
    with open_folder() as folder:
        world = busy_shop(folder)
        world.shop.close()
        yield world


def test_a_file_that_cannot_be_read_says_so(shared: World) -> None:
    shared.shop.path.chmod(0)
    with unprivileged(), pytest.raises(Unreadable) as caught:
        Shop(shared.shop.path)
    one_line(caught.value)


def test_a_read_only_folder_gets_one_clear_line(shared: World) -> None:
    path = shared.shop.path
    path.chmod(0o644)
    path.parent.chmod(0o555)
    before = content(path.parent)
    with unprivileged(), pytest.raises(Unreadable) as caught:
        Shop(path)
    assert "write permission" in one_line(caught.value)
    with unprivileged(), pytest.raises(Unreadable) as caught:
        make_file(path.with_name("new.shop"))
    assert "--shop" in one_line(caught.value)
    path.parent.chmod(0o755)
    assert content(path.parent) == before


def test_a_read_only_file_is_read_and_not_written(shared: World) -> None:
    path = shared.shop.path
    path.chmod(0o444)
    path.parent.chmod(0o777)
    with unprivileged():
        shared.shop = Shop(path)
        before = shared.events()
        with pytest.raises(Unreadable) as caught:
            set_rate(shared)
        assert shared.events() == before
        shared.shop.close()
    assert "cannot be written" in one_line(caught.value)


def test_a_folder_that_cannot_be_entered_says_so(shared: World) -> None:
    shared.shop.path.parent.chmod(0o600)
    for attempt in (Shop, make_file):
        with unprivileged(), pytest.raises(Unreadable):
            attempt(shared.shop.path)
    shared.shop.path.parent.chmod(0o755)
