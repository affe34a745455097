"""The demo shop's own clock: it starts at a fixed instant and stands still while nobody is there.

Kept as one row: the shop's instant at the machine's instant of last use. From there it goes on
for as long as somebody may still be looking, and then waits.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.shop import Shop
from store.trouble import Trouble

GOES_ON = timedelta(minutes=15)
"""For how long it runs after the last command or key."""
OFTEN = timedelta(seconds=1)
"""Uses closer together than this are one: the file is not written for each."""


@dataclass(frozen=True, slots=True)
class Mark:
    """The shop's instant at the machine's instant of last use."""

    machine_at: datetime
    shop_at: datetime

    def passed(self, machine: datetime) -> timedelta:
        """How long it has run since; nothing where the machine's clock stepped back."""
        return min(max(machine - self.machine_at, timedelta()), GOES_ON)

    def shop_now(self, machine: datetime) -> datetime:
        """The shop's instant at an instant of the machine."""
        return self.shop_at + self.passed(machine)


def demo_now(shop: Shop, machine: datetime, opens_at: datetime) -> datetime:
    """Return the demo shop's instant, without counting as a use of it.

    Args:
        machine: the machine's instant.
        opens_at: where the clock starts.
    """
    with shop.reading() as db:
        mark = _read(db)
    return mark.shop_now(machine) if mark else opens_at


def use_demo(shop: Shop, machine: datetime, opens_at: datetime) -> datetime:
    """Return the demo shop's instant and keep the clock going: a command was given, a key pressed.

    A file that cannot be written is read all the same; its clock then stands where it was.
    """
    with shop.reading() as db:
        mark = _read(db)
    if mark and timedelta() <= machine - mark.machine_at < OFTEN:
        return mark.shop_now(machine)
    try:
        with shop.beside() as db:
            mark = _read(db)
            now = mark.shop_now(machine) if mark else opens_at
            _write(db, Mark(machine, now))
    except Trouble:
        return mark.shop_now(machine) if mark else opens_at
    return now


def _read(db: sqlite3.Connection) -> Mark | None:
    row = db.execute("select machine_at, shop_at from demo_clock").fetchone()
    return Mark(from_text(row[0]), from_text(row[1])) if row else None


def _write(db: sqlite3.Connection, mark: Mark) -> None:
    db.execute(
        "insert into demo_clock values (1, ?, ?) on conflict (one) do update set "
        "machine_at = excluded.machine_at, shop_at = excluded.shop_at",
        (to_text(mark.machine_at), to_text(mark.shop_at)),
    )
