"""`needs`, `helps`, `why` as documents and as text: the keys of the contract, 80 columns."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len

from tests.store.actions.made import World
from tests.store.made_acts import idle_shop, learner, stuck_shop, supply_shop, type_in


@pytest.fixture(name="world", params=[stuck_shop, idle_shop, supply_shop])
def world_fixture(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[World]:
    made = request.param(tmp_path)
    learner(made).keep_up()
    yield made
    made.shop.close()


def document(world: World, *words: str) -> Any:
    """What a command answers in JSON."""
    return json.loads(type_in(world, *words, "--json"))


def test_needs_have_the_keys_that_people_script_against(world: World) -> None:
    found = document(world, "needs")
    assert found["needs"]
    for one in found["needs"]:
        assert {"what", "job", "who", "by", "since", "lift_days", "says"} <= one.keys()
        assert {"act", "command", "gain"} <= one.keys()
        assert one["lift_days"] is None or one["lift_days"] >= 0
        assert isinstance(one["minutes"], int)


def test_what_helps_says_its_entry_its_age_and_what_moves(world: World) -> None:
    found = document(world, "helps", "--all")
    assert found["seq"] == world.events()
    assert found["age_hours"] == 0
    assert [one["place"] for one in found["helps"]] == list(range(1, len(found["helps"]) + 1))
    for one in found["helps"]:
        moved = sum(each["after"] - each["before"] for each in one["promises"])
        assert one["gain"] == pytest.approx(moved, abs=0.02)


def test_trying_gives_both_floors(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    learner(world).keep_up()
    found = document(world, "helps", "--try", "1")
    assert found["written"] is False
    assert found["before"] != found["after"]
    assert found["before"]["lanes"][0].keys() == found["after"]["lanes"][0].keys()
    world.shop.close()


def test_chains_are_read_downwards(world: World) -> None:
    for one in document(world, "why")["chains"]:
        depths = [each["depth"] for each in one["links"]]
        assert all(after - before <= 1 for before, after in itertools.pairwise(depths))


@pytest.mark.parametrize("words", [("needs",), ("helps", "--all"), ("why",)])
def test_no_line_is_wider_than_a_terminal_but_a_command(
    world: World, words: tuple[str, ...]
) -> None:
    for line in type_in(world, *words).splitlines():
        assert cell_len(line) <= 80 or " hoistbook " in line, line
