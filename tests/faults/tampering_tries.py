"""One shop file changed by other means than an action, again and again; does `verify` name it?"""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from store.file.backup import backup, restore
from store.file.verify import Verdict, verify
from store.trouble import Trouble
from tests.faults.row import Outcome, Tries
from tests.faults.tampering_loose import Edit, Edited
from tests.store.made import busy_shop

SIDE = ("-wal", "-shm")


@dataclass(slots=True)
class Count:
    """What became of the tries so far."""

    tried: int = 0
    beside: int = 0
    lost: int = 0
    recovered: int = 0
    notes: list[str] = field(default_factory=list[str])

    def found(self, *, well: bool, again: bool, note: str) -> None:
        """One more fault that did happen: was it found as it must be, and all put right again."""
        self.tried += 1
        self.recovered += again
        if not well or not again:
            self.lost += not well
            self.notes.append(note)

    def outcome(self) -> Outcome:
        """The count as the table takes it."""
        return Outcome(self.tried, self.beside, self.lost, self.recovered, tuple(self.notes))


@dataclass(frozen=True, slots=True)
class Prey:
    """A shop file to be changed, its backup, and the same file as it was."""

    path: Path
    saved: Path
    whole: Path

    def fresh(self) -> Path:
        """The file as it was."""
        for ending in SIDE:
            self.path.with_name(self.path.name + ending).unlink(missing_ok=True)
        return Path(shutil.copy(self.whole, self.path))

    def restored(self) -> bool:
        """Whether the backup takes the changed file's place, and verifies there."""
        done = restore(self.saved, self.path, replace=True)
        assert done.kept is not None
        done.kept.unlink()
        return verify(self.path, against=self.saved).ok


def prey(folder: Path) -> Prey:
    """A busy shop that nobody has open: every table of it has rows."""
    shop = busy_shop(folder).shop
    saved, whole = folder / "saved.shop", folder / "whole.shop"
    backup(shop, saved)
    shop.close()
    shutil.copy(shop.path, whole)
    return Prey(shop.path, saved, whole)


def content(path: Path) -> dict[str, object] | None:
    """All that can be read of a file, as SQL writes it down; None where it cannot be read."""
    with suppress(sqlite3.DatabaseError, UnicodeDecodeError):
        db = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
        db.text_factory = bytes
        try:
            found: dict[str, object] = {
                "schema": db.execute("select name, sql from sqlite_master order by 1").fetchall()
            }
            tables = db.execute("select name from sqlite_master where type = 'table'").fetchall()
            for (name,) in tables:
                table = name.decode()
                names = db.execute("select name from pragma_table_info(?)", [table]).fetchall()
                quoted = ", ".join(f'quote("{one.decode()}")' for (one,) in names)
                found[table] = sorted(db.execute(f'select {quoted} from "{table}"').fetchall())
            return found
        finally:
            db.close()
    return None


def judged(path: Path) -> Verdict:
    """The verdict; what is said instead of one is a verdict too, but not a traceback."""
    try:
        return verify(path)
    except Trouble as trouble:
        return Verdict(False, 0, None, None, str(trouble))
    except Exception as error:
        return Verdict(False, 0, None, None, f"a traceback:\n{error!r}")


def names(verdict: Verdict, edited: Edited) -> bool:
    """Whether a verdict says on one line what was changed."""
    says = verdict.says
    if verdict.ok or not says.isprintable():
        return False
    if edited.seqs:
        return verdict.table == "ledger" and verdict.seq in edited.seqs
    return not edited.table or verdict.table == edited.table


def edits(ways: tuple[Edit, ...], tries: Tries) -> Outcome:
    """Make single edits of one shop file, each beginning with the file as it was."""
    at = prey(tries.folder)
    was, count = content(at.whole), Count()
    while count.tried < tries.times:
        path, way = at.fresh(), tries.dice.choice(ways)
        edited = _made(way, path, tries.dice)
        if edited is None or content(path) == was:
            count.beside += 1
            continue
        verdict = judged(path)
        well = names(verdict, edited)
        count.found(
            well=well, again=well and at.restored(),
            note=f"{way.__name__}: {edited.says[:300]!a}: {verdict.says}",
        )  # fmt: skip
    return count.outcome()


def _made(way: Edit, path: Path, dice: Random) -> Edited | None:
    """Make an edit; None where the table takes no such row."""
    try:
        return way(path, dice)
    except (sqlite3.IntegrityError, sqlite3.OperationalError, OverflowError, UnicodeEncodeError):
        return None
