"""What processes do that are killed: each says what it begins, and what it has done."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from random import Random

from store.actions import books, customers
from store.actions.acting import Done
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.shop import WeekSpan
from store.edges.tables.cells import HISTORY
from store.file.backup import backup, restore
from store.file.change import By
from store.file.csv_out import csv_files
from store.file.shop import Shop
from store.trouble import Refused
from tests.faults.acts import PIN, START, a_key, random_act
from tests.store.actions.made import BOOK, WEEK, quick_secret

Say = Callable[..., None]
Work = Callable[[Path, Random, Say], None]
ACTS = 12
NOW = datetime(2026, 10, 20, 6, 0, tzinfo=UTC)
PLAN = ShopPlan(
    "New", "Europe/Amsterdam", "EUR", [WeekSpan(days=WEEK, start="07:30", end="16:30")], [],
    [LiftPlan("1", "two-post", 4000)], "OWN", "Olga", PIN, book=BOOK,
)  # fmt: skip
SHOP, BACKUP, NEW = "small.shop", "backup.shop", "new.shop"


def acts(folder: Path, dice: Random, say: Say, count: int = ACTS, terminal: str = "t1") -> None:
    """Random acts of random people, one after another."""
    shop, now = Shop(folder / SHOP), START
    for _ in range(count):
        now += timedelta(minutes=1)
        told = random_act(
            shop, dice, now, terminal=terminal, begin=lambda one: say("begin", one.by.key)
        )
        say("done", told.key, len(told.recorded))


def others(folder: Path, dice: Random, say: Say) -> None:
    """Acts of another terminal, without end."""
    acts(folder, dice, say, 100_000, "t2")


def one_act(say: Say, dice: Random, badge: str, now: datetime, do: Callable[[By], Done]) -> None:
    """Do something by a key that is said before."""
    by = By(badge, "t1", now, pin=PIN, key=a_key(dice))
    say("begin", by.key)
    try:
        count = len(do(by).recorded)
    except Refused:
        count = 0
    say("done", by.key, count)


def book(folder: Path, dice: Random, say: Say) -> None:
    """The work book loaded, again and again with other hours."""
    shop = Shop(folder / SHOP)

    def load_it(by: By) -> Done:
        source = BOOK.replace("[1.7, 2.4, 4.0]", f"[1.7, 2.{by.now.minute % 10}, 4.0]")
        return books.load_workbook(shop, by, source=source)

    for n in range(3):
        one_act(say, dice, "OWN", START + timedelta(minutes=n), load_it)


def erasing(folder: Path, dice: Random, say: Say) -> None:
    """Everybody erased of whom something is kept."""
    shop = Shop(folder / SHOP)
    with shop.reading() as db:
        known = [row[0] for row in db.execute("select customer from customer_private order by 1")]
    for n, one in enumerate(known):
        erase = partial(customers.erase_customer, shop, customer=one)
        one_act(say, dice, "FOR", START + timedelta(minutes=n), erase)


def backing_up(folder: Path, dice: Random, say: Say) -> None:
    shop = Shop(folder / SHOP)
    say("begin", "backup")
    backup(shop, folder / BACKUP)
    say("done", "backup")


def restoring(folder: Path, dice: Random, say: Say) -> None:
    say("begin", "restore")
    restore(folder / BACKUP, folder / SHOP, replace=True)
    say("done", "restore")


def upgrading(folder: Path, dice: Random, say: Say) -> None:
    say("begin", "upgrade")
    Shop(folder / SHOP).close()
    say("done", "upgrade")


def founding(folder: Path, dice: Random, say: Say) -> None:
    say("begin", "founding")
    by = By("OWN", "t1", START, pin=PIN, key="f" * 24)
    found_shop(folder / NEW, by, PLAN, secret=quick_secret(PIN)).close()
    say("done", "founding")


def learning(folder: Path, dice: Random, say: Say) -> None:
    """Everything that is due, as the learner's process does it."""
    from store.file.learned.own import ShopLearner
    from store.file.learned.turns import Turns

    shop = Shop(folder / SHOP)
    say("begin", "learning")
    Turns(shop, ShopLearner(), lambda: NOW).keep_up()
    say("done", "learning")


def exporting(folder: Path, dice: Random, say: Say) -> None:
    """The ledger as two tables that belong together."""
    with Shop(folder / SHOP).reading() as db:
        rows = [[str(cell) for cell in row] for row in db.execute("select * from ledger")]
    say("begin", "tables")
    with csv_files((folder / "one.csv", HISTORY), (folder / "two.csv", HISTORY)) as files:
        for file in files:
            file.rows(rows)
    say("done", "tables")


WORKS: dict[str, Work] = {
    "acts": acts, "others": others, "book": book, "erasing": erasing, "backing up": backing_up,
    "restoring": restoring, "upgrading": upgrading, "founding": founding,
    "learning": learning, "exporting": exporting,
}  # fmt: skip


def load() -> None:
    """Load what children would load, before they are made."""
    import sqlite_utils

    from store.file.tables import apply

    _ = sqlite_utils, apply


def load_learner() -> None:
    """Load arrays too."""
    from store.file.learned.own import ShopLearner
    from store.file.learned.turns import Turns

    _ = Turns, ShopLearner().versions


WARM: dict[str, Callable[[], None]] = {"learning": load_learner}
"""What the work needs to be loaded for that others do without."""
