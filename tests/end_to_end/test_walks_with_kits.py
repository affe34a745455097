"""What walks through a day of the shop say of hired kits, by commands on the demo shop.

A route that ends early sends its kit back; two jobs that want one kit are named before it happens,
with what each way out costs in money and in chance; a new estimate says when a kit is taken; a job
is not closed while a kit of it is out.
"""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.tui.cli.made import Line

FOREMAN = "A02"


@pytest.fixture(name="line")
def line_fixture(taught_file: Path, tmp_path: Path) -> Line:
    copy = tmp_path / "demo.shop"
    shutil.copyfile(taught_file, copy)
    return Line(copy)


def _jobs(line: Line, operation: str) -> list[Any]:
    floor = line.does("floor")
    jobs = [one["job"] for one in floor["lanes"] if one["job"]]
    every = [*jobs, *floor["waiting"], *floor["elsewhere"]]
    return [one for one in every if one["operations"][0] == operation]


def test_one_screen_says_what_goes_back_what_is_kept_and_what_is_asked_for(line: Line) -> None:
    """Every case of a morning is there: on time, due, overdue, clash, longer, fixed, not whole."""
    found = line.does("tools")
    does = {one["do"] for one in found["advice"]}
    assert {"send back", "extend"} <= does
    assert does & {"ask", "use next"}
    states = {one["kit"]: one["state"] for one in found["kits"]}
    assert "not complete" in states["counter-hold"]
    overdue = [one["kit"] for one in found["kits"] if one["hire"] and one["hire"]["overdue"]]
    assert overdue == ["lift-table"]
    floor = line.does("floor")
    assert [one["kit"] for one in floor["tools_due"] if one["overdue"]] == ["lift-table"]
    said = " ".join(line.run("tools").out.split())
    for word in ("OVERDUE", "SEND BACK", "EXTEND", "NOT WHOLE", "CLASH"):
        assert word in said, word


def test_two_jobs_that_want_one_kit_are_named_with_what_each_way_out_costs(line: Line) -> None:
    clash = line.does("tools")["clashes"][0]
    assert clash["kit"] == "puller"
    assert set(clash["jobs"]) == {one["number"] for one in _jobs(line, "IN")}
    assert clash["from"] < clash["until"]
    assert 0 < clash["chance"] <= 1
    assert {one["do"] for one in clash["ways"]} == {"wait", "swap order", "second kit"}
    for way in clash["ways"]:
        assert way["expected_cost"] > 0
        assert set(way["kept"]) == set(clash["jobs"])
        assert all(0 <= one <= 1 for one in way["kept"].values())


def test_a_new_estimate_says_when_its_kit_is_taken(line: Line) -> None:
    found = line.does("estimate", "--operation", "EO", "--family", "V8-A-4")
    hoist = next(one for one in found["kits"] if one["kit"] == "hoist")
    assert hoist["owned"]
    assert _jobs(line, "EO")[0]["number"] in hoist["taken"]
    press = next(
        one
        for one in line.does(
            "estimate", "--operation", "CL", "--family", "B4-M-F", "--option",
            "clutch=self-adjusting",
        )["kits"]
        if one["kit"] == "press"
    )  # fmt: skip
    assert press["days"] >= 1
    assert press["cost"] > 0


def test_a_kit_that_nobody_needs_goes_back_and_is_gone_from_the_list(line: Line) -> None:
    """By the command that the list prints beside it."""

    def listed() -> list[Any]:
        needs = line.does("needs")["needs"]
        return [one for one in needs if "seal driver, large diameters" in one["says"]]

    (back,) = listed()
    words = shlex.split(back["command"])[1:]
    pieces = {"N": "3"}
    line.does(*(pieces.get(one, one) for one in words), "--pin-stdin")
    assert not listed()
    assert line.does("verify")["ok"]


def test_a_job_is_not_closed_while_a_kit_of_it_is_out(line: Line) -> None:
    """The press is still here: the hand-over names it, and the supplier."""
    job = _jobs(line, "CL")[0]["number"]
    says = line.refused("handover", job, "--kits-complete", "--as", FOREMAN, "--pin-stdin")
    assert "kit press" in says
    assert "Rietland tool hire" in says
