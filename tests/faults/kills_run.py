"""How a process is killed again and again, and what is counted of it."""

from __future__ import annotations

import shutil
import sqlite3
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from store.trouble import Trouble
from tests.faults.dying import Asked
from tests.faults.forge import Died, forge
from tests.faults.row import Outcome, Tries

BY_CALL = 0.7
"""Share of those killed at a call of the disk; the others at some moment."""
MOST_BESIDE = 30
"""Falls beside for each one that hit, after which nothing is tried any more."""


@dataclass(frozen=True, slots=True)
class Killed:
    """One process that was killed, and the folder as it left it.

    Attributes:
        asked: what it was to do.
        ready: makes a folder such as it began with.
    """

    folder: Path
    asked: Asked
    died: Died
    ready: Callable[[Path], None]

    def undisturbed(self, *, always_the_same: bool = False) -> tuple[Path, Died | None]:
        """Let the same be done to its end in another folder.

        Args:
            always_the_same: it takes no dice, so once is enough; the answer is not kept then.
        """
        other = self.other
        if other.exists() and always_the_same:
            return other, None
        shutil.rmtree(other, ignore_errors=True)
        other.mkdir()
        self.ready(other)
        return other, self.once_more(other)

    @property
    def other(self) -> Path:
        """The folder in which nobody was killed."""
        return self.folder.with_name("undisturbed")

    def once_more(self, folder: Path | None = None, *, other_keys: bool = False) -> Died:
        """Do the same, to its end; with keys of its own, as somebody who asks anew."""
        where, seed = str(folder or self.folder), self.asked.seed + other_keys
        return forge().ask(self.asked._replace(folder=where, seed=seed, at="", after_s=-1.0))


@dataclass(frozen=True, slots=True)
class Kind:
    """What is done by whoever is killed, and what must hold afterwards.

    Attributes:
        work: its name in `dying_works`.
        without: what is taken out of the product, of `dying_without`.
        ready: makes the folder in which it is done.
        left: says what is not as it must be.
        again: does it once more; says what did not go as it must.
        beside: work that another process does meanwhile.
        aim: the call at which it is killed where something was taken out, to see it fail soon.
    """

    work: str
    without: str
    ready: Callable[[Path], None]
    left: Callable[[Killed], list[str]]
    again: Callable[[Killed], list[str]]
    beside: str = ""
    aim: str = ""


@dataclass(slots=True)
class _Count:
    tried: int = 0
    beside: int = 0
    lost: int = 0
    recovered: int = 0
    at: Counter[str] = field(default_factory=Counter[str])
    notes: list[str] = field(default_factory=list[str])


def killed(kind: Kind, tries: Tries) -> Outcome:
    """Kill it until it was hit so often as is wanted."""
    count = _Count()
    without = "" if tries.protected else kind.without
    calls, spent_s = _measured(kind, tries, without)
    while count.tried < tries.times and count.beside < MOST_BESIDE * tries.times:
        if count.lost and not tries.protected:
            break  # seen to fail
        asked = _asked(kind, tries, without)
        if without and kind.aim:
            asked = asked._replace(at=kind.aim, nth=tries.dice.randint(1, calls[kind.aim]))
        elif tries.dice.random() < BY_CALL:
            at = tries.dice.choice(sorted(calls))
            asked = asked._replace(at=at, nth=tries.dice.randint(1, calls[at]))
        else:
            asked = asked._replace(after_s=tries.dice.uniform(0, spent_s))
        one = _once(kind, tries.folder, asked)
        if not one.died.hit:
            count.beside += 1
            continue
        count.at[asked.at or "at some moment"] += 1
        _judge(kind, one, count)
    places = "; ".join(f"{at} {n}" for at, n in count.at.most_common())
    return Outcome(count.tried, count.beside, count.lost, count.recovered,
                   (f"killed {places}", *count.notes[:5]))  # fmt: skip


def _measured(kind: Kind, tries: Tries, without: str) -> tuple[dict[str, int], float]:
    """How often it comes to which call, and seconds from its first beginning to its end."""
    asked = _asked(kind, tries, without)
    found = _once(kind, tries.folder, asked._replace(at="nowhere"))
    assert not found.died.fell, "what is to be killed does not even run"
    found.folder.rename(found.other)
    return found.died.calls, found.died.spent_s


def _asked(kind: Kind, tries: Tries, without: str) -> Asked:
    folder = tries.folder / "at"
    return Asked(kind.work, str(folder), tries.dice.getrandbits(32), without, beside=kind.beside)


def _once(kind: Kind, room: Path, asked: Asked) -> Killed:
    folder = room / "at"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    kind.ready(folder)
    return Killed(folder, asked, forge().ask(asked), kind.ready)


def _judge(kind: Kind, one: Killed, count: _Count) -> None:
    count.tried += 1
    wrong = said(kind.left, one)
    count.lost += bool(wrong)
    where = f"seed {one.asked.seed}, {one.asked.at or one.asked.after_s} {one.asked.nth}"
    count.notes += [f"{where}: {text}" for text in wrong]
    still = said(kind.again, one)
    count.recovered += not still
    count.notes += [f"{where}, afterwards: {text}" for text in still]


def said(look: Callable[[Killed], list[str]], one: Killed) -> list[str]:
    """What a look says is wrong; trouble is wrong too."""
    try:
        return look(one)
    except (Trouble, sqlite3.Error) as trouble:
        return [str(trouble)]
