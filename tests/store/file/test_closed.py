"""What is made is its owner's alone whatever the umask says, and what is open to others is said."""

from __future__ import annotations

import os
import shlex
import stat
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.file.backup import backup, restore
from store.file.closed import open_to_others
from store.file.csv_folder import csv_folder
from store.file.learned.alone import alone, side_file
from store.file.making import make_file
from store.file.shop import Shop
from store.file.text_out import write_text
from store.file.verify import verify
from store.file.whole import half_made
from tests.store.actions.made import World
from tests.store.file.acts import set_rate
from tests.store.file.people import open_folder, unprivileged
from tests.store.made import busy_shop


@pytest.fixture
def careless() -> Iterator[Path]:
    """A folder that anybody may enter, while everything made is made for everybody."""
    with open_folder() as folder:
        before = os.umask(0)
        try:
            yield folder
        finally:
            os.umask(before)


def modes(folder: Path) -> dict[str, int]:
    """The permissions of all that lies in a folder."""
    return {one.name: stat.S_IMODE(one.stat().st_mode) for one in folder.iterdir()}


def refused_to_others(path: Path) -> bool:
    """Whether somebody else may neither read nor write it; by its mode where nobody else is."""
    if os.geteuid() != 0:
        return not stat.S_IMODE(path.stat().st_mode) & 0o077
    with unprivileged():
        return not _opens(path)


def _opens(path: Path) -> bool:
    try:
        with path.open("rb"):
            return True
    except OSError:
        return False


def world_in(folder: Path) -> World:
    """A shop made in a folder that was not there, as `hoistbook init` makes it, with content."""
    path = folder / "data" / "hoistbook" / "shop.shop"
    make_file(path).close()
    (folder / "other").mkdir(0o700)
    made = busy_shop(folder / "other")
    made.shop.close()
    path.write_bytes(made.shop.path.read_bytes())  # the file, and so its permissions, stay
    return World(Shop(path), made.now, made.acts)


def test_a_shop_and_its_side_files_are_its_owners(careless: Path) -> None:
    world = world_in(careless)
    set_rate(world)
    with alone(world.shop.path) as mine:
        assert mine
        found = modes(world.shop.path.parent)
        assert side_file(world.shop.path).name in found
        assert {f"shop.shop{one}" for one in ("", "-wal", "-shm")} <= found.keys()
        assert set(found.values()) == {0o600}, found
        for one in world.shop.path.parent.iterdir():
            assert refused_to_others(one)
    assert modes(careless)["data"] == modes(careless / "data")["hoistbook"] == 0o700
    world.shop.close()


def test_a_backup_and_what_is_restored_from_it_are_their_owners(careless: Path) -> None:
    world = world_in(careless)
    saved, new = careless / "b.shop", careless / "new" / "shop"
    backup(world.shop, saved)
    restore(saved, new)
    assert modes(careless)["b.shop"] == modes(new.parent)["shop"] == 0o600
    assert modes(careless)["new"] == 0o700
    world.shop.close()


def test_what_is_on_its_way_is_nobody_elses_either(careless: Path) -> None:
    with half_made(careless / "b.shop") as half:
        assert modes(careless) == {half.name: 0o600}
    assert modes(careless) == {}


def test_a_restored_file_goes_on_belonging_to_those_who_had_the_old_one(careless: Path) -> None:
    world = world_in(careless)
    backup(world.shop, careless / "b.shop")
    path = world.shop.path
    path.chmod(0o664)
    if os.geteuid() == 0:
        os.chown(path, 1234, 4321)
    was = path.stat()
    done = restore(careless / "b.shop", path, replace=True)
    assert done.kept is not None
    now = path.stat()
    assert (now.st_uid, now.st_gid) == (was.st_uid, was.st_gid)
    assert stat.S_IMODE(now.st_mode) == 0o660
    world.shop.close()


def test_reports_are_their_owners(careless: Path) -> None:
    write_text(careless / "m.html", "<p>")
    with csv_folder(careless / "month", {"t.csv": ("who",)}, "2026-10") as tables:
        tables["t.csv"].row(("2026-10",))
    assert modes(careless) == {"m.html": 0o600, "month": 0o700}
    assert modes(careless / "month") == {"t.csv": 0o600}


def test_a_file_that_others_can_read_is_named_with_what_closes_it(careless: Path) -> None:
    world = world_in(careless)
    path = world.shop.path
    assert open_to_others(path) is None
    set_rate(world)
    for one in path.parent.iterdir():
        one.chmod(0o604)
    assert open_to_others(path) is None  # nobody else gets into its folder
    for one in (path.parent, path.parent.parent):
        one.chmod(0o755)
    says = open_to_others(path)
    assert says is not None
    assert f"chmod o= {path} {path}-wal {path}-shm" in says
    subprocess.run(shlex.split(says.split(": ", 1)[1]), check=True)
    assert open_to_others(path) is None
    assert refused_to_others(path)
    world.shop.close()


def test_a_folder_in_which_anybody_can_swap_the_file_is_named(careless: Path) -> None:
    world = world_in(careless)
    path = world.shop.path
    path.parent.parent.chmod(0o755)
    path.parent.chmod(0o777)
    says = open_to_others(path)
    assert says is not None
    assert says.endswith(f"chmod o= {path.parent}")
    path.parent.chmod(0o1777)
    assert open_to_others(path) is None
    path.parent.chmod(0o700)
    world.shop.close()
    assert verify(path).ok
