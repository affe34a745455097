"""A row of the table: a backup is made while others write, and must be the shop at one moment."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Generator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from store.file.backup import backup, restore
from store.file.shop import Shop
from store.file.verify import verify
from store.trouble import Trouble
from tests.faults.row import Outcome, Row, Tries
from tests.faults.small_shop import small_shop
from tests.faults.tampering_tries import Count

ROOT = Path(__file__).parents[2]
WRITERS = 2


@contextmanager
def writers(path: Path) -> Generator[None]:
    """Processes that write all the time; each has written once before it goes on."""
    begun = [
        subprocess.Popen(
            [sys.executable, "-m", "tests.faults.steady", str(path), f"bay-{n}-writes"],
            cwd=ROOT, stdout=subprocess.PIPE, text=True,
        )
        for n in range(WRITERS)
    ]  # fmt: skip
    try:
        for one in begun:
            assert one.stdout is not None
            assert one.stdout.readline() == "1\n"
        yield
    finally:
        for one in begun:
            one.kill()
            one.wait()


def events(path: Path) -> int:
    """How many entries are durable."""
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as db:
        return int(db.execute("select count(*) from ledger").fetchone()[0])


def while_in_use(tries: Tries) -> Outcome:
    """Make backups while processes write; restore each beside the shop."""
    shop, count = small_shop(tries.folder), Count()
    with closing(shop), writers(shop.path):
        while count.tried < tries.times:
            target = tries.folder / f"b{count.tried + count.beside}.shop"
            before = events(shop.path)
            says = _copied(shop, target, protected=tries.protected)
            after = events(shop.path)
            if after == before:
                count.beside += 1
                continue
            well = not says and before <= events(target) <= after
            count.found(well=well, again=well and _restored(target), note=says or "entries lack")
    return count.outcome()


def _copied(shop: Shop, target: Path, *, protected: bool) -> str:
    """Make a backup, or a plain copy of the file; return what is wrong with it."""
    try:
        if protected:
            backup(shop, target)
            return ""
        shutil.copyfile(shop.path, target)
        found = verify(target)
        return "" if found.ok else found.says
    except Trouble as trouble:
        return str(trouble)


def _restored(saved: Path) -> bool:
    new = saved.with_suffix(".new")
    with suppress(Trouble):
        return restore(saved, new).verdict.ok
    return False


ROWS = (
    Row(
        "backup of a shop in use",
        f"a backup while {WRITERS} processes write as fast as they can",
        "the ledger was longer after the backup than before it",
        "the backup, a plain copy of the file instead: acknowledged entries are not in it",
        while_in_use, quick=2, long=60, bare=2,
    ),
)  # fmt: skip
