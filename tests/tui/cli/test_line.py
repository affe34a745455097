"""`line` as text and as a document, what it takes to change the order, and its refusals."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len

from store.actions.trouble import NoSuch
from store.file.verify import verify
from store.trouble import Refused
from tests.store.actions.made import World, make
from tests.store.made_acts import told_line_shop, type_in
from tui.cli.usage import WrongUsage


@pytest.fixture(name="two")
def two_fixture(tmp_path: Path) -> Iterator[World]:
    """1004 and 1005 wait; the second is promised."""
    made = told_line_shop(tmp_path)
    yield made
    made.shop.close()


def document(world: World) -> Any:
    """What the command answers in JSON."""
    return json.loads(type_in(world, "line", "--json"))


def test_alone_it_shows_the_line_with_what_was_promised(two: World) -> None:
    said = type_in(two, "line")
    assert all(cell_len(row) <= 80 for row in said.splitlines())
    rows = [row.split() for row in said.splitlines() if "van" in row]
    assert [row[:2] for row in rows] == [["1", "1004"], ["2", "1005"]]
    flat = " ".join(said.split())
    assert "lacks a lift" in flat
    assert "promised Fri 12:00" in flat
    assert "was put" not in said


def test_it_puts_a_job_elsewhere_and_says_who_did(two: World) -> None:
    assert [one["number"] for one in document(two)["line"]] == ["1004", "1005"]
    assert document(two)["moved"] is None
    said = type_in(two, "line", "1005", "--before", "1004", "--as", "FOR")
    assert said == "1005 comes in before 1004. The line: 1005, 1004."
    found = document(two)
    assert found.keys() == {"at", "line", "moved"}
    assert [one["number"] for one in found["line"]] == ["1005", "1004"]
    assert found["moved"] == {
        "job": "1005", "before": "1004", "by": "For", "at": "2026-10-12T09:00:00+02:00",
    }  # fmt: skip
    assert "1005 was put before 1004 by For, Mon 09:00." in type_in(two, "line")
    floor = json.loads(type_in(two, "floor", "--json"))
    assert [one["number"] for one in floor["waiting"]] == ["1005", "1004"]
    assert "1005 comes in before 1004" in type_in(two, "ledger")
    type_in(two, "line", "1005", "--last", "--as", "FOR")
    type_in(two, "undo", "--as", "FOR")
    assert [one["number"] for one in document(two)["line"]] == ["1005", "1004"]
    assert verify(two.shop.path).ok


def test_what_is_not_written_as_it_takes_it_is_told_with_an_example(two: World) -> None:
    for words in (("1005",), ("--last",), ("--before", "1004"),
                  ("1005", "--before", "1004", "--last")):  # fmt: skip
        with pytest.raises(WrongUsage, match="hoistbook line 2421 --before 2420"):
            type_in(two, "line", *words)
    with pytest.raises(WrongUsage, match="is no job"):
        type_in(two, "line", "1005", "--before", "first", "--as", "FOR")


def test_what_cannot_be_is_refused_and_nothing_is_written(two: World) -> None:
    before = two.events()
    for words, says in (
        (("1001", "--last"), "1001 is on lift: it does not wait to come in"),
        (("1005", "--before", "1001"), "1001 is on lift"),
        (("1005", "--before", "1005"), "before itself"),
        (("1005", "--last"), "comes in last already"),
    ):
        with pytest.raises(Refused, match=says) as caught:
            type_in(two, "line", *words, "--as", "FOR")
        assert "\n" not in str(caught.value)
    with pytest.raises(NoSuch):
        type_in(two, "line", "999", "--last", "--as", "FOR")
    assert two.events() == before


def test_where_nobody_waits_it_says_so(tmp_path: Path) -> None:
    world = make(tmp_path)
    assert "No job waits to come in." in type_in(world, "line")
    assert document(world)["line"] == []
    world.shop.close()
