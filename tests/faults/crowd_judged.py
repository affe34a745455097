"""What a crowd did and saw, held against the ledger that is left of it."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from random import Random

from store.edges.instants import from_text
from store.file.ledger import Row, rows
from store.file.making import make_file
from store.file.shop import Shop
from store.file.tables import apply
from store.file.verify import verify
from tests.faults.crowd_said import Did, Fell, Line, Saw
from tests.faults.crowder import seen_at

SAMPLE = 150
"""Looks that are held against a replay, at most: each costs one more look."""


@dataclass(frozen=True, slots=True)
class Left:
    """The ledger that a crowd left: its rows after those that it began with, and acts by key."""

    rows: tuple[Row, ...]
    acts: dict[str, tuple[int, ...]]

    @property
    def ends(self) -> set[int]:
        """Entries with which an act ends."""
        return {seqs[-1] for seqs in self.acts.values()}


def left(path: Path, since: int) -> Left:
    """Read the ledger of a shop after an entry."""
    with closing(sqlite3.connect(path)) as db:
        found = tuple(rows(db, since_seq=since + 1))
    acts: dict[str, list[int]] = {}
    for row in found:
        acts.setdefault(row.key.partition(".")[0], []).append(row.seq)
    return Left(found, {key: tuple(seqs) for key, seqs in acts.items()})


def wrongs(path: Path, did: Sequence[Did], ledger: Left) -> Iterator[str]:
    """Say what is not as it must be: a sentence for each act lost, doubled, half there or
    nobody's, each message that speaks of the file's lock, and what `verify` says."""
    told: dict[str, tuple[int, ...]] = {}
    for one in did:
        if one.recorded:
            if one.key in told or one.again:
                yield f"doubled: {one.name} was acknowledged twice, as {one.recorded}"
            told[one.key] = one.recorded
        elif one.again and one.refused != "AlreadyRecorded":
            yield f"done again: {one.name} said {one.says!r}"
        if one.refused == "Busy" or "is locked" in one.says:
            yield f"busy: {one.name} said {one.says!r}"
    for key, seqs in told.items():
        if ledger.acts.get(key) != seqs:
            yield f"lost: {key} was acknowledged as {seqs}, there is {ledger.acts.get(key)}"
    for key, seqs in ledger.acts.items():
        if key not in told:
            yield f"nobody's: entries {seqs} were acknowledged to nobody"
    verdict = verify(path)
    if not verdict.ok:
        yield f"verify: {verdict.says}"
    yield from _clocks(path)


def _clocks(path: Path) -> Iterator[str]:
    with closing(sqlite3.connect(path)) as db:
        for person, many in db.execute(
            "select person, count(*) from clock where until is null group by 1 having count(*) > 1"
        ):
            yield f"clocks: {person} has {many} running"


def fell(lines: Iterable[Line]) -> Iterator[str]:
    """Say what was raised that is no refusal."""
    for one in lines:
        if isinstance(one, Fell):
            yield f"fell: {one.says[-300:]}"


def contended(did: Sequence[Did]) -> int:
    """Count the acts that found the write lock in another terminal's hands."""
    had = sorted((one for one in did if one.over), key=lambda one: one.had)
    return sum(
        before.over > one.wanted and before.terminal != one.terminal
        for before, one in pairwise(had)
    )


def turns_taken(ledger: Left) -> int:
    """Count the entries that follow one of another terminal."""
    names = [row.terminal for row in ledger.rows]
    return sum(one != before for before, one in pairwise(names))


def half_seen(saw: Sequence[Saw], ledger: Left, since: int) -> list[str]:
    """Name the looks that ended within an act, or that were of more than one moment."""
    ends = {since, *ledger.ends}
    return [
        f"half: {one.what} was seen at entry {one.seqs}"
        for one in saw
        if len(set(one.seqs)) > 1 or one.seqs[0] not in ends
    ]


def unlike(
    path: Path, folder: Path, saw: Sequence[Saw], dice: Random, sample: int = SAMPLE
) -> tuple[int, list[str]]:
    """Hold looks against a shop that is replayed up to the same entry.

    Returns:
        How many were held, and which differ.
    """
    picked = list(saw)
    dice.shuffle(picked)
    differ: list[str] = []
    with closing(sqlite3.connect(path)) as db:
        entries = rows(db)
        with closing(make_file(folder / "replayed.shop")) as shop:
            for one in sorted(picked[:sample], key=lambda one: one.seqs[0]):
                _advance(shop, entries, one.seqs[0])
                now = from_text(one.now)
                if seen_at(shop, one.what, now, one.badge) != one.digest:
                    differ.append(f"unlike: {one.what} at entry {one.seqs[0]}")
    return min(len(picked), sample), differ


def _advance(shop: Shop, entries: Iterator[Row], seq: int) -> None:
    with shop.beside() as db:
        last = db.execute("select coalesce(max(seq), 0) from ledger").fetchone()[0]
        while last < seq:
            row = next(entries)
            db.execute(f"insert into ledger values ({', '.join('?' * len(row))})", row)
            apply(db, row, row.event())
            last = row.seq


def counted(says: Sequence[str]) -> tuple[str, ...]:
    """How many of each kind, and the first of it."""
    kinds = Counter(one.partition(":")[0] for one in says)
    first = {one.partition(":")[0]: one for one in reversed(says)}
    return tuple(f"{many:,} x {first[kind]}" for kind, many in kinds.items())
