"""Processes killed while they erase what is kept of a person, and while they learn."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from functools import partial
from pathlib import Path

from store.actions import history
from store.edges.events.jobs import CustomerKnown
from store.file.privates import keep_customer
from store.file.shop import By, Shop
from tests.faults.acts import PIN, START
from tests.faults.dying_works import SHOP
from tests.faults.kills import KNOWN, KNOWN_STAGE, MADE
from tests.faults.kills_left import acts_left, goes_on, ready, unsound
from tests.faults.kills_run import Killed, Kind, killed
from tests.faults.row import Row
from tests.faults.traced import lacks_tracing
from tests.store.actions.made import make
from tests.store.made_past import finished

# -- erasing

KNOWN_PEOPLE = 4


def _customer(n: int) -> str:
    return f"c-{n:016x}"


def _name(n: int) -> str:
    return f"Invented Person The {n}th"


def with_people(folder: Path) -> None:
    """A small shop that keeps names, all of them in its side file still."""
    ready(folder)
    with closing(Shop(folder / SHOP)) as shop:
        for n in range(KNOWN_PEOPLE):
            with shop.changing(
                By("FOR", "t1", START, pin=PIN, key=f"{n:024}".replace("0", "d"))
            ) as change:
                keep_customer(change.db, _customer(n), _name(n), "0123 456")
                change.record(CustomerKnown(customer=_customer(n)))


def _named(folder: Path, n: int) -> list[str]:
    """Files that hold a name's bytes."""
    return [one.name for one in folder.iterdir() if _name(n).encode() in one.read_bytes()]


def erased_left(one: Killed) -> list[str]:
    """Of whom it was acknowledged no byte is left."""
    gone = [
        f"{_name(n)} stands in {name}"
        for n in range(len(one.died.acknowledged))
        for name in _named(one.folder, n)
    ]
    return gone + acts_left(one)


def erased_again(one: Killed) -> list[str]:
    """Whoever asks once more gets what was asked for, or is told that it was done."""
    again = one.once_more(other_keys=True)
    with closing(Shop(one.folder / SHOP)) as shop, shop.reading() as db:
        kept = db.execute("select count(*) from customer_private").fetchone()[0]
    wrong = [f"{kept} names are kept still"] if kept or again.fell else []
    for n in range(KNOWN_PEOPLE):
        wrong += [f"{_name(n)} stands in {name}" for name in _named(one.folder, n)]
    return wrong + goes_on(one)


# -- learning


def with_a_past(folder: Path) -> None:
    """A shop with a job, and some finished phases to learn from."""
    world = make(folder)
    world.take()
    world.shop.close()
    world.shop.path.rename(folder / SHOP)
    with closing(Shop(folder / SHOP)) as shop:
        by = By("OWN", "t1", START, pin=PIN, key="b" * 24)
        records = [finished(str(n), 1 + n % 3) for n in range(20)]
        history.import_history(shop, by, source="old.csv", records=records)


def learned(folder: Path) -> list[tuple[object, ...]]:
    """What was learned, and what follows from it for open jobs."""
    with closing(sqlite3.connect(folder / SHOP)) as db:
        return [
            row
            for table in ("learned_part", "learned_forecast", "learned_need", "learned_help")
            for row in db.execute(f"select * from {table} order by 1, 2")
        ]


def learning_left(one: Killed) -> list[str]:
    """The ledger feels nothing of it."""
    return unsound(one.folder / SHOP) + acts_left(one)


def learning_again(one: Killed) -> list[str]:
    """The next learner brings it to the end at which nobody was killed, to the last bit."""
    one.once_more()
    other, _ = one.undisturbed(always_the_same=True)
    same = learned(one.folder) == learned(other) and learned(other)
    return unsound(one.folder / SHOP) + ([] if same else ["what was learned is another thing"])


ROWS: tuple[Row, ...] = (
    Row(
        "killed while erasing a customer", MADE, KNOWN,
        "emptying the side file after the act: names that were said to be erased stand in it",
        partial(killed, Kind("erasing", "settling", with_people, erased_left, erased_again)),
        quick=3, long=30, bare=2, lacks=lacks_tracing,
    ),
    Row(
        "killed while learning", MADE, KNOWN_STAGE,
        "the lock that the dead let go: a mark in its place keeps every later learner away",
        partial(killed, Kind("learning", "lock", with_a_past, learning_left, learning_again)),
        quick=1, long=30, bare=0, lacks=lacks_tracing,
    ),
)  # fmt: skip
