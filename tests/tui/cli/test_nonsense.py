"""Nonsense at the command line: files that are none, words that mean nothing, never a traceback."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.tui.cli.made import Line, Ran, run
from tui.cli import commands

TOP = Path(__file__).parents[3]
READS_A_FILE = (
    "workbook check {f}", "workbook load {f} --as OWN --pin-stdin", "batch {f} --as OWN",
    "history import {f} --dry-run", "history import {f} --as OWN --pin-stdin",
    "paper {f} --as FOR --pin-stdin", "hindsight {f} --out {o}", "restore {f} --shop {o}",
    "batch - --pins {f} --as OWN",
)  # fmt: skip
BESIDE = ("--shop", "--help", "--version")


def _line_of(words: str, file: Path, folder: Path) -> list[str]:
    return [one.format(f=file, o=folder / "out") for one in words.split()]


def one_line_each(ran: Ran) -> bool:
    """Nothing on standard output, and lines that can be shown on the other."""
    lines = ran.err.splitlines()
    return ran.out == "" and bool(lines) and all(one.isprintable() for one in lines)


@pytest.mark.parametrize("words", READS_A_FILE)
@pytest.mark.parametrize("kind", ["pipe", "folder", "nothing there", "text", "device"])
def test_what_is_no_such_file_is_refused_and_not_waited_for(
    line: Line, tmp_path: Path, words: str, kind: str
) -> None:
    file = tmp_path / "given"
    if kind == "pipe":
        os.mkfifo(file)
    elif kind == "folder":
        file.mkdir()
    elif kind == "text":
        file.write_bytes(b"\x1b[2J\xff\xfe\x9b no table, no book\n")
        file.chmod(0o600)
    elif kind == "device":
        file = Path("/dev/zero")
    before = line.events()
    ran = line.run(*_line_of(words, file, tmp_path))
    if "batch" in words and ran.status == 0:
        assert kind in ("pipe", "nothing there"), "an empty list of commands does nothing"
    else:
        assert ran.status in (1, 2), ran
        assert one_line_each(ran), ran
    assert line.events() == before
    assert not (tmp_path / "out").exists()


SCRIPT = (
    "import sys; from tui.cli.run import main\n"
    "status = main(sys.argv[1:])\n"
    "peak = [one for one in open('/proc/self/status') if one.startswith('VmHWM')]\n"
    "sys.stderr.write(peak[0].split()[1] + '\\n')\n"
    "sys.exit(status)\n"
)
"""Its own peak: what `getrusage` tells begins at that of the process it was split off."""
MOST_MB = 220


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="tells memory by Linux's /proc")
@pytest.mark.parametrize(
    "words", ["workbook check {f}", "history import {f} --dry-run", "batch {f} --as OWN"]
)
def test_a_file_of_200_mb_is_refused_in_little_memory(
    line: Line, tmp_path: Path, words: str
) -> None:
    file = tmp_path / "huge"
    with file.open("wb") as out:
        out.truncate(200_000_000)  # a hole: it reads as zeros and takes no room
    ran = subprocess.run(
        [sys.executable, "-c", SCRIPT, "--shop", str(line.path), *_line_of(words, file, tmp_path)],
        cwd=TOP, capture_output=True, text=True, check=False, env={**os.environ},
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (60, 60)),
    )  # fmt: skip
    said, used = ran.stderr.splitlines()
    assert ran.returncode == 1, ran
    assert said.isprintable()
    assert int(used) / 1024 < MOST_MB, said


WORDS = st.one_of(
    st.sampled_from((
        "", " ", "--", "-", "-1", "--as", "--at", "--json", "--shop", "=", "a=", "1e309", "-0",
        "nan", "1" + "0" * 400, "0000-01-01", "9999-12-31", "2026-13", "2026-02-30",
        "0001-01-01T00:00", "9999-12-31T23:59:59.999999Z", "1001", "1001.1", "1001.2.1", "1.1.1.1",
        "T1", "OWN", "\udcff\udc80", "\u202eabc", "e\u0301" * 200, "👩\u200d🔧",
        "\U000e0041\U000e007f", "\ufffe", "\ue000", "\x9b31m", "\x1b[2J", "a\nb", "\u2028", "%s",
        "{0}", "'; drop table job; --", "x" * 5000,
    )),
    st.text(max_size=8),
)  # fmt: skip
LINES = [one.words for one in commands.every() if one.name not in ("demo", "open", "browser")]


@settings(
    max_examples=150,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
@given(st.data())
def test_any_words_are_done_or_refused_in_one_line(line: Line, data: st.DataObject) -> None:
    words = data.draw(st.sampled_from(LINES))
    command = next(one for one in commands.beginning(words[0]) if one.words == words)
    options = [f"--{one.name}" for one in command.options if f"--{one.name}" not in BESIDE]
    more = data.draw(st.lists(st.one_of(WORDS, st.sampled_from([*options, "--as"])), max_size=7))
    argv = [one.replace("\0", "") for one in (*words, *more)]
    before = line.events()
    ran = run("--shop", str(line.path), *argv, stdin="2468\n")
    assert ran.status in (0, 1, 2), argv
    assert all(one.isprintable() for one in ran.err.splitlines()), (argv, ran.err)
    if ran.status == 2:
        assert ran.err.count("\n") == 1, (argv, ran)
    if ran.status:
        assert ran.err, argv
        assert line.events() == before or words == ("batch",), argv
