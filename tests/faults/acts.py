"""Random acts of random people, through the same actions that screens and commands call.

    shop = small_shop(folder)            # founded in milliseconds: people, lifts, a book, jobs
    told = random_act(shop, dice, now, PEOPLE, begin=print)
    told.recorded                        # numbers of its entries: acknowledged, so durable
    told.refused                         # or why nothing was written (a `Trouble`)

An act is made up before it begins: who, what, with which arguments out of what the shop holds, and
its key. `begin` is called with all that (an `Intent`) before the action is; whoever is killed after
`begin` and before `random_act` returned had exactly this key in flight, which may be in the ledger
whole or not at all. Whatever is raised that is no `Trouble` is a fault of the program, and passes.

Some arguments cannot be (a job that was never taken, a text of control characters, a wrong PIN),
others have ceased to hold when the lock is taken: a refusal is an answer as good as another.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from random import Random

from store.file.change import By
from store.file.shop import Shop
from store.trouble import Trouble
from tests.faults import acts_bay, acts_desk, acts_office
from tests.faults.doing import Do, Maker
from tests.faults.held import Held
from tests.faults.small_shop import PEOPLE, PIN, START, small_shop

CATALOGUE: dict[str, tuple[int, Maker]] = {
    **acts_bay.ACTS,
    **acts_desk.ACTS,
    **acts_office.ACTS,
}
"""What people do: how often, and what makes one of it up from what the shop holds."""
WRONG_PIN = 0.01
"""How often somebody types another PIN than their own."""


@dataclass(frozen=True, slots=True)
class Intent:
    """An act that is about to begin.

    Attributes:
        name: as the catalogue calls it.
        by: who, where, when, and the key by which the ledger will know it.
        do: does it.
    """

    name: str
    by: By
    do: Do


@dataclass(frozen=True, slots=True)
class Told:
    """What became of an act.

    Attributes:
        recorded: numbers of its entries, in order; its first has the key, later ones `key.1` ….
        refused: why nothing was written; None where it was.
        says: what was said to whoever did it.
    """

    name: str
    key: str
    badge: str
    recorded: tuple[int, ...]
    refused: Trouble | None
    says: str


def intend(
    shop: Shop, dice: Random, now: datetime, people: Sequence[str], terminal: str = "t1",
    only: Sequence[str] = (),
) -> Intent:  # fmt: skip
    """Make an act up: nothing is written yet.

    Args:
        only: names out of the catalogue; any of it where none is given.
    """
    names = list(only or CATALOGUE)
    weights = [CATALOGUE[name][0] for name in names]
    with shop.reading() as db:
        while True:
            name = dice.choices(names, weights)[0]
            badge = _whoever(db, dice, people, lead=name not in acts_bay.ACTS)
            do = CATALOGUE[name][1](Held(db, dice, now, badge))
            if do is not None:
                break
    pin = PIN if dice.random() >= WRONG_PIN else "1357"
    return Intent(name, By(badge, terminal, now, pin=pin, key=a_key(dice)), do)


def _whoever(db: sqlite3.Connection, dice: Random, people: Sequence[str], *, lead: bool) -> str:
    """Somebody; for what is mostly a lead's to do, mostly one of those."""
    marks = ", ".join("?" * len(people))
    leads = db.execute(
        f"select badge from person where role != 'technician' and badge in ({marks})", [*people]
    ).fetchall()
    if lead and leads and dice.random() < 0.7:
        return str(dice.choice(leads)[0])
    return dice.choice(people)


def a_key(dice: Random) -> str:
    """A key of an act as `new_key` makes them, by these dice."""
    return f"{dice.getrandbits(96):024x}"


def carry_out(shop: Shop, intent: Intent) -> Told:
    """Do what was made up; twice with the same intent does nothing twice."""
    by = intent.by
    try:
        done = intent.do(shop, by)
    except Trouble as trouble:
        return Told(intent.name, by.key, by.badge, (), trouble, str(trouble))
    return Told(intent.name, by.key, by.badge, done.recorded, None, done.says)


def random_act(
    shop: Shop, dice: Random, now: datetime, people: Sequence[str] = PEOPLE, *,
    terminal: str = "t1", only: Sequence[str] = (), begin: Callable[[Intent], object] | None = None,
) -> Told:  # fmt: skip
    """Let somebody do something.

    Args:
        begin: is told of it before it begins.
    """
    intent = intend(shop, dice, now, people, terminal, only)
    if begin is not None:
        begin(intent)
    return carry_out(shop, intent)


__all__ = [
    "CATALOGUE", "PEOPLE", "PIN", "START", "Intent", "Told", "carry_out", "intend", "random_act",
    "small_shop",
]  # fmt: skip
