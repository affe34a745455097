"""The documents that people script against: their keys, in their order, and what stands in them."""

from __future__ import annotations

import json
import re
from datetime import datetime
from typing import Any

import pytest
from rich.cells import cell_len

from tests.tui.cli.made import Line

INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?[+-]\d\d:\d\d")
SPAN = {"middle", "cautious"}
JOB = {
    "number", "vehicle", "family", "operations", "state", "phase", "labour_hours",
    "estimate_hours", "remaining_hours", "finish", "promise", "promise_chance", "held", "flags",
}  # fmt: skip
PHASE_NOW = {
    "number", "name", "labour_hours", "estimate_hours", "remaining_hours", "people",
}  # fmt: skip
PHASE = {
    "number", "code", "name", "kind", "state", "book_hours", "estimate_hours", "labour_hours",
    "remaining_hours", "people", "steps",
}  # fmt: skip


@pytest.fixture(name="job")
def job_fixture(line: Line) -> str:
    """A job under way with a finding that was asked about."""
    job = line.take("--promise", "2100-01-01T10:00")
    line.acts("T1", "clock", "on", f"{job}.1")
    line.acts("T1", "finding", f"{job}.1", "--kind", "advice", "--text", "tyres")
    return job


def instants(value: Any) -> list[str]:
    """Every text in a document that begins like an instant."""
    return re.findall(r'"(\d{4}-\d\d-\d\dT[^"]*)"', json.dumps(value))


def test_floor(line: Line, job: str) -> None:
    floor = line.does("floor")
    assert {"shop", "at", "lanes", "waiting", "elsewhere", "tools_due"} <= set(floor)
    assert floor["shop"] == "Marsh Lane"
    assert floor["tools_due"] == []
    first, second = floor["lanes"]
    assert {"lift", "kind", "in_service", "job"} <= set(first)
    assert second["job"] is None
    assert set(first["job"]) >= JOB
    assert set(first["job"]["phase"]) >= PHASE_NOW
    assert first["job"]["number"] == job
    assert first["job"]["state"] == "on-lift"
    assert first["job"]["phase"]["people"] == ["T1"]
    assert set(first["job"]["estimate_hours"]) == SPAN
    assert set(first["job"]["finish"]) == SPAN
    assert first["job"]["promise_chance"] is None
    found = instants(floor)
    assert len(found) >= 4
    assert all(INSTANT.fullmatch(one) for one in found)
    assert floor["at"].endswith(("+01:00", "+02:00"))


def test_waiting_and_elsewhere(line: Line, job: str) -> None:
    line.acts("FOR", "small", "--text", "bulb", "--vehicle", "estate")
    line.acts("T1", "clock", "off")
    line.acts("T1", "move", job, "--place", "Y")
    floor = line.does("floor")
    assert [one["number"] for one in floor["waiting"]] == ["1002"]
    assert [one["number"] for one in floor["elsewhere"]] == [job]
    assert floor["waiting"][0]["promise"] is None


def test_job(line: Line, job: str) -> None:
    card = line.does("job", job)
    assert set(card) >= JOB | {"phases", "supplements", "open_conditions", "estimate_changes"}
    assert all(set(one) >= PHASE for one in card["phases"])
    steps = [step for one in card["phases"] for step in one["steps"]]
    assert {one["kind"] for one in steps} == {"step", "hold point", "decision"}
    assert all({"step", "text", "kind", "signed"} <= set(one) for one in steps)
    assert [one["number"] for one in card["phases"]] == [
        str(n) for n in range(1, len(card["phases"]) + 1)
    ]
    assert {one["kind"] for one in card["phases"]} >= {"labour", "standing"}
    assert all(
        set(one) == {"at", "middle", "cautious", "cause"} for one in card["estimate_changes"]
    )


def test_supplements(line: Line, job: str) -> None:
    line.acts("T1", "finding", f"{job}.1", "--kind", "surprise", "--text", "stud", "--hours", "1.5")
    found = line.does("job", job)["supplements"][0]
    assert (found["line"], found["text"], found["hours"], found["money"], found["state"]) == (
        1, "stud", 1.5, 135, "asked",
    )  # fmt: skip


def test_what_is_told_of_a_job(line: Line, job: str) -> None:
    line.acts("T1", "finding", f"{job}.1", "--kind", "advice", "--text", "hose is hard")
    line.acts("T1", "finding", f"{job}.1", "--kind", "surprise", "--text", "stud " * 30,
              "--hours", "1.5")  # fmt: skip
    line.acts("FOR", "supplement", "approve", job, "--by", "the owner", "--means", "telephone")
    line.acts("T2", "note", job, "wants the old parts back")
    card = line.does("job", job)
    advice, surprise = card["findings"][-2:]
    assert (advice["kind"], advice["by"], advice["phase"], advice["line"], advice["became"]) == (
        "advice", "Ines", "1", None, "told as advice",
    )  # fmt: skip
    assert (surprise["line"], surprise["became"]) == (1, "approved by the owner, telephone")
    assert surprise["became_at"] == card["supplements"][0]["answered_at"]
    assert card["supplements"][0]["means"] == "telephone"
    note = {**card["notes"][-1], "at": None}
    assert note == {
        "at": None, "by": "Tomas", "kind": "note", "phase": None, "text": "wants the old parts back"
    }  # fmt: skip
    assert [one["promise"] for one in card["promises"]] == [card["promise"]]
    assert {one["kit"] for one in card["kits"]} == {"link"}
    assert set(card["names"]) >= {who for one in card["phases"] for who in one["people"]}
    text = line.run("job", job).out
    assert "advice on 1: hose is hard" in text
    assert "approved" in text
    assert max(cell_len(one) for one in text.splitlines()) <= 80


