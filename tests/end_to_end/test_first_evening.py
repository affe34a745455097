"""The first evening (a shop of two people and four lifts), from no file to a wise estimate.

By keys alone at 80x24 on a real line, and by commands alone: the shop is made with operations to
put right, the empty screens say what to do, one is copied and its hours edited, faults are told in
words, the first job is estimated from the book alone and says so, old jobs come in from a
spreadsheet, and the estimate is at once as wise as if they had been logged here.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from time import monotonic
from typing import Any

import pytest

from store.edges.tables import cells as csv_cells
from store.edges.workbook.model import load
from store.file.shop import Shop
from store.file.verify import verify
from store.learn.records import Record
from store.rules.routes import lay
from store.views.book import book_now
from store.views.estimate import estimate
from tests.end_to_end.pty_terminal import KEYS, PtyTerminal, program
from tests.end_to_end.shell import PIN, Shell
from tui.now import machine_now
from tui.words import zone_of

ZONE = zone_of("Europe/Amsterdam")
FAMILY = "D4-M-F"
ALWAYS = "mon-sun 00:00-00:00"
LIFTS = "1:two-post:4000; 2:two-post:4000; 3:scissor:3000; 4:four-post:5000"
SLOW = 1.3
"""How long work takes here, in times of the book."""


def old_jobs(source: str, folder: Path, jobs: int = 8) -> Path:
    """A spreadsheet of the last months, as a table: clutches of vans, slower than the book."""
    book, rows = load(source, routes_tried=True), list[Record]()
    route = lay(book, operations=["CLV"], family=FAMILY, options={}, grade=2)
    for job in range(jobs):
        at = machine_now() - timedelta(days=80 - 7 * job)
        for seq, one in enumerate(route, 1):
            if one.phase.kind != "labour":
                continue
            hours = one.book.middle * SLOW * (0.95 + 0.02 * ((job + seq) % 6))
            end = at + timedelta(hours=hours)
            rows.append(
                Record(
                    f"old-{job}", "CLV", FAMILY, one.phase.code, seq, "B12", at.timestamp(),
                    end.timestamp(), one.book.middle, hours, 2, one.phase.phase_class, 1, None,
                    False, one.serves,
                )
            )  # fmt: skip
            at = end
    path = folder / "old jobs.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(
            [csv_cells.HISTORY, *(csv_cells.of_record(one, ZONE) for one in rows)]
        )
    return path


class Hand:
    """Somebody who presses one key after another, and counts."""

    def __init__(self, at: PtyTerminal) -> None:
        self.at, self.pressed = at, 0

    def press(self, *keys: str) -> None:
        """Keys by name, or letters."""
        for key in keys:
            self.pressed += 1 if key in KEYS else len(key)
            self.at.keys(key)

    def answer(self, label: str, text: str, proposed: int = 0) -> None:
        """Answer a question; what is proposed goes first."""
        self.at.wait(label)
        self.press(*["backspace"] * proposed, *([text] if text else []), "Enter")


def told_h(path: Path, now: datetime, operation: str = "CLV") -> tuple[float, str]:
    """Middle hours of an operation on the usual vehicle, and where they come from."""
    shop = Shop(path)
    try:
        found = estimate(shop, operations=[operation], family=FAMILY, now=now, depth="hours")
        return found.total.middle, found.says
    finally:
        shop.close()


def founded_by_keys(at: PtyTerminal, hand: Hand) -> None:
    """The eleven questions."""
    at.wait("hoistbook keeps the jobs", "sets up your shop")
    hand.press("Enter")
    hand.answer("name of the shop", "Two lanes")
    at.wait("time zone")
    hand.press(*["backspace"] * 30, "Europe/Amsterdam", "Enter")
    hand.answer("currency", "", 0)
    hand.answer("your shop, 4 of 11", ALWAYS, len("mon-fri 07:30-16:30"))
    hand.answer("your shop, 5 of 11", "", len("mon-fri 12:00-12:45"))
    hand.answer("your shop, 6 of 11", LIFTS, len("1:two-post:4000"))
    at.wait("CL clutch and flywheel")
    hand.answer("your shop, 7 of 11", "XX", len("all"))
    at.wait("XX is not offered")
    hand.press("backspace", "backspace", "CL RS", "Enter")
    hand.answer("the owner's name", "Olga")
    hand.answer("the owner's badge", "")
    hand.answer("your shop, 10 of 11", PIN)
    hand.answer("your shop, 11 of 11", PIN)
    at.wait("Make Two lanes?")
    hand.press("Enter")
    at.wait("Two lanes is made.", "b shows its work book", "free")


def book_by_keys(at: PtyTerminal, hand: Hand) -> None:
    """The first operation: copied, its hours edited, a slip explained."""
    hand.press("b")
    at.wait("2 operations", "CL clutch and flywheel", "none")
    hand.press("c", "CLV", "Enter", "clutch, vans", "Enter")
    at.wait("operation CLV: clutch, vans, 14 phases, new")
    hand.press("Enter")
    at.wait("3 operations")
    hand.press("down", "down", "Enter")
    at.wait("CLV clutch, vans", "CLV1")
    for _ in range(14):
        before = chosen_row(at)
        if "CLV3" in at.text.splitlines()[before]:
            break
        hand.press("down")
        at.until(partial(_moved_from, at, before), "the next line")
    hand.press("h", "slow", "Enter")
    at.wait("is no hours")
    hand.press(*["backspace"] * 4, "1.2", "Enter")
    at.wait("CLV3 Clutch and release parts 0.9 h › 1.2 h")
    hand.press("Enter")
    at.wait("Work book 3 loaded")
    hand.press("Esc", "Esc")
    at.wait("lift", "free")


def chosen_row(at: PtyTerminal) -> int:
    """The row that is chosen; the first where none is."""
    rows = at.text.splitlines()
    return next((n for n, row in enumerate(rows) if row.startswith(" ▸")), 0)


def _moved_from(at: PtyTerminal, row: int) -> bool:
    return chosen_row(at) not in (row, 0)


def test_a_first_evening_by_keys_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, begun = tmp_path / "ours.shop", monotonic()
    with program(path, HOISTBOOK_LEARNER="off") as at:
        hand = Hand(at)
        founded_by_keys(at, hand)
        founding = hand.pressed
        hand.press("F9", "adds somebody", "Enter")
        hand.answer("somebody new", "Per")
        hand.answer("badge of Per", "B12")
        at.wait("which role?")
        hand.press("Enter")
        at.wait("Olga's PIN")
        hand.press(PIN, "Enter")
        at.wait("Per")
        book_by_keys(at, hand)
        booked = hand.pressed
        hand.press("F5")
        at.wait("number plate")
        hand.press("white van", "Enter", FAMILY, "Enter", "clv", "Enter")
        at.wait("together")
        at.until(lambda: "asking" not in at.text, "what the hours are known from")
        assert at.text.count("book only") == 10, "every phase says that nothing is known of it"
        hand.press("Enter")
        at.wait("1001 taken")
        before_h, says = told_h(path, machine_now())
        assert "book" in says
        table = old_jobs(source_of(path), tmp_path)
        hand.press("F3")
        at.wait("lift")
        hand.press("F9", "old jobs", "Enter")
        hand.answer("old jobs from a table", str(tmp_path / "none.csv"))
        at.wait("No such file or directory. Give a CSV file")
        hand.press("F9", "old jobs", "Enter")
        at.wait("old jobs from a table")
        hand.press(*["backspace"] * 120, str(table), "Enter")
        at.wait("of 8 jobs in?", "CLV: 8 jobs")
        hand.press("Enter")
        at.wait("imported from old jobs.csv")
        hand.press("Esc", "Esc")
    taught(path)
    after_h, says = told_h(path, machine_now())
    assert after_h > before_h * 1.1, (before_h, after_h)
    assert "8 jobs" in says
    assert verify(path).ok
    with capsys.disabled():
        print(f"\n  the first evening: {founding} keys to a shop, {booked - founding} to the first "
              f"operation, {hand.pressed} in all, {monotonic() - begun:.0f} s")  # fmt: skip


def source_of(path: Path) -> str:
    """The work book of a shop as TOML."""
    shop = Shop(path)
    try:
        return book_now(shop, machine_now()).source
    finally:
        shop.close()


def taught(path: Path) -> None:
    """What the learner beside the program does, waited for."""
    from tui.learner import take_in
    from tui.session import open_shop

    shop, clock = open_shop(path)
    try:
        take_in(shop, clock)
    finally:
        shop.close()


def made_by_command(folder: Path, name: str) -> Shell:
    """The same shop by options."""
    shell = Shell(folder / name)
    lifts: Sequence[str] = [word for one in LIFTS.split("; ") for word in ("--lift", one)]
    ran = shell.run(
        "init", "--name", "Two lanes", "--zone", "Europe/Amsterdam", "--currency", "EUR",
        "--shift", ALWAYS, *lifts, "--starter", "CL,RS", "--owner", "O1:Olga", "--pin-stdin",
        stdin=f"{PIN}\n",
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (0, ""), ran
    assert "workbook set" in ran.stdout, "it says what comes next"
    shell.does("people", "add", "B12", "--name", "Per", "--role", "technician", "--as", "O1",
               pin=True)  # fmt: skip
    return shell


def estimated(shell: Shell) -> Any:
    """The estimate of a clutch in a van."""
    return shell.does("estimate", "--operation", "CLV", "--family", FAMILY)


def test_a_first_evening_by_commands_alone(tmp_path: Path) -> None:
    shell = made_by_command(tmp_path, "ours.shop")
    owner = ("--as", "O1")
    done = shell.does("workbook", "copy", "CL", "CLV", "--name", "clutch, vans", *owner, pin=True)
    assert any(one["what"] == "operation CLV" for one in done["changes"])
    assert "no phase CLX" in shell.refused("workbook", "set", "CLX", "--hours", "1.2", *owner)
    assert "is no hours" in shell.refused("workbook", "set", "CLV3", "--hours", "slow", *owner)
    assert "like 1 in 8" in shell.refused("workbook", "set", "CLV.stud", "--odds", "x", *owner)
    done = shell.does("workbook", "set", "CLV3", "--hours", "1.2", *owner, pin=True)
    assert done["changes"] == [
        {"what": "CLV3 Clutch and release parts", "before": "0.9 h", "after": "1.2 h"}
    ]
    _the_checker_talks_to_a_mechanic(shell, tmp_path)
    first = estimated(shell)
    assert {one["finished_before"] for one in first["route"]} == {0}
    assert all("book" in one["from"] for one in first["route"] if one["kind"] == "labour")
    job = shell.does("take", "--operation", "CLV", "--family", FAMILY, "--vehicle", "white van",
                     "--lift", "1", *owner, pin=True)["job"]  # fmt: skip
    assert job == "1001"
    source = shell.run("workbook", "show", "--toml").stdout
    table = old_jobs(source, tmp_path)
    shell.does("history", "import", str(table), *owner, pin=True)
    after = estimated(shell)
    assert {one["finished_before"] for one in after["route"] if one["kind"] == "labour"} == {8}
    assert after["total_hours"]["middle"] > 1.1 * first["total_hours"]["middle"]
    again = made_by_command(tmp_path, "again.shop")
    (tmp_path / "book.toml").write_text(source, "utf-8")
    again.does("workbook", "load", str(tmp_path / "book.toml"), *owner, pin=True)
    out = tmp_path / "out.csv"
    shell.does("history", "export", str(out))
    again.does("history", "import", str(out), *owner, pin=True)
    there = estimated(again)
    assert there["total_hours"]["middle"] == pytest.approx(after["total_hours"]["middle"], abs=0.02)
    for one in (shell, again):
        assert one.run("verify").returncode == 0


def _the_checker_talks_to_a_mechanic(shell: Shell, folder: Path) -> None:
    """A slip in the file is named with its line, and what to do."""
    path = folder / "mine.toml"
    shell.does("workbook", "export", str(path))
    text = path.read_text("utf-8")
    line = text.splitlines().index('code = "CLV3"') + 1
    path.write_text(text.replace('code = "CLV3"\n', 'code = "CLV3"\nouhrs = 2\n'), "utf-8")
    ran = shell.run("workbook", "check", str(path))
    assert ran.returncode == 1
    assert (
        f"line {line + 1}: `ouhrs` is not a word of the work book here: did you mean" in ran.stderr
    )


def test_init_at_a_terminal_asks_for_what_it_was_not_told(tmp_path: Path) -> None:
    path = tmp_path / "asked.shop"
    told = ("--name", "Two lanes", "--zone", "Europe/Amsterdam", "--currency", "EUR", "--shift",
            ALWAYS, "--break", "mon-fri 12:00-12:45", "--lift", "1:two-post:4000")  # fmt: skip
    with program(path, "init", *told) as at:
        at.wait("CL clutch and flywheel", "CP coolant pump", "Which (all, none, or codes) [all]:")
        at.keys("XX", "Enter")
        at.wait("! XX is not offered")
        at.keys("tc", "Enter")
        at.wait("Owner, BADGE:NAME")
        at.keys("O1:Olga", "Enter")
        at.wait("Olga, 4 to 12 digits")
        at.keys(PIN, "Enter")
        at.wait("Olga again")
        at.keys(PIN, "Enter")
        at.wait("Two lanes is made", "workbook set")
        assert at.ended() == 0
    assert list(load(source_of(path), routes_tried=True).operations) == ["TC"]
    assert verify(path).ok
