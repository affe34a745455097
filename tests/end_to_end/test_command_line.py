"""A whole job by command line alone, each act a process of its own; and how a process ends."""

from __future__ import annotations

import json
import os
import pty
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Generator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path

import pytest

from tests.end_to_end.shell import PIN, PROGRAM, Shell, environment, founded


@pytest.fixture(name="shell")
def shell_fixture(tmp_path: Path) -> Shell:
    """Every process here starts from nothing, but for those of a whole job."""
    return replace(founded(tmp_path), fresh=True)


def test_a_job_is_taken_worked_signed_surprised_and_closed(tmp_path: Path) -> None:
    shell = founded(tmp_path)
    taken = shell.run(
        "take", "--operation", "CP", "--family", "B4-M-F", "--vehicle", "panel van", "--lift", "1",
        "--as", "F1", "--pin-stdin", stdin=f"{PIN}\n",
    )  # fmt: skip
    assert (taken.returncode, taken.stdout) == (0, "1001\n")
    before = shell.does("job", "1001")

    assert "decision 1001.2.1" in shell.refused("clock", "on", "1001.3", "--as", "B12")
    ready = shell.batch(
        tmp_path,
        "clock on 1001.1\nfinish 1001.1\nclock on 1001.2\nsign 1001.2.1 --answer pass\n"
        "finish 1001.2\nclock on 1001.3\nsign 1001.3.1\nsign 1001.3.2\nfinish 1001.3\n",
        "--as", "B12",
    )  # fmt: skip
    assert (ready.returncode, ready.stderr) == (0, "")

    shell.does("clock", "on", "1001.4", "--as", "B12")
    assert shell.does("floor")["lanes"][0]["job"]["phase"]["people"] == ["B12"]
    shell.does("sign", "1001.4.1", "--as", "B12")
    assert "hold point 1001.4.2" in shell.refused("finish", "1001.4", "--as", "B12")
    out = shell.does("sign", "1001.4.2", "--reading", "25", "--as", "B12")
    assert "10" in out["says"]
    card = shell.does("job", "1001")
    assert card["phases"][3]["state"] == "held"
    assert "reading-out" in card["flags"]
    assert shell.refused("clock", "on", "1001.4", "--as", "B13").startswith("1 ")

    shell.does("finding", "1001.4", "--kind", "surprise", "--text", "seat scored", "--hours", "2",
               "--as", "B12")  # fmt: skip
    assert "supplement-asked" in shell.does("floor")["lanes"][0]["job"]["flags"]
    shell.does("supplement", "approve", "1001", "--by", "Vos", "--as", "F1", pin=True)
    moved = shell.does("job", "1001")
    assert moved["estimate_hours"]["middle"] == pytest.approx(
        before["estimate_hours"]["middle"] + 2, abs=0.3
    )
    causes = [one["cause"] for one in moved["estimate_changes"]]
    assert (causes[0], len(causes)) == ("book", 2)

    shell.does("sign", "1001.4.2", "--reading", "2.5", "--as", "B12")
    readings = shell.does("job", "1001")["phases"][3]["steps"][1]["signed"]
    assert [list(one["readings"].values()) for one in readings] == [[25], [2.5]]
    assert shell.refused("close", "1001", "--as", "F1", "--pin-stdin", stdin=f"{PIN}\n")
    rest = shell.batch(
        tmp_path,
        "clock on 1001.4\nfinish 1001.4\nfinish 1001.5\nclock on 1001.6\nsign 1001.6.1\n"
        "finish 1001.6\nclock on 1001.7\n",
        "--as", "B12",
    )  # fmt: skip
    assert (rest.returncode, rest.stderr) == (0, "")
    assert shell.does("job", "1001")["open_conditions"] == ["no coolant"]
    assert "no coolant" in shell.refused("sign", "1001.7.2", "--as", "B12")
    end = shell.batch(
        tmp_path, "sign 1001.7.1\nsign 1001.7.2\nfinish 1001.7\nclose 1001 --as F1\n", "--as", "B12"
    )
    assert (end.returncode, end.stderr) == (0, "")

    card = shell.does("job", "1001")
    assert card["state"] == "closed"
    assert all(one["confirmed"] for one in shell.does("day", "B12")["clocks"])
    assert shell.does("floor")["lanes"][0]["job"] is None
    assert shell.does("verify")["ok"]


