"""The owner's hour, walked: last month is opened, one figure followed down to its clock, the book
adopts what was learned, prices are tried, the page is sent, a kit is hired or bought. Once by
commands, once by keys on a real line; each ends in `verify`."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from store.file.verify import verify
from tests.end_to_end.pty_terminal import PtyTerminal, program
from tests.end_to_end.shell import PIN, Shell

MONTH, OWNER = "2026-09", "A01"
F6 = "\x1b[17~"
"""Special tools, where hiring stands beside buying."""
Line = dict[str, Any]


@pytest.fixture(name="shell")
def shell_fixture(taught_file: Path, tmp_path: Path) -> Shell:
    copy = tmp_path / "demo.shop"
    shutil.copyfile(taught_file, copy)
    return Shell(copy)


def page(shell: Shell) -> Any:
    return shell.does("month", MONTH, "--as", OWNER)


def first_sure(lines: list[Line]) -> Line:
    """What the page would change first, everywhere or for a family."""
    return next(one for one in lines if one["sure"])


def entry(shell: Shell, seq: int) -> Line:
    """One entry of the ledger, as it is printed."""
    ran = shell.run("ledger", "--json", "--from", str(seq))
    assert ran.returncode == 0, ran.stderr
    found: Line = json.loads(ran.stdout.splitlines()[0])
    assert found["seq"] == seq
    return found


def test_by_commands(shell: Shell, tmp_path: Path) -> None:
    told = page(shell)
    head = shell.run("month", MONTH, "--as", OWNER)
    assert head.stdout.startswith("September 2026")
    assert told["says"][0] in " ".join(head.stdout.split())
    _follows_hours_down(shell, told)
    _adopts(shell, told)
    _tries_prices(shell, told)
    _sends(shell, tmp_path)
    _hires_or_buys(shell)
    assert verify(shell.shop).ok


def _follows_hours_down(shell: Shell, told: Any) -> None:
    """Hours on jobs are those of people, these those of clocks, each with its entry."""
    ways = told["made_of"]["on_jobs"]
    total = told["hours"]["on_jobs"]
    assert sum(one["value"] for one in ways) == pytest.approx(total, rel=1e-4)
    way = ways[0]
    while way["ways"]:
        assert sum(one["value"] for one in way["ways"]) == pytest.approx(way["value"], abs=0.01)
        way = way["ways"][0]
    found = entry(shell, way["events"][0])
    assert found["kind"].startswith("clock")


def _adopts(shell: Shell, told: Any) -> None:
    """One line, as the page prints its command; the page has it no more until it is undone."""
    one = first_sure(told["book_should_say"])
    key = (one["phase"], one["family"])
    shell.does(*one["command"], "--as", OWNER, pin=True)
    assert all((each["phase"], each["family"]) != key for each in page(shell)["book_should_say"])
    shell.does("undo", "--as", OWNER, pin=True)
    again = first_sure(page(shell)["book_should_say"])
    assert ((again["phase"], again["family"]), again["book_hours"]) == (key, one["book_hours"])


def _tries_prices(shell: Shell, told: Any) -> None:
    ways = {one["hours"]: one for one in told["prices"]["ways"] if one["rate"] is None}
    assert ways["cautious"]["sold"] > ways["as quoted"]["sold"]
    assert all(one["per_hour"] > 0 for one in told["prices"]["costs"])
    dearer = shell.does("prices", MONTH, "--rate", "99", "--as", OWNER)
    assert "99" in json.dumps(dearer)


def _sends(shell: Shell, folder: Path) -> None:
    written = folder / "september.html"
    shell.does("month", MONTH, "--html", str(written), "--as", OWNER)
    shell.does("month", MONTH, "--csv", str(folder / "tables"), "--as", OWNER)
    assert "September 2026" in written.read_text("utf-8")
    assert len(list((folder / "tables").glob("*.csv"))) >= 10


def _hires_or_buys(shell: Shell) -> None:
    """What a kit's hires of a year came to, and from how many on it pays to buy it."""
    kits = shell.does("hire", "advise")["buy"]
    assert {one["kit"] for one in kits if one["hires"] >= 5}
    assert all(re.search(r"Buy|Go on hiring|do not buy", one["says"]) for one in kits), kits


def test_by_keys(shell: Shell) -> None:
    sure = [one for one in page(shell)["book_should_say"] if one["sure"]]
    with program(shell.shop, "open", "--view", "month", "--as", OWNER, size=(80, 24)) as at:
        _opens(at)
        _down_to_an_entry(at, shell)
        _adopts_by_one_key(at, sure)
        _prices_and_page(at, shell.shop)
    assert verify(shell.shop).ok


def _opens(at: PtyTerminal) -> None:
    """In the first lines: truer or not, is it luck; what to change; where it was lost."""
    at.wait("September 2026", "worth changing in the book", "lost")
    head = " ".join("\n".join(at.text.splitlines()[:5]).split())
    assert "Estimates" in head
    assert "luck" in head or "Truer" in head or "Further off" in head, head


def _down_to_an_entry(at: PtyTerminal, shell: Shell) -> None:
    """From the first line of the book to its jobs, their clocks, the entry of one."""
    at.keys("down")
    at.wait("▸ 1 ")
    at.keys("Enter")
    at.wait("told")
    at.keys("Enter")
    at.wait(" › ")
    at.keys("Enter")
    at.wait("As they were written down.", "clocked on")
    found = re.search(r"▸ (\d+) +entry (\d+),", at.text)
    assert found is not None
    assert entry(shell, int(found[2]))["payload"]["job"] == found[1]
    for _ in range(3):
        at.keys("Esc")
    at.wait("worth changing in the book")


def _adopts_by_one_key(at: PtyTerminal, sure: list[Line]) -> None:
    at.keys("1")
    at.wait("A new version", sure[0]["phase"])
    at.keys("Enter")
    at.wait("PIN")
    at.keys(PIN, "Enter")
    at.wait("says what was learned", "u undoes it.")
    at.until(lambda: _row(at, 1) in sure[1]["name"], "the next line comes up")
    at.keys("u")
    at.wait("Taken back")


def _row(at: PtyTerminal, number: int) -> str:
    """The name on a numbered line of the book."""
    found = re.search(rf"^[▸ ]*{number}  (.+?)(?:,|  |…)", at.text, re.MULTILINE)
    return found[1] if found else "no such line"


def _prices_and_page(at: PtyTerminal, shop: Path) -> None:
    at.keys("r")
    at.wait("what prices would have kept", "as quoted", "cautious")
    at.keys("Esc")
    at.wait("worth changing in the book")
    at.keys("w")
    at.wait("the month as a page")
    at.keys("Enter")
    at.wait("Written:")
    assert (shop.parent / f"month-{MONTH}.html").exists()
    assert list((shop.parent / f"month-{MONTH}").glob("*.csv"))
    at.keys(F6)
    at.wait("kits", "Marsh Lane Works", "back on")
