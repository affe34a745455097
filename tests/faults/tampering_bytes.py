"""Bits turned over in a shop file and in its write-ahead log, as a bad disk or an editor would."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import ExitStack
from pathlib import Path
from random import Random
from unittest.mock import patch

from store.actions import settings
from store.file import verify as looks
from store.file.shop import Shop
from store.file.verify import verify
from tests.faults.row import Outcome, Tries
from tests.faults.tampering_tries import Count, content, judged, prey
from tests.store.actions.made import World
from tests.store.made import busy_shop

NOT_PROVEN = (
    "pin_tries", "demo_clock", "learned_part", "learned_forecast", "learned_turn", "learned_help",
    "learned_need", "customer_private", "private_word",
)  # fmt: skip
"""Tables whose values nothing in the file proves: see the guide."""


def nothing(*_: object) -> None:
    """A look that finds nothing."""


def turn_over(path: Path, dice: Random, bits: int, begin: int = 0) -> list[int]:
    """Turn bits over; return where."""
    with path.open("r+b") as file:
        size = path.stat().st_size
        places = [dice.randrange(begin, size) for _ in range(bits)]
        for place in places:
            file.seek(place)
            byte = file.read(1)[0]
            file.seek(place)
            file.write(bytes([byte ^ 1 << dice.randrange(8)]))
    return places


def of_file(tries: Tries) -> Outcome:
    """Turn bits of the file over; what changes no value and no page's order is none of it."""
    at, count = prey(tries.folder), Count()
    was = _proven(at.whole)
    with ExitStack() as bare:
        if not tries.protected:
            for name in ("_check_table", "_check_pages", "_check_pins"):
                bare.enter_context(patch.object(looks, name, nothing))
        while count.tried < tries.times:
            path = at.fresh()
            places = turn_over(path, tries.dice, tries.dice.randint(1, 3))
            verdict, now = judged(path), _proven(path)
            if verdict.ok and now == was:
                count.beside += 1
                continue
            well = not verdict.ok and verdict.says.isprintable()
            again = well and _taken_over(at.saved, path)
            count.found(well=well, again=again, note=f"bytes {places}: {verdict.says}")
    return count.outcome()


def _proven(path: Path) -> dict[str, object] | None:
    found = content(path)
    if found is None:
        return None
    return {name: rows for name, rows in found.items() if name not in NOT_PROVEN}


def _taken_over(saved: Path, path: Path) -> bool:
    """Whether the backup verifies in the place of a file that may be no shop file any more."""
    path.unlink()
    shutil.copy(saved, path)
    return verify(path).ok


def of_side_file(tries: Tries) -> Outcome:
    """Turn a bit over in the log of what was acknowledged last, as the next terminal finds it.

    SQLite takes a log to end at the first frame whose checksum fails, and says nothing.
    """
    count, name = Count(), "killed.shop"
    world = busy_shop(tries.folder)
    assert world.shop.settle()
    acknowledged, last = _act(world)
    for ending in ("", "-wal"):
        shutil.copy(f"{world.shop.path}{ending}", tries.folder / f"whole{ending}")
    world.shop.close()
    path = tries.folder / name
    while count.tried < tries.times:
        for ending in ("", "-wal"):
            shutil.copy(tries.folder / f"whole{ending}", f"{path}{ending}")
        Path(f"{path}-shm").unlink(missing_ok=True)
        places = turn_over(Path(f"{path}-wal"), tries.dice, 1)
        verdict = judged(path)
        if verdict.ok and verdict.events == acknowledged:
            count.beside += 1
            continue
        well = not verdict.ok or (tries.protected and not verify(path, noted=[last]).ok)
        count.found(well=well, again=_goes_on(path), note=f"byte {places}: {verdict.says}")
    return count.outcome()


def _act(world: World) -> tuple[int, str]:
    for per_hour in (71, 72, 73):
        settings.set_rate(world.shop, world.by("OWN"), per_hour=per_hour)
    return world.events(), verify(world.shop.path).last


def _goes_on(path: Path) -> bool:
    """Whether the shop takes acts again and verifies."""
    world = World(Shop(path), World.now.replace(year=2027))
    try:
        settings.set_rate(world.shop, world.by("OWN"), per_hour=74)
    except sqlite3.DatabaseError:
        return False
    finally:
        world.shop.close()
    return verify(path).ok
