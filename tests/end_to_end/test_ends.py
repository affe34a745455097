"""How the screens begin and end on a real line: hung up, killed, resized, few colours, no glass."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.end_to_end.pty_terminal import ROOT, environment, program
from tests.tui.cli.made import Line, new_line


@pytest.fixture(name="line")
def line_fixture(tmp_path: Path) -> Line:
    line = new_line(tmp_path)
    line.take()
    return line


def test_a_clock_outlives_the_process_that_started_it(line: Line) -> None:
    """SIGKILL right after the key: the next sign-in shows it running."""
    with program(line.path, "open", "--lift", "1") as at:
        at.wait("Scan your badge")
        at.keys("T1", "Enter")
        at.wait("NO CLOCK")
        before = line.events()
        at.keys("1")
        at.until(lambda: line.events() > before, "the clock in the file")
        at.signal(signal.SIGKILL)
        assert at.ended() == -signal.SIGKILL
    with program(line.path, "open", "--as", "T1") as at:
        at.wait("CLOCK RUNS")
    assert line.run("verify").status == 0


def test_a_change_by_command_shows_on_the_bay_without_a_key(line: Line) -> None:
    with program(line.path, "open", "--as", "T1") as at:
        at.wait("NO CLOCK")
        line.acts("T1", "clock", "on", "1001.1")
        at.wait("CLOCK RUNS")
        line.acts("FOR", "hold", "1001.1", "--reason", "tool")
        at.wait("held for tool")


@pytest.mark.parametrize("name", [signal.SIGHUP, signal.SIGTERM])
def test_a_hang_up_or_a_stop_leaves_cleanly(line: Line, name: signal.Signals) -> None:
    with program(line.path, "open", "--view", "floor") as at:
        at.wait("wants somebody")
        at.signal(name)
        assert at.ended() == 0


def test_a_line_that_goes_away_leaves_no_process_behind(line: Line) -> None:
    with program(line.path, "open", "--view", "floor") as at:
        at.wait("wants somebody")
        at.hang_up()
        assert not at.child.isalive()


def test_another_size_is_painted_anew_and_a_tiny_one_says_so(line: Line) -> None:
    with program(line.path, "open", "--view", "floor", size=(120, 40)) as at:
        at.wait("who is on what")
        at.resize(50, 18)
        at.wait("hoistbook needs 60 columns and 20 rows here; this terminal has 50 by 18.")
        at.resize(80, 24)
        at.wait("wants somebody", "F1 help")


def test_sixteen_colours_send_no_others(line: Line) -> None:
    with program(line.path, "open", "--view", "floor", TERM="xterm", COLORTERM="") as at:
        at.wait("wants somebody")
        assert b"[38;2;" not in at.everything
        assert b"[48;5;" not in at.everything


def test_without_colours_nothing_names_one(line: Line) -> None:
    with program(line.path, "open", "--as", "T1", NO_COLOR="1") as at:
        at.wait("NO CLOCK")
        assert b"[38;" not in at.everything
        assert b"[48;" not in at.everything


def test_ascii_shows_no_other_sign(line: Line) -> None:
    with program(line.path, "open", "--as", "T1", "--ascii") as at:
        at.wait("! NO CLOCK")
        assert at.text.isascii()


def test_a_terminal_that_cannot_place_text_is_refused_in_one_sentence(line: Line) -> None:
    with program(line.path, "open", TERM="dumb") as at:
        assert at.ended() == 1
        assert at.flat.count("hoistbook floor") == 1


def test_no_terminal_is_one_sentence_and_no_spinning_process(line: Line) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "tui", "--shop", str(line.path), "open"], capture_output=True,
        text=True, stdin=subprocess.DEVNULL, env=dict(environment()), cwd=ROOT, check=False,
        timeout=60,
    )  # fmt: skip
    assert ran.returncode == 1
    assert ran.stdout == ""
    assert ran.stderr.count("\n") == 1
    assert "hoistbook floor" in ran.stderr


@pytest.mark.parametrize("column, plain", [(3, True), (2, False)])
def test_a_terminal_that_draws_signs_two_cells_wide_gets_plain_letters(
    line: Line, column: int, plain: bool
) -> None:
    """The program asks once where the cursor stands after a sign, and believes the answer."""
    with program(line.path, "open", "--view", "floor") as at:
        at.until(lambda: b"\x1b[6n" in at.everything, "the question")
        at.child.send(f"\x1b[2;{column}R")
        at.wait("wants somebody")
        at.until(lambda: at.text.isascii() is plain, "the set of signs")
        at.keys("F9")
        at.wait("all actions by name")
        assert at.everything.count(b"\x1b[6n") == 1


def test_a_fault_in_the_settings_is_one_line_and_no_screen(line: Line) -> None:
    settings = line.path.with_name("settings.toml")
    settings.write_text('[keys.floor]\nhold = "m"\n', encoding="utf-8")
    with program(line.path, "open", HOISTBOOK_SETTINGS=str(settings)) as at:
        assert at.ended() == 1
        assert "ne 2: m is move there already. Give move another key" in at.flat
        assert b"\x1b[?1049h" not in at.everything
    settings.write_text('look = "light"\n[keys.floor]\nhold = "Space"\n', encoding="utf-8")
    with program(line.path, "open", "--view", "floor", HOISTBOOK_SETTINGS=str(settings)) as at:
        at.wait("wants somebody")
        at.keys("F1")
        at.wait("Space holds the job")
        assert b"48;2;247;245;239" in at.everything, "the light ground"


def test_a_first_run_sets_up_a_shop_and_opens_it(tmp_path: Path) -> None:
    path = tmp_path / "our.shop"
    with program(path) as at:
        at.wait("Enter sets up your shop")
        at.keys("Enter")
        at.wait("1 of 11")
        at.keys("Marsh Lane", "Enter")
        at.wait("2 of 11")
        at.keys(*["Enter"] * 6)
        at.wait("8 of 11")
        at.keys("Olga", "Enter", "Enter")
        at.wait("10 of 11")
        at.keys("2468", "Enter")
        at.wait("11 of 11")
        at.keys("2468", "Enter")
        at.wait("Make Marsh Lane?")
        assert not path.exists()
        at.keys("Enter")
        at.wait("Olga, owner", "Marsh Lane is made.")
    with program(tmp_path / "other.shop") as at:
        at.wait("Enter sets up your shop")
        at.keys("Esc")
        assert at.ended() == 0
    assert {one.name for one in tmp_path.iterdir()} >= {"our.shop"}
    assert not (tmp_path / "other.shop").exists()