def typed_at_a_terminal(argv: Sequence[str], prompt: bytes, keys: bytes) -> tuple[int, bytes]:
    """Run a command line at a terminal of its own; return its status and all that it showed."""
    master, slave = pty.openpty()
    child = subprocess.Popen(
        argv, stdin=slave, stdout=slave, stderr=slave, env=environment(), cwd="/",
        start_new_session=True,
    )  # fmt: skip
    os.close(slave)
    shown = b""
    with suppress(OSError):  # Linux ends a terminal line whose other side is gone with EIO
        while found := os.read(master, 4096):
            shown += found
            if keys and prompt in shown:
                os.write(master, keys)
                keys = b""
    os.close(master)
    return child.wait(timeout=60), shown


def test_a_pin_is_typed_at_a_terminal_and_not_shown(shell: Shell) -> None:
    argv = [
        *PROGRAM, "--shop", str(shell.shop), "lift", "inspect", "1", "--date", "2026-01-01",
        "--months", "12", "--source", "local code", "--by", "Vos", "--as", "F1",
    ]  # fmt: skip
    status, shown = typed_at_a_terminal(argv, b"PIN of F1: ", f"{PIN}\n".encode())
    assert status == 0, shown
    assert b"Lift 1 was inspected" in shown
    assert PIN.encode() not in shown


def test_words_that_are_no_text_are_refused(shell: Shell) -> None:
    assert shell.refused("clock", "off", "--as", b"\xff\xfe").startswith("2 ")
    assert shell.refused(b"\xff").startswith("2 ")
    assert shell.refused("small", "--text", b"bulb \xc3", "--vehicle", "v", "--as", "B12")


def test_nobody_reads_the_answer_any_more(shell: Shell) -> None:
    for argv in (("ledger", "--json"), ("floor",), ("clock", "indirect", "parts", "--as", "B12")):
        reader, writer = os.pipe()
        os.close(reader)
        ran = shell.run(*argv, stdout=writer)
        os.close(writer)
        assert (ran.returncode, ran.stderr) == (0, ""), argv
    assert shell.does("day", "B12")["clocks"][0]["reason"] == "parts"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_the_answer_cannot_be_printed(shell: Shell) -> None:
    with Path("/dev/full").open("w") as full:
        ran = shell.run("floor", stdout=full.fileno())
    assert ran.returncode == 1
    assert ran.stderr.count("\n") == 1


def test_streams_that_were_closed(shell: Shell) -> None:
    command = f'{sys.executable} -m tui --shop "{shell.shop}" '
    for rest, status in (
        ("floor <&-", 0), ("floor >&-", 0), ("clock off --as B12 <&-", 1), ("open <&-", 1),
        ("nonsense 2>&-", 2), ("batch - <&-", 0), ("floor <&- >&- 2>&-", 0),
    ):  # fmt: skip
        ran = subprocess.run(
            command + rest, shell=True, env=environment(), cwd="/", capture_output=True, check=False
        )
        assert ran.returncode == status, (rest, ran)
        assert b"Traceback" not in ran.stderr, (rest, ran)


def test_a_narrow_encoding_loses_no_answer(shell: Shell, tmp_path: Path) -> None:
    shell.batch(tmp_path, "small --text Türfeder --vehicle 'alter Käfig 🚐' --as B12\n")
    narrow = Shell(shell.shop, environ=environment(PYTHONIOENCODING="ascii"), fresh=True)
    assert narrow.does("job", "1001")["vehicle"] == "alter Käfig 🚐"
    ran = narrow.run("job", "1001")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "alter K\\xe4fig" in ran.stdout


