"""A backup is proven or not there; a restore puts the shop back or leaves all as it was."""

from __future__ import annotations

import resource
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from store.file import opening
from store.file.backup import backup, restore
from store.file.layout import LAYOUT
from store.file.shop import Shop
from store.file.trouble import (
    AlreadyThere,
    Busy,
    Damaged,
    NewerShop,
    NoBackup,
    NoShop,
    NotAShop,
    NotProven,
    NotWritten,
    Unreadable,
)
from store.file.verify import verify
from store.trouble import Trouble
from tests.store.actions.made import World
from tests.store.file.acts import content, one_line, set_pragma, set_rate
from tests.store.file.edits import tampering
from tests.store.file.people import open_folder, unprivileged
from tests.store.file.test_layout import ROOT, age
from tests.store.made import busy_shop


@pytest.fixture
def saved(world: World, tmp_path: Path) -> Path:
    """A backup of the busy shop, after which one more rate was set."""
    target = tmp_path / "kept" / "backup.shop"
    target.parent.mkdir()
    backup(world.shop, target)
    set_rate(world, 66)
    return target


def refused(act: Callable[[], object], kind: type[Trouble]) -> str:
    """The words in which an act was refused."""
    with pytest.raises(kind) as caught:
        act()
    return one_line(caught.value)


# --- backup ---------------------------------------------------------------------------------


def test_a_backup_is_the_shop_as_it_was(world: World, tmp_path: Path) -> None:
    target = tmp_path / "backup.shop"
    verdict = backup(world.shop, target)
    assert (verdict.ok, verdict.events) == (True, world.events())
    copy = World(Shop(target))
    assert copy.tables() == world.tables()
    assert copy.all("select * from ledger") == world.all("select * from ledger")
    assert copy.all("select * from pin_private") == world.all("select * from pin_private")
    copy.shop.close()


def test_a_backup_is_one_file_that_can_be_carried_away(world: World, saved: Path) -> None:
    assert list(content(saved.parent)) == [saved.name]
    assert verify(saved).ok
    assert list(content(saved.parent)) == [saved.name]


WRITE = """
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from store.actions import settings
from store.file.change import By
from store.file.shop import Shop
shop = Shop(Path(sys.argv[1]))
now = datetime(2026, 10, 20, 6, 0, tzinfo=UTC)
n = 0
while n < 100_000:
    n += 1
    now += timedelta(seconds=1)
    by = By("OWN", sys.argv[2], now, pin="2468", key=f"{sys.argv[2]}-{n:08}")
    settings.set_rate(shop, by, per_hour=n)
    print(n, flush=True)
"""


def writer(path: Path, terminal: str) -> subprocess.Popen[str]:
    """A process that writes one act after the other, saying each once it is durable."""
    return subprocess.Popen(
        [sys.executable, "-c", WRITE, str(path), terminal], cwd=ROOT, text=True,
        stdout=subprocess.PIPE,
    )  # fmt: skip


def test_a_backup_of_a_shop_in_use_is_whole(world: World, tmp_path: Path) -> None:
    other = writer(world.shop.path, "bay-2")
    assert other.stdout is not None
    assert other.stdout.readline() == "1\n"
    before = world.events()
    verdict = backup(world.shop, tmp_path / "backup.shop")
    after = world.events()
    other.kill()
    other.communicate()
    assert before <= verdict.events <= after
    assert verify(tmp_path / "backup.shop").ok
    assert verify(world.shop.path).ok


def test_a_backup_overwrites_nothing(world: World, saved: Path) -> None:
    before = content(saved.parent)
    says = refused(lambda: backup(world.shop, saved), AlreadyThere)
    assert "another name" in says
    assert content(saved.parent) == before


def test_a_backup_into_a_folder_that_is_not_there_makes_none(world: World, tmp_path: Path) -> None:
    refused(lambda: backup(world.shop, tmp_path / "stick" / "b.shop"), Unreadable)
    assert not (tmp_path / "stick").exists()


def test_a_backup_where_nothing_can_be_written_says_so(world: World) -> None:
    with open_folder() as folder:
        shop = busy_shop(folder).shop
        (folder / "stick").mkdir(mode=0o555)
        with unprivileged():
            refused(lambda: backup(shop, folder / "stick" / "b.shop"), Unreadable)
        shop.close()
        assert content(folder / "stick") == {}