def test_estimate(line: Line) -> None:
    before = line.events()
    found = line.does("estimate", "--operation", "TC", "--operation", "WP", "--family", "B4-M-F")
    assert line.events() == before
    assert {"route", "total_hours", "shared_access_saves_hours", "kits", "money", "promise"} <= set(
        found
    )
    assert all(
        set(one) == {
            "phase", "code", "name", "kind", "on_lift", "serves", "book_hours", "estimate_hours",
            "from", "finished_before", "finished_on_family",
        }
        for one in found["route"]
    )  # fmt: skip
    quantiles = [found["total_hours"][f"q{5 * n:02d}"] for n in range(1, 20)]
    assert quantiles == sorted(quantiles)
    assert found["total_hours"]["middle"] == pytest.approx(quantiles[9], abs=0.01)
    assert set(found["total_hours"]) == {"middle", "cautious", "mean"} | {
        f"q{5 * n:02d}" for n in range(1, 20)
    }
    assert set(found["money"]) == {"labour", "kits", "total", "currency"}
    assert all({"kit", "phases", "owned", "days", "cost"} <= set(one) for one in found["kits"])


def test_day(line: Line, job: str) -> None:
    day = line.does("day", "T1")
    assert {"badge", "date", "attended_hours", "clocks", "gaps", "overlaps", "overruns"} <= set(day)
    assert {"job", "phase", "reason", "from", "until", "labour_hours", "confirmed"} <= set(
        day["clocks"][0]
    )
    assert all({"from", "until"} <= set(one) for one in day["gaps"])
    assert line.does("day", "--as", "T1")["badge"] == "T1"


def test_verify_and_ledger(line: Line, job: str) -> None:
    verdict = line.does("verify")
    assert set(verdict) == {"ok", "events", "seq", "table", "says", "last", "open_to_others"}
    assert (verdict["ok"], verdict["events"], verdict["seq"]) == (True, line.events(), None)
    lines = [json.loads(one) for one in line.run("ledger", "--json").out.splitlines()]
    assert [one["seq"] for one in lines] == list(range(1, line.events() + 1))
    assert all(
        list(one)[:8] == [
            "seq", "happened_at", "recorded_at", "badge", "terminal", "kind", "payload", "hash",
        ]
        for one in lines
    )  # fmt: skip
    of_job = [
        json.loads(one) for one in line.run("ledger", "--json", "--job", job).out.splitlines()
    ]
    assert 0 < len(of_job) < len(lines)
    assert all(one in lines for one in of_job)
    assert len(line.run("ledger", "--from", "5", "--json").out.splitlines()) == len(lines) - 4


def test_hours_are_finer_than_a_thousandth_and_money_is_to_the_hundredth(line: Line) -> None:
    line.acts("OWN", "rate", "set", "33.333")
    money = line.does("estimate", "--operation", "TC", "--family", "B4-M-F")["money"]
    assert money["labour"] == round(money["labour"], 2)
    assert "NaN" not in line.run("floor", "--json").out


def test_at_stands_for_now_and_never_lies_before_the_last_entry(line: Line, job: str) -> None:
    later = line.does("floor", "--at", "2099-01-01T12:00")
    assert later["at"] == "2099-01-01T12:00:00+01:00"
    assert datetime.fromisoformat(later["lanes"][0]["job"]["finish"]["middle"]) > (
        datetime.fromisoformat(later["at"])
    )
    assert "The earliest is" in line.refused("floor", "--at", "2020-01-01T12:00")
    assert "The earliest is" in line.refused("job", job, "--at", "2020-01-01T12:00Z")


def test_text_is_80_columns_without_colour(line: Line, job: str) -> None:
    estimate = ("estimate", "--operation", "TC", "--family", "B4-M-F")
    shown = (("floor",), ("job", job), ("job", job, "--steps"), ("day", "T1"), ("workbook", "show"),
             ("people",), ("verify",))  # fmt: skip
    for argv in (*shown, estimate):
        ran = line.run(*argv)
        assert (ran.status, ran.err) == (0, "")
        assert ran.out.count("\n") > 1
        assert "\x1b" not in ran.out
        assert max(cell_len(one) for one in ran.out.splitlines()) <= 80, argv


def test_text_that_would_move_the_cursor_is_not_taken(line: Line) -> None:
    assert "one line" in line.refused(
        "small", "--text", "bulb\x1b[2J", "--vehicle", "van", "--as", "T1"
    )
    assert "one line" in line.refused(
        "small", "--text", "bulb\nnew", "--vehicle", "van", "--as", "T1"
    )
