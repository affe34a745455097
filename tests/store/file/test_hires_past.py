"""What is learned of suppliers from past hires."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from store.actions.hires import asked as hires
from store.file.facts import calendar_of
from store.file.kits.hires_past import suppliers_seen
from store.sums.hires.days import ShopDays
from store.sums.hires.lateness import LATEST, Seen
from tests.store.actions.made import World
from tests.store.made_kits import kit_shop, take


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    with kit_shop(tmp_path) as made:
        take(made)
        yield made


def seen(world: World) -> dict[str, Seen]:
    with world.shop.reading() as db:
        return suppliers_seen(db, ShopDays(calendar_of(db)), world.now)


def asked(
    world: World, kit: str, expected: datetime | None, supplier: str = "Loan", job: str = "1001"
) -> None:
    hires.ask(
        world.shop,
        world.by("FOR"),
        kit=kit,
        supplier=supplier,
        job=job,
        expected=expected,
        due=world.at(15, day=11),
    )


def test_a_shop_that_hired_nothing_knows_nobody(world: World) -> None:
    assert seen(world) == {}


def test_a_kit_that_came_on_its_day_was_not_late_whatever_the_hour(world: World) -> None:
    asked(world, "lock", world.at(9, day=1))
    world.to(16, day=1)
    hires.receive(world.shop, world.by("T1"), kit="lock")
    assert seen(world) == {"Loan": Seen(1, 0, 0, 1, 0)}


def test_days_late_are_working_days(world: World) -> None:
    """It was to come on a Friday and came on Monday: one day late."""
    asked(world, "lock", world.at(9, day=4))
    world.to(8, day=7)
    hires.receive(world.shop, world.by("T1"), kit="lock")
    assert seen(world) == {"Loan": Seen(1, 1, 1, 1, 0)}


def test_what_is_overdue_is_late_already_and_what_is_not_says_nothing_yet(world: World) -> None:
    asked(world, "lock", world.at(9, day=1))
    assert seen(world) == {"Loan": Seen()}
    world.to(8, day=3)
    assert seen(world) == {"Loan": Seen(1, 1, 2, 0, 0)}
    world.to(8, day=120)
    assert seen(world) == {"Loan": Seen(1, 1, LATEST, 0, 0)}


def test_what_came_incomplete_stays_so_after_it_was_mended(world: World) -> None:
    asked(world, "lock", None)
    hires.receive(world.shop, world.by("T1"), kit="lock", complete=False, note="a pin lacks")
    assert seen(world) == {"Loan": Seen(0, 0, 0, 1, 1)}


def test_each_supplier_has_its_own_past(world: World) -> None:
    asked(world, "lock", world.at(9, day=1))
    asked(world, "link", world.at(9, day=1), supplier="Other")
    world.to(9, day=1)
    for kit in ("lock", "link"):
        hires.receive(world.shop, world.by("T1"), kit=kit)
    assert seen(world) == {"Loan": Seen(1, 0, 0, 1, 0), "Other": Seen(1, 0, 0, 1, 0)}
