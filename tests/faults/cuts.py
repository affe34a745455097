"""Power cuts: the disk keeps what it was asked to keep, and of the rest whatever it likes."""

from __future__ import annotations

import pickle
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from store.trouble import Trouble
from tests.faults.cuts_left import (
    Lived,
    acts_there,
    backup_there,
    new_there,
    restored_there,
    upgraded_there,
)
from tests.faults.disk import Disk, cut_at
from tests.faults.dying import Asked
from tests.faults.forge import forge
from tests.faults.kills_files import nothing, older, to_restore
from tests.faults.kills_left import ready
from tests.faults.kills_more import with_people
from tests.faults.recorded import Op
from tests.faults.row import Outcome, Row, Tries
from tests.faults.traced import lacks_tracing

IMAGES = 40
"""Cuts that are tried of one process's life."""


@dataclass(frozen=True, slots=True)
class Cut:
    """What is done while the power goes.

    Attributes:
        there: says what is not as it must be, given the folder as it is found, the lines that
            were said before the cut, and the life as it was undisturbed.
    """

    work: str
    without: str
    ready: Callable[[Path], None]
    there: Callable[[Path, list[str], Lived], list[str]]


@dataclass(slots=True)
class _Count:
    tried: int = 0
    beside: int = 0
    lost: int = 0
    recovered: int = 0


def cut(what: Cut, tries: Tries) -> Outcome:
    """Let a process live, and look at the disk at random moments of its life."""
    count, notes = _Count(), list[str]()
    for life in range(tries.times + 5):
        lived = _lived(what, tries, life)
        for _ in range(min(IMAGES, 2 * tries.times)):
            if count.tried < tries.times and (tries.protected or not count.lost):
                _once(what, tries, lived, count, notes)
        if count.tried >= tries.times or (count.lost and not tries.protected):
            break
    return Outcome(count.tried, count.beside, count.lost, count.recovered, tuple(notes[:6]))


def _lived(what: Cut, tries: Tries, life: int) -> Lived:
    folder, log = tries.folder / f"life {life}", tries.folder / "log"
    folder.mkdir()
    what.ready(folder)
    before = {one.name: one.read_bytes() for one in folder.iterdir()}
    without = "" if tries.protected else what.without
    seed = tries.dice.getrandbits(32)
    died = forge().ask(Asked(what.work, str(folder), seed, without, log=str(log)))
    assert not died.fell, "what is to be cut off does not even run"
    return Lived(folder, before, pickle.loads(log.read_bytes()))


def _once(what: Cut, tries: Tries, lived: Lived, count: _Count, notes: list[str]) -> None:
    """Cut the power once, and look at what is found."""
    done = lived.done
    at, kept = _moment(tries, done), tries.dice.choice((0.0, 0.0, 0.5, 0.9))
    if not tries.protected:
        kept = 0.0
    disk = Disk(lived.whole, lived.before)
    said = cut_at(disk, done[:at])
    if not disk.open and not any(one.startswith("done") for one in said):
        count.beside += 1
        return
    count.tried += 1
    folder = tries.folder / "found"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, data in disk.left(tries.dice, kept).items():
        (folder / name).write_bytes(data)
    try:
        wrong = what.there(folder, said, lived)
    except Trouble as trouble:
        wrong = [str(trouble)]
    count.lost += bool(wrong)
    count.recovered += not wrong
    notes += [f"operation {at} of {len(done)}, {kept} kept: {one}" for one in wrong]


def _moment(tries: Tries, done: list[Op]) -> int:
    """Just after something was acknowledged (always, to see it fail), or anywhere."""
    begun = next(n for n, op in enumerate(done) if op.kind == "said")
    told = [n + 1 for n, op in enumerate(done) if op.kind == "said" and op.name[:4] == "done"]
    if tries.dice.random() < 0.4 or not tries.protected:
        return tries.dice.choice(told)
    return tries.dice.randint(begun + 1, len(done))


MADE = (
    "all writes and syncs of a process are recorded; of the unsynced a random part is on the disk"
)
KNOWN = "at the cut something was acknowledged, or written and not synced"


def _row(kind: str, without: str, what: Cut, quick: int, long: int, bare: int) -> Row:
    return Row(f"power cut while {kind}", MADE, KNOWN, without, partial(cut, what),
               quick, long, bare, lacks_tracing)  # fmt: skip


NORMAL = "synchronous = full (normal instead): acts that were acknowledged are gone"
OFF = "any sync (off): the file is torn, or old although it was said to be new"
FSYNC = "fsync of the new file and its folder: "
ROWS: tuple[Row, ...] = (
    _row("acting", NORMAL, Cut("acts", "full", ready, acts_there), 8, 300, 12),
    _row("erasing customers, each time with a checkpoint", OFF,
         Cut("erasing", "any", with_people, acts_there), 3, 150, 12),
    _row("founding a shop", FSYNC + "the shop that was said to be made is torn or gone",
         Cut("founding", "fsync", nothing, new_there), 4, 150, 20),
    _row("backing up", FSYNC + "the backup that was said to be made is torn or gone",
         Cut("backing up", "fsync", ready, backup_there), 4, 150, 20),
    _row("restoring over a shop", FSYNC + "old and new are torn or gone",
         Cut("restoring", "fsync", to_restore, restored_there), 2, 150, 20),
    _row("bringing an older file up to date", OFF,
         Cut("upgrading", "any", older, upgraded_there), 4, 150, 12),
)  # fmt: skip