HEAVY = {"numpy", "scipy", "pandas", "sqlite_utils", "textual", "pendulum", "platformdirs"}


@pytest.mark.parametrize("words", ["clock off --as B12", "floor --json", "job 9", "--version"])
def test_a_command_imports_only_what_it_needs(shell: Shell, words: str) -> None:
    argv = ["--shop", str(shell.shop), *words.split()]
    code = (
        "import sys, json; from tui.cli.run import main; "
        f"main({argv!r}); sys.stderr.write(json.dumps(sorted(sys.modules)))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=environment(), cwd="/",
        check=True,
    )  # fmt: skip
    modules = {name.split(".")[0] for name in json.loads(ran.stderr.splitlines()[-1])}
    assert not HEAVY & modules


def _without_rights_over_files() -> tuple[str, ...]:
    """Words that start a program for which the modes of files hold, even if root starts it."""
    if os.geteuid() != 0:
        return ()
    if not shutil.which("setpriv"):
        pytest.skip("root writes everywhere: install util-linux, or run the tests as another user")
    return ("setpriv", "--bounding-set=-dac_override,-dac_read_search", "--")


@contextmanager
def read_only(shell: Shell) -> Generator[Shell]:
    """The shop in a folder that whoever runs the program can read and not write."""
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-test-"))
    shutil.copy(shell.shop, folder / "r.shop")
    (folder / "r.shop").chmod(0o444)
    folder.chmod(0o555)
    try:
        yield Shell(folder / "r.shop", before=_without_rights_over_files())
    finally:
        folder.chmod(0o755)
        shutil.rmtree(folder)


def test_a_folder_that_cannot_be_written(shell: Shell) -> None:
    with read_only(shell) as reader:
        kept = reader.shop.read_bytes()
        for argv in (("floor", "--json"), ("clock", "indirect", "parts", "--as", "B12")):
            assert "cannot be written" in reader.refused(*argv)
        assert reader.refused("backup", str(reader.shop.parent / "b.shop")).startswith("1 ")
        new = Shell(reader.shop.parent / "n.shop", before=reader.before)
        said = new.refused(
            "init", "--name", "x", "--zone", "UTC", "--currency", "EUR", "--shift",
            "mon 08:00-09:00", "--owner", "O1:O", "--pin-stdin", stdin=f"{PIN}\n",
        )  # fmt: skip
        assert said.startswith("1 ")
        assert reader.shop.read_bytes() == kept
        assert [one.name for one in reader.shop.parent.iterdir()] == ["r.shop"]


def test_two_terminals_at_once_lose_nothing(shell: Shell, tmp_path: Path) -> None:
    lines = "".join("clock indirect parts\nclock indirect tidying\n" for _ in range(15))
    words = [*PROGRAM, "--shop", str(shell.shop), "batch", "-", "--as"]
    children = [
        subprocess.Popen(
            [*words, badge], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            env=environment(), cwd="/", text=True,
        )
        for badge in ("B12", "B13")
    ]  # fmt: skip
    for child in children:
        out, err = child.communicate(lines, timeout=120)
        assert (child.returncode, err, out.count("\n")) == (0, "", 30)
    for badge in ("B12", "B13"):
        assert len(shell.does("day", badge)["clocks"]) == 30
    assert shell.does("verify")["ok"]


def test_backup_and_restore(shell: Shell, tmp_path: Path) -> None:
    copy = tmp_path / "copy.shop"
    shell.does("backup", str(copy))
    shell.does("clock", "indirect", "parts", "--as", "B12")
    assert "--replace" in shell.refused("restore", str(copy))
    shell.does("restore", str(copy), "--replace")
    assert shell.does("day", "B12")["clocks"] == []
    other = Shell(tmp_path / "other.shop")
    other.does("restore", str(copy))
    assert other.does("verify")["ok"]
