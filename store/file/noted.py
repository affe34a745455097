"""What was kept elsewhere of a ledger: a noted hash of its last entry, or a backup.

Whoever writes every hash anew from an edit on, or cuts off the end, and has the tables replayed,
leaves a file that agrees with itself. Only what lies elsewhere tells the difference.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from store.file.chain import named
from store.file.layout import refuse_foreign
from store.file.ledger import COLUMNS, FIRST, Row
from store.file.opening import as_trouble, code_of, connect, look_at
from store.file.trouble import NoBackup, NoShop, NotAShop
from store.trouble import Refused

SHOWN = 16
"""Digits of a hash that are shown: to find another entry with these takes 2^63 tries."""
BEGINNING = re.compile(rf"[0-9a-f]{{{SHOWN},64}}")


@dataclass(frozen=True, slots=True)
class Found:
    """What came of a comparison; `seq` is the first entry that is not as it was."""

    says: str
    wrong: bool = False
    seq: int | None = None


@dataclass(frozen=True, slots=True)
class Newest:
    """A backup, and its newest entry: its hash stands for all entries before it too."""

    path: Path
    seq: int
    hash: str


def beginning_of(noted: str) -> str:
    """Return what was noted of a hash.

    Raises:
        Refused: that is none, or too little of one.
    """
    beginning = noted.strip().lower()
    if not BEGINNING.fullmatch(beginning):
        raise Refused(
            f"{noted!a} is no noted hash. Type it as `hoistbook verify` showed it, "
            f"{SHOWN} digits at least."
        )
    return beginning


def look_for(db: sqlite3.Connection, beginning: str) -> Found:
    """Look for the entry whose hash was noted, in a ledger that agrees with itself."""
    row = db.execute(
        f"select {COLUMNS} from ledger where substr(hash, 1, ?) = ?", [len(beginning), beginning]
    ).fetchone()
    if row is None:
        return Found(
            f"No entry has the noted hash {beginning[:SHOWN]}: since then entries were cut off or "
            "the ledger was written anew. Compare with a backup: hoistbook verify --against FILE.",
            wrong=True,
        )  # fmt: skip
    return Found(f"The noted hash {beginning[:SHOWN]} is that of {named(Row(*row))}.")


def newest_of(path: Path) -> Newest:
    """Return the newest entry of a backup.

    Raises:
        NoBackup, NewerShop, Unreadable, Damaged: as they say.
    """
    try:
        look_at(path)
        with closing(connect(path, "ro")) as db:
            refuse_foreign(db, path)
            row = db.execute("select seq, hash from ledger order by seq desc limit 1").fetchone()
    except NoShop as error:
        raise NoBackup(path, "is not there") from error
    except NotAShop as error:
        raise NoBackup(path, "is not a shop file") from error
    except sqlite3.Error as error:
        if code_of(error).startswith("SQLITE_NOTADB") or not code_of(error):
            raise NoBackup(path, "is not a shop file") from error
        raise as_trouble(error, path) from error
    return Newest(path, *row) if row else Newest(path, 0, FIRST)


def compare(db: sqlite3.Connection, backup: Newest) -> Found:
    """Compare a ledger that agrees with itself with a backup's."""
    there = _hash_at(db, backup.seq) if backup.seq else FIRST
    if there == backup.hash:
        return Found(f"All {backup.seq:,} entries of {backup.path} are in it.")
    seq = _first_other(db, backup.path)
    row = db.execute(f"select {COLUMNS} from ledger where seq = ?", [seq]).fetchone()
    if row is None:
        return Found(
            f"The ledger ends before entry {seq:,}, {backup.path} goes on to {backup.seq:,}: "
            "entries were cut off, or this is an older copy.",
            wrong=True, seq=seq,
        )  # fmt: skip
    return Found(
        f"In the ledger {named(Row(*row))} is not the one in {backup.path}: since then it was "
        "changed, and all entries after it were written anew; or the backup was.",
        wrong=True, seq=seq,
    )  # fmt: skip


def _hash_at(db: sqlite3.Connection, seq: int) -> str | None:
    row = db.execute("select hash from ledger where seq = ?", [seq]).fetchone()
    return None if row is None else str(row[0])


def _first_other(db: sqlite3.Connection, backup: Path) -> int:
    """Return the first entry of a backup that is not in the ledger."""
    try:
        with closing(connect(backup, "ro")) as other:
            for seq, own in other.execute("select seq, hash from ledger order by seq"):
                if _hash_at(db, seq) != own:
                    return int(seq)
    except sqlite3.Error as error:
        raise as_trouble(error, backup) from error
    raise NoBackup(backup, "was changed while it was read")