def test_a_backup_that_does_not_fit_leaves_nothing(world: World, tmp_path: Path) -> None:
    target = tmp_path / "stick" / "b.shop"
    target.parent.mkdir()
    _, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, hard))
    try:
        refused(lambda: backup(world.shop, target), NotWritten)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
    assert content(target.parent) == {}


def test_a_shop_that_disagrees_with_its_ledger_is_not_taken_for_a_backup(world: World) -> None:
    with tampering(world.shop.path) as db:
        db.execute("update rate set per_hour = 1")
    target = world.shop.path.with_name("backup.shop")
    says = refused(lambda: backup(world.shop, target), NotProven)
    assert "Table rate" in says
    assert not target.exists()


# --- restore --------------------------------------------------------------------------------


def test_a_backup_is_restored_where_nothing_is(saved: Path, tmp_path: Path) -> None:
    target = tmp_path / "new folder" / "shop"
    done = restore(saved, target)
    assert done.kept is None
    assert done.verdict.ok
    assert list(content(target.parent)) == ["shop"]
    world = World(Shop(target), busy_shop(tmp_path).now)
    assert world.events() == done.verdict.events
    set_rate(world)
    world.shop.close()
    assert verify(target).ok


def test_what_is_there_is_not_overwritten_unasked(world: World, saved: Path) -> None:
    before = world.events()
    says = refused(lambda: restore(saved, world.shop.path), AlreadyThere)
    assert "--replace" in says
    assert world.events() == before


def test_a_shop_that_gives_way_is_kept_whole(world: World, saved: Path) -> None:
    before = world.events()
    done = restore(saved, world.shop.path, replace=True)
    assert done.kept is not None
    assert done.verdict.events == before - 1
    world.shop.close()
    assert verify(done.kept).events == before
    assert verify(world.shop.path).events == before - 1


def test_a_terminal_that_has_it_open_goes_on_with_what_was_restored(
    world: World, saved: Path
) -> None:
    set_rate(world, 70)
    before = world.events()
    done = restore(saved, world.shop.path, replace=True)
    assert done.kept is not None
    assert world.events() == before - 2
    set_rate(world, 71)
    assert world.events() == before - 1
    world.shop.close()
    assert verify(world.shop.path).ok
    assert verify(done.kept).events == before


def test_restoring_twice_keeps_both(world: World, saved: Path) -> None:
    kept = [restore(saved, world.shop.path, replace=True).kept for _ in range(2)]
    assert len({*kept}) == 2
    assert all(one is not None and verify(one).ok for one in kept)


def test_a_restore_while_another_terminal_writes_loses_nothing_that_is_kept(
    world: World, saved: Path
) -> None:
    other = writer(world.shop.path, "bay-2")
    assert other.stdout is not None
    assert other.stdout.readline() == "1\n"
    done = restore(saved, world.shop.path, replace=True)
    assert other.stdout.readline()
    other.kill()
    rest = other.communicate()[0].split()
    assert done.kept is not None
    world.shop.close()
    old, new = verify(done.kept), verify(world.shop.path)
    assert old.ok, old
    assert new.ok, new
    last = int(rest[-1]) if rest else 2
    found = 0
    for path in (done.kept, world.shop.path):
        db = sqlite3.connect(path)
        found += db.execute("select count(*) from ledger where terminal = 'bay-2'").fetchone()[0]
        db.close()
    assert found in (last, last + 1)  # the one under way when it was killed may hold


def test_a_busy_shop_does_not_give_way(
    world: World, saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "BUSY_S", 0.0)
    before = world.events()
    other = sqlite3.connect(world.shop.path, isolation_level=None)
    other.execute("begin immediate")
    refused(lambda: restore(saved, world.shop.path, replace=True), Busy)
    other.close()
    assert world.events() == before
    assert not list(world.shop.path.parent.glob("*replaced*"))


def test_a_shop_that_somebody_looks_at_all_the_time_does_not_give_way(
    world: World, saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "BUSY_S", 0.0)
    other = sqlite3.connect(world.shop.path, isolation_level=None)
    other.execute("begin")
    other.execute("select count(*) from ledger").fetchone()
    set_rate(world, 70)  # in the log, from where it cannot go into the file now
    before = world.events()
    refused(lambda: restore(saved, world.shop.path, replace=True), Busy)
    other.close()
    assert world.events() == before
    assert not list(world.shop.path.parent.glob("*replaced*"))


