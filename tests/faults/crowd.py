"""Many terminals at one shop file: nothing lost, nothing doubled, nobody told of a lock."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from tests.faults.acts import small_shop
from tests.faults.crowd_judged import (
    Left,
    contended,
    counted,
    fell,
    half_seen,
    left,
    turns_taken,
    unlike,
    wrongs,
)
from tests.faults.crowd_said import Did, Line, Saw, read
from tests.faults.row import Outcome, Row, Tries

ROOT = Path(__file__).parents[2]
FEW, MANY = 4, 30
"""Terminals in the suite, and in the long run."""
A_MINUTE = 60.0
SOME = 1000
"""From so many times on it is the long run."""


@dataclass(frozen=True, slots=True)
class Crowd:
    """A crowd that went home.

    Attributes:
        since: newest entry before it came.
        lines: everything that its terminals wrote down.
    """

    path: Path
    since: int
    lines: tuple[Line, ...]
    ledger: Left

    @property
    def did(self) -> list[Did]:
        """What it did."""
        return [one for one in self.lines if isinstance(one, Did)]

    @property
    def saw(self) -> list[Saw]:
        """What it saw."""
        return [one for one in self.lines if isinstance(one, Saw)]


def gathered(
    folder: Path, seed: int, *, long: bool, looks: float = 0.3, again: float = 0.05,
    without: str = "",
) -> Crowd:  # fmt: skip
    """Let a crowd loose at a fresh shop and wait until it is gone."""
    folder.mkdir()
    shop = small_shop(folder)
    with shop.reading() as db:
        since = int(db.execute("select max(seq) from ledger").fetchone()[0])
    shop.close()
    size = ("--terminals", str(MANY), "--seconds", str(A_MINUTE)) if long else (
        "--terminals", str(FEW), "--turns", "24")  # fmt: skip
    subprocess.run(
        [sys.executable, "-m", "tests.faults.crowder", str(shop.path), str(folder), *size,
         "--seed", str(seed), "--looks", str(looks), "--again", str(again), "--without", without],
        cwd=ROOT, check=True,
    )  # fmt: skip
    return Crowd(shop.path, since, tuple(read(folder)), left(shop.path, since))


def writing(tries: Tries) -> Outcome:
    """All of them write: acts that found the lock taken are those that were tried."""
    tried = beside = acts = turns = rounds = 0
    says: list[str] = []
    while tried < tries.times:
        rounds += 1
        crowd = gathered(tries.folder / str(rounds), tries.dice.getrandbits(24),
                         long=tries.times >= SOME,
                         without="" if tries.protected else "lock first")  # fmt: skip
        met = contended(crowd.did) if tries.protected else len(crowd.did)
        tried, beside = tried + met, beside + len(crowd.did) - met
        acts, turns = acts + len(crowd.ledger.acts), turns + turns_taken(crowd.ledger)
        says += [*wrongs(crowd.path, crowd.did, crowd.ledger), *fell(crowd.lines)]
    whole = f"{acts:,} acts acknowledged; {turns:,} entries follow one of another terminal"
    return Outcome(tried, beside, len(says), tried if not says else max(0, tried - len(says)),
                   (whole, *counted(says)))  # fmt: skip


def looking(tries: Tries) -> Outcome:
    """Some look while others write: looks during which something was written were tried."""
    tried = beside = held = rounds = 0
    says: list[str] = []
    while tried < tries.times:
        rounds += 1
        folder = tries.folder / str(rounds)
        crowd = gathered(folder, tries.dice.getrandbits(24), long=tries.times >= SOME, looks=0.6,
                         without="" if tries.protected else "one look")  # fmt: skip
        met = [one for one in crowd.saw if one.after > one.seqs[0]]
        tried, beside = tried + len(met), beside + len(crowd.saw) - len(met)
        halves = half_seen(crowd.saw, crowd.ledger, crowd.since)
        whole = [one for one in met if len(set(one.seqs)) == 1]
        many, differ = unlike(crowd.path, folder, whole, tries.dice)
        held += many
        says += [*halves, *differ, *fell(crowd.lines)]
    return Outcome(tried, beside, len(says), tried if not says else max(0, tried - len(says)),
                   (f"{held:,} looks were held against a replay", *counted(says)))  # fmt: skip


def twice(tries: Tries) -> Outcome:
    """An answer is lost and the act done again."""
    tried = beside = rounds = 0
    says: list[str] = []
    while tried < tries.times:
        rounds += 1
        crowd = gathered(tries.folder / str(rounds), tries.dice.getrandbits(24),
                         long=tries.times >= SOME, looks=0.05, again=0.9,
                         without="" if tries.protected else "one key")  # fmt: skip
        again = [one for one in crowd.did if one.again]
        tried, beside = tried + len(again), beside + len(crowd.did) - len(again)
        says += [*wrongs(crowd.path, crowd.did, crowd.ledger), *fell(crowd.lines)]
    return Outcome(tried, beside, len(says), tried if not says else max(0, tried - len(says)),
                   counted(says))  # fmt: skip


ROWS: tuple[Row, ...] = (
    Row(
        "many terminals write at once",
        "30 processes, a minute of random acts by random people at one file, without a pause",
        "by the machine's steady clock: an act that wanted the write lock while another terminal "
        "had it",
        "the write lock taken before the first read (`begin` for `begin immediate`): "
        "\"another terminal is writing\" is shown, acts are refused",
        writing, quick=8, long=1000, bare=1,
    ),
    Row(
        "somebody looks while others write",
        "the same, with more looks: all tables, the floor, a bay",
        "a second look right after it finds a newer entry; each is held against the ledger "
        "replayed up to the entry seen",
        "the read transaction around a look: tables of different moments, half an act is seen",
        looking, quick=8, long=1000, bare=1,
    ),
    Row(
        "an answer is lost and the act is done again",
        "the same; nine of ten acknowledged acts are done a second time, as if no answer had come",
        "the ledger holds the first of both",
        "the key made before the first try (one for each try instead): acts are doubled",
        twice, quick=20, long=1000, bare=1,
    ),
)  # fmt: skip
