"""Signals of a month: read as the learner keeps them, told to whom they concern."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, replace
from datetime import timedelta
from pathlib import Path

import pytest

from store.file.learned import signals_part
from store.file.learned.cases import plain
from store.file.learned.kept import Part, keep_parts, newest_position
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.file.verify import verify
from store.learn.signals.found import Found
from store.views.month.page import month
from store.views.month.told_values import Signals
from tests.store.actions.made import World
from tests.store.made_jobs import closed_job, plain_shop

DAY_S = 86_400.0


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = plain_shop(tmp_path)
    yield made
    made.shop.close()


def keep(world: World, *found: Found, content: bytes | None = None) -> None:
    """As if the learner had found it."""
    told = plain({"found": [asdict(one) for one in found], "watched": 40})
    with world.shop.beside() as db:
        at = newest_position(db)
        part = Part(signals_part.NAME, signals_part.VERSION, at, 9, "as told", content or told)
        assert keep_parts(db, [part], at)


def signals(world: World, which: str = "2026-10", by: str | None = None) -> Signals:
    return month(world.shop, which, world.now, by=by).signals


def change(world: World, days_ago: float) -> Found:
    at = world.now.timestamp() - days_ago * DAY_S
    return Found("change", "phase", "E2", "", at, at, at, 1.5, 1.0, 1.0, 12, 8, 0.002)


def test_nobody_has_looked_yet(world: World) -> None:
    assert signals(world).says.startswith("Nobody has looked yet")


def test_a_change_is_told_in_its_month_and_is_still_true_after(world: World) -> None:
    closed_job(world, day=0)
    keep(world, change(world, 0.5))
    (one,) = signals(world).found
    assert one.says.startswith(f"Since October 2026 {one.name} takes 1.0 h where it took 1.5")
    assert (one.code, one.count_before, one.count_after) == ("E2", 12, 8)
    assert [way.job for way in one.ways] == ["1001"]
    world.now += timedelta(days=31)
    later = signals(world, "2026-11")
    assert later.found == ()
    assert [each.code for each in later.old] == ["E2"]


def test_what_began_after_a_month_is_none_of_it(world: World) -> None:
    world.now += timedelta(days=31)
    keep(world, change(world, 2))
    assert signals(world).found == signals(world).old == ()


def test_a_person_is_told_to_the_owner_and_to_that_person(world: World) -> None:
    keep(world, replace(change(world, 0.5), what="person", code="T1", book_h=0.0))
    shown = {by: len(signals(world, by=by).found) for by in (None, "OWN", "T1", "T2", "FOR")}
    assert shown == {None: 1, "OWN": 1, "T1": 1, "T2": 0, "FOR": 0}


def test_torn_content_is_as_nobody_looked(world: World) -> None:
    keep(world, content=b'{"found": [{"kind": "change"}], "watched": 1}')
    assert signals(world).says.startswith("Nobody has looked yet")
    keep(world, content=b"{")
    assert signals(world).found == ()


def test_the_learner_looks_and_the_shops_chart_is_there(world: World) -> None:
    closed_job(world, day=0)
    Turns(world.shop, ShopLearner(), lambda: world.now).take_in()
    told = signals(world)
    assert told.says.startswith("Nothing changed that luck does not explain.")
    assert [(one.what, len(one.points)) for one in told.charts] == [("shop", 1)]
    assert verify(world.shop.path).ok