def test_a_restore_that_was_cut_short_says_where_the_shop_is(world: World, saved: Path) -> None:
    world.shop.close()
    aside = world.shop.path.with_name(f"{world.shop.path.name}.replaced-1")
    world.shop.path.rename(aside)
    says = refused(lambda: Shop(world.shop.path), NoShop)
    assert str(aside) in says
    assert "restore" in says
    assert restore(saved, world.shop.path, replace=True).verdict.ok
    assert verify(aside).ok


def test_a_torn_shop_gives_way_to_its_backup(world: World, saved: Path) -> None:
    world.shop.close()
    with world.shop.path.open("r+b") as file:
        file.seek(100)
        file.write(b"\xff" * 500_000)
    torn = world.shop.path.read_bytes()
    done = restore(saved, world.shop.path, replace=True)
    assert done.kept is not None
    assert done.kept.read_bytes() == torn
    assert verify(world.shop.path).ok


def a_text(path: Path) -> None:
    path.write_text("badge;name\n" * 1000)


def another_database(path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("create table a (b)")
    db.close()


@pytest.mark.parametrize("make", [a_text, another_database, Path.touch, Path.mkdir])
def test_what_is_no_shop_never_gives_way(
    saved: Path, tmp_path: Path, make: Callable[[Path], None]
) -> None:
    target = tmp_path / "mine" / "it"
    target.parent.mkdir()
    make(target)
    before = content(target.parent)
    refused(lambda: restore(saved, target, replace=True), NotAShop)
    assert content(target.parent) == before


@pytest.mark.parametrize("make", [a_text, another_database, Path.touch, Path.mkdir, None])
def test_what_is_no_backup_is_not_restored(
    world: World, tmp_path: Path, make: Callable[[Path], None] | None
) -> None:
    source, before = tmp_path / "it", world.events()
    if make is not None:
        make(source)
    says = refused(lambda: restore(source, world.shop.path, replace=True), NoBackup)
    assert str(source) in says
    assert world.events() == before


def test_the_shop_file_is_no_backup_of_itself(world: World) -> None:
    refused(lambda: restore(world.shop.path, world.shop.path, replace=True), NoBackup)
    assert world.events()


def test_a_backup_that_was_tampered_with_is_not_restored(world: World, saved: Path) -> None:
    with tampering(saved) as db:
        db.execute("update person set role = 'owner'")
    before = world.events()
    says = refused(lambda: restore(saved, world.shop.path, replace=True), NotProven)
    assert str(saved) in says
    assert "Table person" in says
    assert world.events() == before
    assert not list(world.shop.path.parent.glob(".*"))


def test_a_torn_backup_is_not_restored(world: World, saved: Path) -> None:
    with saved.open("r+b") as file:
        file.seek(4096)
        file.write(b"\xff" * 500_000)
    before = world.events()
    says = refused(lambda: restore(saved, world.shop.path, replace=True), Damaged)
    assert str(saved) in says
    assert world.events() == before


def test_a_backup_of_a_newer_program_is_named_and_not_restored(world: World, saved: Path) -> None:
    set_pragma(saved, "user_version", LAYOUT + 1)
    says = refused(lambda: restore(saved, world.shop.path, replace=True), NewerShop)
    assert str(saved) in says


def test_a_backup_of_an_older_program_is_brought_up_to_date(saved: Path, tmp_path: Path) -> None:
    age(saved)
    before = saved.read_bytes()
    assert restore(saved, tmp_path / "new").verdict.ok
    assert verify(tmp_path / "new").ok
    assert saved.read_bytes() == before


def test_a_backup_on_a_medium_that_cannot_be_written_is_restored(tmp_path: Path) -> None:
    with open_folder() as folder:
        source = folder / "stick" / "b.shop"
        source.parent.mkdir()
        shop = busy_shop(tmp_path).shop
        backup(shop, source)
        shop.close()
        source.chmod(0o444)
        source.parent.chmod(0o555)
        (folder / "home").mkdir(mode=0o777)
        (folder / "home").chmod(0o777)
        with unprivileged():
            restore(source, folder / "home" / "shop")
        assert verify(folder / "home" / "shop").ok


def test_what_a_deleted_shop_left_behind_does_not_get_into_the_restored_one(
    world: World, saved: Path, tmp_path: Path
) -> None:
    target = tmp_path / "again" / "shop"
    target.parent.mkdir()
    for ending in ("-wal", "-shm"):
        shutil.copy(f"{world.shop.path}{ending}", f"{target}{ending}")
    events = restore(saved, target).verdict.events
    assert verify(target).events == events
