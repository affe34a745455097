"""What is asked after rather than ended: a part that lacks, a day that was said; lifts to clear."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import holding
from store.file.verify import verify
from store.rules.acts import Act
from store.views.floor import floor
from store.views.needs import needs
from store.views.why import why
from tests.store.actions.made import World, make
from tests.store.made_acts import idle_shop, supply_shop, type_in


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    """A job on lift 1 that waits for a part; nobody said until when."""
    world = make(tmp_path)
    world.to(8, 0)
    job = world.take("WP", "1")
    holding.hold(
        world.shop, world.by("T1"), job=job, phase=None, reason="parts", text="hose",
        next_move="the supplier",
    )  # fmt: skip
    yield world
    world.shop.close()


def open_acts(world: World, kind: str) -> list[Act]:
    """What is open of one kind."""
    return [one.act for one in needs(world.shop, world.now).needs if one.act.kind == kind]


def test_a_part_is_asked_after_and_wants_nobody_until_its_day(world: World) -> None:
    (act,) = open_acts(world, "release")
    assert act.command == (
        "hold", "1001", "--reason", "parts", "--until", "-INSTANT", "--next", "the supplier",
        "--as", "T1",
    )  # fmt: skip
    assert act.other == act.ending == ("release", "1001", "--as", "T1")
    assert [one.word for one in floor(world.shop, world.now).wants] == ["HELD"]
    said = ["2026-10-14T09:00" if word == "-INSTANT" else word for word in act.command]
    type_in(world, *said)
    assert world.one("select next_move from hold") == "the supplier"
    assert open_acts(world, "release") == []
    assert floor(world.shop, world.now).wants == ()
    world.to(7, 40, day=2)
    (again,) = open_acts(world, "release")
    assert again.by == world.at(9, day=2)
    assert [one.word for one in floor(world.shop, world.now).wants] == ["HELD"]
    assert verify(world.shop.path).ok


def test_what_comes_today_stays_on_the_list(world: World) -> None:
    holding.hold(
        world.shop, world.by("T1"), job="1001", phase=None, reason="parts", until=world.at(15)
    )
    assert [one.by for one in open_acts(world, "release")] == [world.at(15)]


def test_until_its_day_the_chain_says_that_there_is_nothing_to_do(world: World) -> None:
    day = world.at(9, day=2)
    holding.hold(world.shop, world.by("T1"), job="1001", phase=None, reason="parts", until=day)
    (chain,) = why(world.shop, world.now).chains
    (link,) = chain.links
    assert (link.says, link.until) == ("held, parts: hose; nothing to do before", day)
    assert link.need is None


def test_what_else_holds_is_over_or_ends_later(world: World) -> None:
    holding.release(world.shop, world.by("T1"), job="1001")
    holding.hold(world.shop, world.by("T1"), job="1001", phase="2", reason="place")
    (act,) = open_acts(world, "release")
    assert act.command == act.ending == ("release", "1001.2", "--as", "T1")
    assert act.other[:5] == ("hold", "1001.2", "--reason", "place", "--until")


def test_two_holds_at_once_are_released_together(world: World) -> None:
    holding.hold(world.shop, world.by("T1"), job="1001", phase=None, reason="place")
    (act,) = open_acts(world, "release")
    assert (act.command, act.other) == (("release", "1001", "--as", "T1"), ())


def test_a_lift_is_cleared_by_the_command_that_clears(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    (act,) = open_acts(world, "clear")
    assert act.command[:2] == ("clear", act.lift)
    world.shop.close()


def test_a_kit_that_goes_back_this_evening_is_there_before_the_shop_opens(tmp_path: Path) -> None:
    world = supply_shop(tmp_path)
    due = world.one("select due from hire where kit = 'locks'")
    for hour in (0, 7, 16):
        listed = needs(world.shop, world.at(hour, 5, day=1)).needs
        (act,) = [one.act for one in listed if one.act.kind == "kit back"]
        assert act.by is not None
        assert act.by.isoformat()[:16] == str(due)[:16]
    world.shop.close()
