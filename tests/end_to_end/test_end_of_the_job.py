"""The end of a job and the months after: by commands alone, and by keys on a real line at 80x24.

The final service is signed, everything open refuses the hand-over and is named, kits are counted,
the record prints, what follows is listed and done, and the ledger is whole.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from tests.end_to_end.pty_terminal import program
from tests.end_to_end.shell import PIN, Shell, founded

WORK = (
    "clock on 1001.1\nfinish 1001.1\nclock on 1001.2\nsign 1001.2.1 --answer pass\n"
    "finish 1001.2\nclock on 1001.3\nsign 1001.3.1\nsign 1001.3.2\nfinish 1001.3\n"
    "clock on 1001.4\nsign 1001.4.1\nsign 1001.4.2 --reading 2.5\n"
    'finding 1001.4 --kind advice --text "hose is hard"\n'
    "finish 1001.4\nfinish 1001.5\nclock on 1001.6\nsign 1001.6.1\nfinish 1001.6\n"
    "clock on 1001.7\n"
)
END = "sign 1001.7.1\nsign 1001.7.2\nfinish 1001.7\n"
"""Filled and started; then all of it is done."""


@pytest.fixture(name="shell")
def shell_fixture(tmp_path: Path) -> Shell:
    shell = founded(tmp_path)
    shell.does(
        "take", "--operation", "CP", "--family", "B4-M-F", "--vehicle", "panel van", "--lift", "1",
        "--as", "F1", pin=True,
    )  # fmt: skip
    ran = shell.batch(tmp_path, WORK, "--as", "B12")
    assert (ran.returncode, ran.stderr) == (0, "")
    return shell


def _hand(shell: Shell, *more: str) -> str:
    return shell.refused(
        "handover", "1001", *more, "--as", "F1", "--pin-stdin", stdin=f"{PIN}\n"
    )  # fmt: skip


def test_the_end_of_a_job_by_commands_alone(shell: Shell, tmp_path: Path) -> None:
    says = _hand(shell, "--kits-complete")
    for words in (
        "1 1001 cannot be handed over", "1001.7 fill, run, final check is under way",
        "the clock of Ines on 1001.7 runs", "open condition: no coolant",
    ):  # fmt: skip
        assert words in says
    assert "RECORD SO FAR" in shell.run("record", "1001").stdout
    ran = shell.batch(tmp_path, END, "--as", "B12")
    assert (ran.returncode, ran.stderr) == (0, "")

    assert "Count the kits" in _hand(shell)
    assert "missing: 0 of belt-tool" in _hand(shell, "--kit", "belt-tool=0")
    done = shell.does(
        "handover", "1001", "--kit", "belt-tool=1", "--odometer", "84200", "--unit", "km",
        "--to", "Kim Invented", "--old-parts", "returned to the customer", "--fluid",
        "coolant, 6.5 l", "--faults-after", "none", "--as", "F1", pin=True,
    )  # fmt: skip
    assert "handed over and closed. 4 follow-ups set." in done["says"]
    assert shell.does("job", "1001")["state"] == "closed"
    assert "is closed" in _hand(shell)

    text = shell.run("record", "1001").stdout
    for words in ("84,200 km", "coolant, 6.5 l", "hose is hard", "2.5 %", "Kim Invented"):
        assert words in text, words
    assert "Kim Invented" not in shell.run("record", "1001", "--as", "B12").stdout
    page = tmp_path / "r.html"
    assert shell.run("record", "1001", "--html", str(page)).returncode == 0
    assert page.read_text("utf-8").startswith("<!DOCTYPE html>")
    assert shell.does("record", "1001")["handed"]["old_parts"] == "returned to the customer"
    assert "proposed work" in shell.run("sheet", "1001").stdout.lower()

    listed = shell.does("followups")["follow_ups"]
    assert [one["line"] for one in listed] == [1, 2, 3, 4]
    assert [one["due"] for one in listed] == sorted(one["due"] for one in listed)
    shell.does("followups", "set", "1001", "--what", "belt looked at", "--distance", "500",
               "--as", "B13")  # fmt: skip
    shell.does("followups", "move", "1001", "--line", "1", "--day", listed[-1]["due"],
               "--why", "away", "--as", "F1")  # fmt: skip
    shell.does("followups", "done", "1001", "--line", "2", "--outcome", "all dry", "--as", "B13")
    shell.does("undo", "--as", "B13")
    shell.does("followups", "drop", "1001", "--line", "2", "--why", "sold", "--as", "B13")
    left = shell.run("followups").stdout
    assert "belt looked at" in left
    assert "1001.2 " not in left
    assert "was dropped: sold" in shell.refused(
        "followups", "done", "1001", "--line", "2", "--outcome", "x", "--as", "F1"
    )  # fmt: skip

    dates = tmp_path / "shop.ics"
    assert shell.run("dates", str(dates)).returncode == 0
    read = dates.read_bytes()
    calendar: Any = Calendar.from_ical(read)
    assert len(calendar.walk("VEVENT")) == 4
    assert b"Kim" not in read
    assert shell.does("verify")["ok"]


def test_the_end_of_a_job_by_keys(shell: Shell, tmp_path: Path) -> None:
    with program(shell.shop, "open", "--as", "F1") as at:
        at.wait("Marsh Lane")
        at.keys("1", "Enter")
        at.wait("panel van", "coolant pump")
        at.keys("x")
        at.wait("1001 CANNOT BE HANDED OVER YET", "open condition: no coolant")
        at.keys("Esc")
        at.wait("how the estimate came to be")
        ran = shell.batch(tmp_path, END, "--as", "B12")
        assert (ran.returncode, ran.stderr) == (0, "")
        at.wait("nothing left")
        at.keys("x")
        at.wait("odometer (Enter: not read)")
        at.keys("84200", "Enter")
        at.wait("kits counted", "belt tension tool 1 of 1", "Advice without an answer")
        at.keys("Enter")
        at.wait("You counted: belt tension tool 1 of 1.", "Enter hand over and close 1001")
        at.keys("Enter")
        at.wait("takes Ruth's PIN")
        at.keys(PIN, "Enter")
        at.wait("1001 is handed over and closed. 4 follow-ups set.")
        at.keys("i")
        at.wait("RECORD OF THE WORK ON YOUR VEHICLE")
        for _ in range(5):
            at.keys(" ")
        at.wait("WHAT FOLLOWS")
        at.keys("Esc")
        at.wait("how the estimate came to be")
        at.keys("F3")
        at.wait("2 lifts free")
        at.keys("d")
        at.wait("desk")
        at.keys("f")
        at.wait("follow-ups", "1001.1", "4 follow-ups in all")
        at.keys("d")
        at.wait("what came of it")
        at.keys("Enter")
        at.wait("done, all well", "3 follow-ups in all", "undoes it")
        at.keys("u")
        at.wait("4 follow-ups in all")
        at.keys("x", "sold", "Enter")
        at.wait("not to be done, sold")
        at.keys("Esc", "Esc")
        at.wait("2 lifts free")
    assert shell.does("verify")["ok"]
    assert len(shell.does("followups")["follow_ups"]) == 3
