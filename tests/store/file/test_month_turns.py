"""What came late, and which jobs were held, as rows of yes and no."""

from __future__ import annotations

from pathlib import Path

from store.actions.hires import asked as hires
from store.file.facts import calendar_of
from store.file.month.turns import by_supplier, deliveries, held_for
from tests.store.made_jobs import closed_job, plain_shop
from tests.store.made_kits import kit_shop, take


def test_deliveries_in_order_with_working_days_late(tmp_path: Path) -> None:
    with kit_shop(tmp_path) as world:
        take(world)
        for day, came in ((1, 1), (4, 7)):  # on its day; a Friday's on Monday
            hires.ask(
                world.shop, world.by("FOR"), kit="lock", supplier="Loan", job="1001",
                expected=world.at(9, day=day), due=world.at(15, day=11),
            )  # fmt: skip
            world.to(8, day=came)
            hires.receive(world.shop, world.by("T1"), kit="lock")
            until = world.now
            hires.send_back(world.shop, world.by("T1", minutes=30), kit="lock")
        with world.shop.reading() as db:
            calendar = calendar_of(db)
            found = deliveries(db, calendar, world.at(8, day=9))
            assert [(one.kit, one.job, one.days) for one in found] == [
                ("lock", "1001", 0), ("lock", "1001", 1),
            ]  # fmt: skip
            assert len(by_supplier(found)["Loan"]) == 2
            assert len(deliveries(db, calendar, until)) == 1


def test_a_job_held_for_less_than_an_hour_was_not_held(tmp_path: Path) -> None:
    world = plain_shop(tmp_path)
    closed_job(world, day=0)
    closed_job(world, day=1, parts_h=0.9)
    held = closed_job(world, day=2, parts_h=1.1)
    with world.shop.reading() as db:
        calendar = calendar_of(db)
        assert held_for(db, calendar, world.at(23, day=2)) == {"parts": {held}}
        assert held_for(db, calendar, world.at(6, day=2)) == {}
    world.shop.close()
