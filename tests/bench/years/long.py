"""What takes long on a shop file, done once each, in a process of its own:

    python -m tests.bench.years.long FILE NAME FOLDER

prints a JSON object: processor seconds, children included, and peak memory in MB.
"""

from __future__ import annotations

import json
import shutil
import sqlite3
import sys
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from store.file.layout import LAYOUT
from store.file.shop import Shop
from tests.bench.years.tasks import peak_mb
from tui.now import ShopClock


def _verify(path: Path, folder: Path) -> object:
    from store.file.verify import verify

    verdict = verify(path)
    assert verdict.ok, verdict
    return verdict


def _backup(path: Path, folder: Path) -> object:
    from store.file.backup import backup

    target = folder / "backup.shop"
    target.unlink(missing_ok=True)
    with closing(Shop(path)) as shop:
        return backup(shop, target)


def _restore(path: Path, folder: Path) -> object:
    from store.file.backup import restore

    target = folder / "restored.shop"
    target.unlink(missing_ok=True)
    done = restore(path, target)
    target.unlink()
    return done


def _export(path: Path, folder: Path) -> object:
    from store.edges.tables import cells
    from store.file.csv_out import csv_files
    from store.views.history import past

    target = folder / "history.csv"
    target.unlink(missing_ok=True)
    with closing(Shop(path)) as shop:
        found = past(shop)
        with csv_files((target, cells.HISTORY)) as (file,):
            return file.rows(cells.of_record(one, found.zone) for one in found.records)


def _upgrade(path: Path, folder: Path) -> object:
    """As if the tables were those of the layout before: they are made anew."""
    older = folder / "older.shop"
    shutil.copyfile(path, older)
    with closing(sqlite3.connect(older)) as db:
        db.execute(f"pragma user_version = {LAYOUT - 1}")
    start = time.process_time()
    Shop(older).close()
    spent = time.process_time() - start
    older.unlink()
    return spent


def _learn(path: Path, folder: Path) -> object:
    """From nothing: all that was ever finished, and every job's forecast."""
    from store.file.learned.own import ShopLearner
    from store.file.learned.turns import Turns

    with closing(Shop(path)) as shop:
        return Turns(shop, ShopLearner(), ShopClock(shop).look).anew()


def _again(path: Path, folder: Path) -> object:
    """After an entry, with everything known already: the turn that the learner's process does."""
    from store.file.learned.own import ShopLearner
    from store.file.learned.turns import Turns

    with closing(Shop(path)) as shop:
        return Turns(shop, ShopLearner(), ShopClock(shop).look).keep_up()


LONG: dict[str, Callable[[Path, Path], object]] = {
    "verify": _verify, "backup (with its verify)": _backup, "restore (with its verify)": _restore,
    "history export": _export, "opening an older layout": _upgrade,
    "everything learned anew": _learn, "a turn of the learner": _again,
}  # fmt: skip


def measured(path: Path, name: str, folder: Path) -> dict[str, float]:
    """Do it once."""
    start = time.process_time()
    said = LONG[name](path, folder)
    spent = said if isinstance(said, float) else time.process_time() - start
    return {"s": spent, "mb": peak_mb()}


if __name__ == "__main__":
    print(json.dumps(measured(Path(sys.argv[1]), sys.argv[2], Path(sys.argv[3]))))
