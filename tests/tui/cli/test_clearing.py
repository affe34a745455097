"""`clear` as a document and as text, what it takes to do it, and the job's card."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len

from store.actions import holding
from store.trouble import Refused
from tests.store.actions.made import World, make
from tests.store.made_acts import idle_shop, stuck_shop, type_in
from tui.cli.usage import WrongUsage


@pytest.fixture(name="idle")
def idle_fixture(tmp_path: Path) -> Iterator[World]:
    made = idle_shop(tmp_path)
    yield made
    made.shop.close()


def document(world: World, *words: str) -> Any:
    """What the command answers in JSON."""
    return json.loads(type_in(world, "clear", *words, "--json"))


def test_the_document_says_what_people_script_against(idle: World) -> None:
    found = document(idle)
    assert found.keys() == {"at", "clearings"}
    (one,) = found["clearings"]
    assert (one["lift"], one["job"], one["stands"]) == ("2", "1002", "drives")
    assert one["can_leave"] is True
    assert (one["comes"], one["verdict"]) == (["1003"], "pays")
    assert one["wins"]["break_even_hours"] == 0
    assert one["wins"]["low_hours"] < one["wins"]["lift_hours"] < one["wins"]["high_hours"]
    assert document(idle, "2") == found


def test_the_text_says_costs_and_when_it_pays(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    said = type_in(world, "clear")
    assert all(cell_len(line) <= 80 for line in said.splitlines())
    flat = " ".join(said.split())
    assert "0.4 to 0.8 h and two people each way, 2.4 h of labour out and in again" in flat
    assert "worth it from 4.8 h more on" in flat
    assert "sits fixed and stays: gearbox off keeps it fixed" in flat
    assert "common practice, no source" in flat
    assert "lift 3" in type_in(world, "clear", "3")
    assert "lift 1" not in type_in(world, "clear", "3")
    world.shop.close()


def test_the_card_says_it_in_short(idle: World) -> None:
    assert "clear the lift: it drives: leaving costs nothing" in type_in(idle, "job", "1002")
    said = json.loads(type_in(idle, "job", "1002", "--json"))
    assert said["clearing"]["lift"] == "2"
    assert json.loads(type_in(idle, "job", "1001", "--json"))["clearing"] is None


def test_it_is_done_by_name_only_and_once(idle: World) -> None:
    before = idle.events()
    type_in(idle, "clear", "2")
    assert idle.events() == before
    with pytest.raises(WrongUsage, match="--as BADGE"):
        type_in(idle, "clear", "2", "--place", "Y")
    with pytest.raises(WrongUsage, match="--as BADGE"):
        type_in(idle, "clear", "--place", "Y", "--as", "FOR")
    said = type_in(idle, "clear", "2", "--place", "Y", "--as", "FOR")
    assert said.startswith("Lift 2 is clear: 1002 is at Y now.")
    with pytest.raises(Refused, match="Lift 2 is free"):
        type_in(idle, "clear", "2", "--as", "FOR")
    with pytest.raises(Refused, match="Lift 2 is free"):
        type_in(idle, "clear", "2")


def test_where_nothing_is_held_it_says_so(tmp_path: Path) -> None:
    world = make(tmp_path)
    assert "there is nothing to clear" in type_in(world, "clear")
    assert document(world)["clearings"] == []
    world.to(8, 0)
    job = world.take("WP", "1")
    with pytest.raises(Refused, match="goes on there"):
        type_in(world, "clear", "1")
    holding.hold(world.shop, world.by("FOR"), job=job, phase=None, reason="parts")
    assert "nobody ready needs it" in type_in(world, "clear", "1")
    world.shop.close()
