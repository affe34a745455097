"""A scanner on a real line, in every rhythm that it types in: each code is whole or nothing.

A field has the focus all the time, and the pad's digits are live behind it. What a scan does is
counted in the ledger: every code moves the clock, so one that was lost, doubled, glued to its
neighbour or half taken for keys shows in the entries.
"""

from __future__ import annotations

import json
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from store.rules.codes import MARK, Code, written
from tests.end_to_end.pty_terminal import PtyTerminal, program
from tests.tui.cli.made import Line, new_line
from tests.tui.keyboards import through
from tui.parts.scan import SAID_AFTER_S

SCANS = 6
TYPED = "7 stud 1"
"""In the field: digits that are keys of the bay's home."""
LONGER_S = SAID_AFTER_S * 1.5


def printed(kind: str, name: str) -> str:
    """What a scanner sends of a code."""
    code = Code("badge", name) if kind == "badge" else Code("phase", name)
    return f"{MARK}{written(code)}\r"


def one_by_one(pause_s: float, rest_s: float) -> Callable[[PtyTerminal, list[str]], None]:
    """A scanner that types with a pause after each key and a rest after each code."""

    def send(at: PtyTerminal, codes: list[str]) -> None:
        for code in codes:
            for letter in code:
                at.child.send(letter)
                at.idle(pause_s)
            at.idle(rest_s)

    return send


def at_once(at: PtyTerminal, codes: list[str]) -> None:
    """A scanner that hands everything over in one piece."""
    at.child.send("".join(codes))


RHYTHMS = {
    "30 ms and a rest": one_by_one(0.03, 0.3),
    "5 ms and a rest": one_by_one(0.005, 0.3),
    "5 ms, no rest": one_by_one(0.005, 0.0),
    "at once": at_once,
}


@pytest.fixture(name="line")
def line_fixture(tmp_path: Path) -> Line:
    """Two jobs; T1's clock runs on the first."""
    line = new_line(tmp_path)
    line.take()
    line.acts("FOR", "take", "--operation", "TC", "--family", "B4-M-F", "--vehicle", "estate")
    line.acts("T1", "clock", "on", "1001.1")
    return line


def entries(line: Line, since: int) -> list[tuple[str, str]]:
    """Kind and phase of what was written since."""
    told = line.run("ledger", "--from", str(since + 1), "--json").out.splitlines()
    found = [json.loads(one) for one in told]
    return [(one["kind"], f"{one['payload'].get('job')}.{one['payload'].get('phase')}")
            for one in found]  # fmt: skip


def moves(many: int) -> list[str]:
    """Phases that are scanned one after another: each moves the clock."""
    return [("1002.1", "1001.1")[n % 2] for n in range(many)]


def in_a_field(at: PtyTerminal) -> None:
    """Somebody has begun to type a finding."""
    at.wait("CLOCK RUNS")
    at.keys("5")
    at.wait("what was found?")
    at.keys("1")
    at.wait("Say it so that the customer")
    at.keys(TYPED)
    at.wait(TYPED)


@pytest.mark.parametrize("rhythm", RHYTHMS)
def test_every_scan_is_whole_in_every_rhythm(line: Line, rhythm: str) -> None:
    before = line.events()
    with program(line.path, "open", "--as", "T1") as at:
        in_a_field(at)
        RHYTHMS[rhythm](at, [printed("phase", name) for name in moves(SCANS)])
        at.until(lambda: line.events() >= before + 2 * SCANS, "every scan in the file")
        at.wait("went over to 1001.1")
        begun = [where for kind, where in entries(line, before) if kind == "clocked-on"]
        assert begun == moves(SCANS)
        assert [kind for kind, _ in entries(line, before)] == ["clocked-off", "clocked-on"] * SCANS
        at.keys("5", "1")
        at.wait("Say it so that the customer", TYPED)
        letters = written(Code("phase", "1001.1"))
        assert letters not in at.text
        at.keys("Esc", "1")
        at.wait("NO CLOCK")
    assert [kind for kind, _ in entries(line, before)] == [
        *["clocked-off", "clocked-on"] * SCANS, "clocked-off"
    ]  # fmt: skip
    assert line.run("verify").status == 0


@pytest.mark.parametrize("after", [1, 2, 5, len(printed("phase", "1002.1")) - 1])
def test_a_line_that_stalls_inside_a_code(line: Line, after: int) -> None:
    code, before = printed("phase", "1002.1"), line.events()
    with program(line.path, "open", "--as", "T1") as at:
        in_a_field(at)
        at.child.send(code[:after])
        at.idle(LONGER_S)
        assert ("Half a code read" in at.flat) == (after > 1)
        assert line.events() == before
        at.child.send(code[after:])
        at.wait("went over to 1002.1")
    assert [kind for kind, _ in entries(line, before)] == ["clocked-off", "clocked-on"]
    assert line.run("verify").status == 0


def test_a_terminal_that_stood_still_takes_all_that_was_scanned_meanwhile(line: Line) -> None:
    """The host was suspended inside a code: everything arrives in one piece afterwards."""
    codes, before = [printed("phase", name) for name in moves(SCANS)], line.events()
    with program(line.path, "open", "--as", "T1") as at:
        in_a_field(at)
        at.child.send(codes[0][:4])
        at.signal(signal.SIGSTOP)
        at.idle(LONGER_S)
        at_once(at, [codes[0][4:], *codes[1:]])
        at.signal(signal.SIGCONT)
        at.until(lambda: line.events() >= before + 2 * SCANS, "every scan in the file")
        at.wait("went over to 1001.1")
    assert [where for kind, where in entries(line, before) if kind == "clocked-on"] == moves(SCANS)


@pytest.mark.parametrize(
    "scanner,machine", [("US", "French"), ("French", "US"), ("German", "French"), ("US", "Czech")]
)
def test_a_scanner_set_to_another_country(line: Line, scanner: str, machine: str) -> None:
    before = line.events()
    with program(line.path, "open", "--as", "T1") as at:
        in_a_field(at)
        at_once(at, [through(printed("phase", "1002.1"), scanner, machine)])
        at.wait("went over to 1002.1")
        at_once(at, [through(printed("badge", "T2"), scanner, machine)])
        at.wait("Tomas is signed in")
    assert [kind for kind, _ in entries(line, before)] == ["clocked-off", "clocked-on"]


def test_half_a_code_a_wrong_one_and_a_badge_by_hand(line: Line) -> None:
    before = line.events()
    with program(line.path, "open") as at:
        at.wait("Scan your badge")
        at_once(at, [printed("badge", "T1")[:-2]])
        at.wait("Half a code read: scan again")
        at_once(at, [printed("badge", "T1")])
        at.wait("CLOCK RUNS")
        at_once(at, [printed("phase", "1002.1").replace("C", "D")])
        at.wait("was not read rightly")
        at.keys("t2", "Enter")
        at.wait("Tomas", "NO CLOCK")
    assert line.events() == before


def test_a_paste_is_a_scan(line: Line) -> None:
    """Bracketed paste, as terminals send what comes in one piece."""
    before = line.events()
    with program(line.path, "open", "--as", "T1") as at:
        in_a_field(at)
        at.child.send(f"\x1b[200~{printed('phase', '1002.1')}\x1b[201~")
        at.wait("went over to 1002.1")
    assert [kind for kind, _ in entries(line, before)] == ["clocked-off", "clocked-on"]
