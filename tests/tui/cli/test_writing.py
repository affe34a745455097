"""Every writing command goes through the same actions as the screens and says what it did."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from tests.tui.cli.made import BOOK, Line, run
from tui.cli import commands
from tui.cli.usage import WRITING


def gate(card: Any, code: str) -> str:
    """Number of the phase with that code."""
    return str(next(one["number"] for one in card["phases"] if one["code"] == code))


def ago(hours: float) -> str:
    """An instant of the machine that many hours ago, with its offset."""
    return (datetime.now(UTC) - timedelta(hours=hours)).isoformat()  # aware


def test_what_is_recorded_is_said_with_its_numbers(line: Line) -> None:
    job = line.take()
    before = line.events()
    done = line.acts("T1", "clock", "on", f"{job}.1")
    assert set(done) == {"recorded", "job", "says"}
    assert done["recorded"] == [before + 1]
    assert done["job"] == job
    assert done["says"].startswith("Ines clocked on")
    assert line.acts("T1", "clock", "indirect", "tidying")["job"] is None


def test_take_and_small_print_the_number_and_nothing_else(line: Line) -> None:
    taken = line.run(
        "take", "--operation", "TC", "--family", "B4-M-F", "--vehicle", "van", "--as", "FOR",
        "--pin-stdin", "--option", "build=B", "--grade", "3", "--basis", "ceiling",
        "--ceiling", "900", "--complaint", "noise", "--promise", "2100-01-01T10:00",
    )  # fmt: skip
    small = line.run("small", "--text", "bulb", "--vehicle", "estate", "--as", "T1")
    assert (taken.status, taken.out) == (0, "1001\n")
    assert (small.status, small.out) == (0, "1002\n")
    card = line.does("job", "1001")
    assert (card["grade"], card["price_basis"], card["options"]["build"]) == (3, "ceiling", "B")
    assert card["promise"].startswith("2100-01-01T10:00:00+01:00")


def test_clocks(line: Line) -> None:
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1", "--part", "lead")
    line.acts("T2", "clock", "on", f"{job}.1")
    line.acts("T2", "clock", "away")
    line.acts("T2", "clock", "back")
    line.acts("T2", "clock", "indirect", "parts")
    line.acts("T2", "clock", "over", f"{job}.1", "--part", "learner")
    line.acts("T2", "clock", "off")
    line.acts("T1", "clock", "off")
    line.acts("T1", "clock", "enter", f"{job}.1", "--from", ago(0.002), "--until", ago(0.001))
    line.acts("FOR", "clock", "enter", "tidying", "--from", ago(0.004), "--until", ago(0.003),
              "--of", "T2", "--part", "helper", "--breaks-worked", "--why", "forgot")  # fmt: skip
    day = line.does("day", "T2")
    assert [one["reason"] or one["part"] for one in day["clocks"]][-2:] == ["parts", "learner"]
    phase = line.does("job", job)["phases"][0]
    assert phase["people"] == ["T1", "T2"]


def test_steps_hold_points_and_typed_limits(line: Line) -> None:
    job = line.take()
    card = line.does("job", job)
    for badge, argv in (("T1", ("clock", "on", f"{job}.1")), ("T1", ("finish", f"{job}.1"))):
        line.acts(badge, *argv)
    off = gate(card, "GB-off")
    line.acts("T1", "clock", "on", f"{job}.{off}")
    steps = {one["text"]: one["step"] for one in line.does("job", job)["phases"][1]["steps"]}
    lifted = next(step for text, step in steps.items() if text.startswith("Raised"))
    line.acts("T1", "sign", f"{job}.{off}.{lifted}", "--reading", "1980.5")
    signed = line.does("job", job)["phases"][1]["steps"]
    found = next(one for one in signed if one["step"] == lifted)["signed"][0]
    assert found["badge"] == "T1"
    assert list(found["readings"].values()) == [1980.5]
    assert found["void"] is False
    on = gate(card, "GB-on")
    torque = next(one for one in card["phases"][int(on) - 1]["steps"] if one["limits"])
    says = line.acts("T1", "limits", f"{job}.{on}.{torque['step']}", "nm", "--low", "40", "--high",
                     "50", "--source", "sheet 12")["says"]  # fmt: skip
    assert "sheet 12" in says


def test_phases_holds_findings_and_the_customers_word(line: Line) -> None:
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1")
    line.acts("T1", "hold", f"{job}.1", "--reason", "parts", "--until", ago(-48),
              "--next", "supplier", "--text", "seal")  # fmt: skip
    card = line.does("job", job)
    assert card["holds"][0]["reason"] == "parts"
    assert card["phases"][0]["state"] == "held"
    assert line.does("day", "T1")["clocks"][0]["until"] is not None
    line.acts("T1", "release", f"{job}.1")
    line.acts("T1", "hold", job, "--reason", "place")
    assert line.does("job", job)["held"] == "place"
    line.acts("T1", "release", job)
    line.acts("T1", "finding", f"{job}.1", "--kind", "surprise", "--text", "stud", "--hours", "2")
    line.acts("T1", "finding", f"{job}.1", "--kind", "advice", "--text", "tyres")
    line.acts("T1", "finding", f"{job}.1", "--kind", "surprise", "--text", "seat", "--hours", ".5")
    line.acts("FOR", "supplement", "approve", job, "--line", "1", "--by", "Vos", "--means", "phone")
    line.acts("FOR", "supplement", "refuse", job)
    line.acts("FOR", "supplement", "note", job, "--line", "1", "--by", "Ms Vos")
    card = line.does("job", job)
    assert [one["state"] for one in card["supplements"]] == ["approved", "refused"]
    assert card["supplements"][0]["money"] == 180
    assert card["supplements"][0]["answered_by"] == "Ms Vos"
    assert card["phases"][0]["state"] == "under way"
    line.acts("T1", "finish", f"{job}.1", "--why", "stud")
    line.acts("T1", "reopen", f"{job}.1", "--why", "forgot a photograph")
    assert line.does("job", job)["phases"][0]["state"] == "under way"


def test_a_route_that_ends_holds_its_phase(line: Line) -> None:
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1")
    line.acts("T1", "finding", f"{job}.1", "--kind", "route-ends", "--text", "another build")
    assert line.does("job", job)["phases"][0]["state"] == "held"


def test_skip_promise_move_mark_and_close(line: Line) -> None:
    job = str(line.acts("T1", "small", "--text", "bulb", "--vehicle", "van", "--hours", "0.3",
                        "--lift", "2")["job"])  # fmt: skip
    line.acts("FOR", "promise", job, "2100-01-01T10:00:00+01:00")
    assert line.does("job", job)["promise"] == "2100-01-01T10:00:00+01:00"
    line.acts("FOR", "promise", job, "--chance", "0.8")
    assert line.does("job", job)["promise"] < "2100"
    line.acts("T1", "move", job, "--lift", "1")
    line.acts("T1", "move", job, "--place", "Y")
    assert line.does("job", job)["place"] == "Y"
    line.acts("FOR", "mark", job, "--why", "training")
    line.acts("FOR", "skip", f"{job}.1", "--reason", "done elsewhere")
    assert line.does("job", job)["state"] == "finished"
    line.acts("FOR", "close", job)
    assert line.does("job", job)["state"] == "closed"


def test_a_note_is_kept_with_the_job_and_taken_back(line: Line) -> None:
    job = line.take()
    done = line.acts("T1", "note", job, "wants the old parts back")
    assert (done["job"], done["says"]) == (job, f"Noted on {job}: wants the old parts back.")
    assert [one["text"] for one in line.does("job", job)["notes"]] == ["wants the old parts back"]
    assert "wants the old parts back" in line.run("job", job).out
    line.acts("T1", "undo")
    assert line.does("job", job)["notes"] == []
    assert "TEXT is empty" in line.refused("note", job, "  ", "--as", "T1")


def test_undo_and_the_day_sheet(line: Line) -> None:
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1")
    line.acts("T1", "clock", "off")
    assert "clocked off" in line.acts("T1", "undo")["says"]
    line.acts("T1", "clock", "off")
    seq = str(line.does("day", "T1")["clocks"][0]["seq"])
    line.acts("T1", "correct", seq, "--from", ago(0.02), "--why", "began earlier")
    line.acts("T1", "correct", seq, "--breaks-worked", "--part", "helper")
    line.acts("T1", "correct", seq, "--split", ago(0.01), "--on", "tidying")
    clocks = line.does("day", "T1")["clocks"]
    assert [one["reason"] for one in clocks] == [None, "tidying"]
    line.acts("T1", "correct", str(clocks[1]["seq"]), "--remove", "--why", "never was")
    date = clocks[0]["from"][:10]
    line.acts("FOR", "day", "T1", "--date", date, "--attended", "7.5", "--why", "left early")
    line.acts("T1", "day", "--date", date, "--confirm")
    day = line.does("day", "T1", "--date", date)
    assert (day["attended_hours"], day["confirmed"]) == (7.5, True)
    assert all(one["confirmed"] for one in day["clocks"])


def test_lifts_and_places(line: Line) -> None:
    line.acts("T1", "lift", "withdraw", "2", "--reason", "a cable frays")
    lane = line.does("floor")["lanes"][1]
    assert (lane["lift"], lane["in_service"], lane["out_reason"]) == ("2", False, "a cable frays")
    line.acts("FOR", "lift", "return", "2")
    line.acts("T1", "lift", "look", "2", "--note", "oil on the floor")
    line.acts("FOR", "lift", "inspect", "2", "--date", "2026-01-15", "--months", "12", "--source",
              "local code", "--by", "Vos")  # fmt: skip
    line.acts("OWN", "lift", "add", "4", "--kind", "four-post", "--kg", "5000")
    line.acts("OWN", "place", "add", "B1", "--kind", "bench")
    assert [one["lift"] for one in line.does("floor")["lanes"]] == ["1", "2", "4"]


def test_people(line: Line) -> None:
    line.acts("OWN", "people", "add", "T9", "--name", "Per", "--role", "technician", "--experience",
              "expert", "--from", "2026-01-01", "--until", "2099-12-31")  # fmt: skip
    line.acts("OWN", "people", "change", "T9", "--name", "Per Olav", "--badge", "T10")
    line.acts("OWN", "people", "qualify", "T10", "--for", "high voltage", "--until", "2099-06-30")
    line.acts("FOR", "people", "absence", "T10", "--date", "2099-01-05", "--why", "course")
    line.acts("FOR", "people", "absence", "T10", "--from", "2099-02-05T08:00", "--until",
              "2099-02-05T12:00", "--why", "dentist")  # fmt: skip
    line.acts("OWN", "people", "alone", "--hold-point", "LK", "--reason", "alone on Saturdays")
    person = next(one for one in line.does("people")["people"] if one["badge"] == "T10")
    assert person == {
        "badge": "T10", "name": "Per Olav", "role": "technician", "experience": "expert",
        "from": "2026-01-01", "until": "2099-12-31", "has_pin": False,
        "qualifications": [{"what": "high voltage", "until": "2099-06-30"}],
    }  # fmt: skip


def test_what_the_owner_sets(line: Line, tmp_path: Path) -> None:
    line.acts("OWN", "calendar", "set", "--shift", "mon-fri 07:00-16:00", "--break",
              "mon-fri 12:00-12:30", "--from", "2099-01-01")  # fmt: skip
    line.acts("OWN", "holiday", "set", "2099-12-25", "--name", "Christmas Day")
    line.acts("OWN", "holiday", "clear", "2099-12-25")
    line.acts("OWN", "rate", "set", "95.50", "--from", "2099-01-01")
    line.acts("OWN", "setting", "set", "cautious", "0.75")
    line.acts("OWN", "setting", "set", "overdue-lift-refused", "yes")
    book = tmp_path / "book.toml"
    book.write_text(BOOK.read_text("utf-8").replace("Small shop", "Second edition"), "utf-8")
    line.acts("FOR", "workbook", "load", str(book))
    shown = line.does("workbook", "show")
    assert (shown["version"], shown["name"]) == (2, "Second edition")
    assert {one["code"] for one in shown["operations"]} == {"TC", "WP"}
    assert line.run("workbook", "show", "--source").out == book.read_text("utf-8")
    assert line.does("workbook", "check", str(book)) == {"ok": True, "faults": []}
    assert line.does("verify")["ok"]


def test_the_starter_is_a_work_book_without_a_fault(line: Line, tmp_path: Path) -> None:
    starter = tmp_path / "starter.toml"
    starter.write_text(run("workbook", "starter").out, "utf-8")
    assert line.does("workbook", "check", str(starter))["ok"]
    assert line.acts("FOR", "workbook", "load", str(starter))["recorded"]


def test_a_late_entry_keeps_both_instants(line: Line) -> None:
    job = line.take()
    when = ago(0.001)
    seq = line.acts("T1", "clock", "on", f"{job}.1", "--at", when)["recorded"][0]
    entry = line.does("ledger", "--from", str(seq))
    assert datetime.fromisoformat(entry["happened_at"]) == datetime.fromisoformat(when)
    assert entry["recorded_at"] > entry["happened_at"]


def test_nobody_but_a_foreman_enters_late_into_a_day_that_is_confirmed(line: Line) -> None:
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1", "--at", ago(0.002))
    line.acts("T1", "clock", "off", "--at", ago(0.001))
    day = line.does("day", "T1")["date"]
    start = line.does("job", job)["estimate_changes"][0]["at"]
    line.acts("T1", "day", "--date", day, "--confirm")
    late = ("clock", "indirect", "parts", "--at", start)
    assert "takes the foreman or owner" in line.refused(*late, "--as", "T1", "--pin-stdin")
    line.acts("T2", *late)
    line.acts("T1", "clock", "indirect", "parts")


def test_every_writing_command_takes_what_they_all_take() -> None:
    writing = [one for one in commands.every() if any(o.name == "pin-stdin" for o in one.options)]
    for one in writing:
        if one.name not in ("init", "batch"):
            assert set(WRITING) <= set(one.options), one.name
    assert len(writing) > 40
