"""PINs stand nowhere: in no file, no answer, no argument, no process list, no printed value."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.file.backup import backup
from store.file.pins import make_secret
from store.file.shop import By, Shop
from tests.tui.cli.made import Line, run
from tui import learner
from tui.cli.call import Terminal
from tui.cli.commands import every
from tui.now import machine_now
from tui.parts.crash import last_words

NEW, OTHER = "740915263", "918273645"
"""Digits that no instant, hash or id of the shop holds by chance."""


def all_bytes(folder: Path) -> Iterator[tuple[str, bytes]]:
    for one in folder.rglob("*"):
        if one.is_file():
            yield one.name, one.read_bytes()


@pytest.fixture
def told(line: Line, tmp_path: Path) -> list[str]:
    """Everything that was said while two people set their PINs and used them, rightly or not."""
    said: list[str] = []

    def does(*argv: str, stdin: str) -> None:
        ran = line.run(*argv, stdin=stdin)
        said.extend((ran.out, ran.err))

    kept = Shop(line.path)  # so that the side file stays as long as it is looked at
    with kept.reading():
        does("people", "pin", "OWN", "--as", "OWN", "--pin-stdin", stdin=f"2468\n{NEW}\n")
        does("people", "pin", "FOR", "--as", "OWN", "--pin-stdin", stdin=f"{NEW}\n{OTHER}\n")
        does("rate", "set", "77", "--as", "OWN", "--pin-stdin", stdin=f"{NEW}\n")
        does("rate", "set", "78", "--as", "OWN", "--pin-stdin", stdin=f"{OTHER}\n")
        does("small", "--text", "Bulb", "--vehicle", "van", "--as", "FOR", "--pin-stdin",
             stdin=f"{OTHER}\n")  # fmt: skip
        for argv in (("ledger",), ("ledger", "--json"), ("people", "--json"), ("verify", "--json")):
            does(*argv, stdin="")
        backup(kept, tmp_path / "saved.shop")
        assert line.path.with_name(f"{line.path.name}-wal").stat().st_size
        for name, content in all_bytes(tmp_path):
            assert NEW.encode() not in content, name
            assert OTHER.encode() not in content, name
    kept.close()
    return said


def test_pins_are_in_no_file_and_no_answer(told: list[str]) -> None:
    whole = "".join(told)
    assert "nothing was changed" in whole  # the wrong one
    assert '"pin-set"' in whole
    assert NEW not in whole
    assert OTHER not in whole


def test_the_ledger_knows_a_hash_that_tells_nothing(line: Line) -> None:
    line.acts("OWN", "rate", "set", "77")
    entries = [json.loads(one) for one in line.run("ledger", "--json").out.splitlines()]
    checks = [one["payload"] for one in entries if one["kind"] == "pin-set"]
    assert checks
    assert all(re.fullmatch(r"[0-9a-f]{64}", one["check"]) for one in checks), checks
    assert len({one["check"] for one in checks}) == len(checks)  # salted: all PINs here are one


def test_the_same_pin_is_kept_in_another_way_for_everybody() -> None:
    one, other = (make_secret("2468", os.urandom(16)) for _ in range(2))
    assert one.hash != other.hash


def test_no_command_takes_a_pin_as_an_argument() -> None:
    for command in every():
        words = [one.name.lower() for one in command.arguments]
        assert not any(re.search(r"\bpin", one) for one in words), command.name
        for option in command.options:
            if "pin" in option.name.split("-"):
                assert (option.name, option.value) == ("pin-stdin", ""), command.name
            if option.name == "pins":
                assert option.path, command.name


def test_values_that_hold_a_pin_do_not_print_it() -> None:
    by = By("OWN", "t1", machine_now(), pin=NEW)
    terminal = Terminal(pins={"OWN": NEW})
    assert NEW not in f"{by!r} {terminal!r}"


def test_a_process_that_is_begun_is_told_the_file_and_nothing_else(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[list[str]] = []

    class Began:
        def __init__(self, words: list[str], **_: object) -> None:
            begun.append(words)

        def poll(self) -> int:
            return 0

    monkeypatch.setenv(learner.VARIABLE, "on")
    monkeypatch.setattr(subprocess, "Popen", Began)
    line.acts("OWN", "rate", "set", "77")
    assert learner.begin(line.path)
    assert begun[-1] == [sys.executable, "-m", "tui.learner", str(line.path)]


def test_a_bug_prints_no_value_of_a_variable() -> None:
    from rich.console import Console

    out = io.StringIO()
    console = Console(file=out, width=100)

    def fail(pin: str) -> None:
        raise RuntimeError(len(pin))

    try:
        fail(NEW)
    except RuntimeError:
        console.print(last_words(console))
    assert "RuntimeError" in out.getvalue()
    assert NEW not in out.getvalue()


def test_a_new_shop_says_nothing_of_the_owners_pin(tmp_path: Path) -> None:
    ran = run(
        "--shop", str(tmp_path / "new.shop"), "init", "--name", "Marsh Lane", "--zone",
        "Europe/Amsterdam", "--currency", "EUR", "--shift", "mon-fri 07:30-16:30", "--lift",
        "1:two-post:4000", "--owner", "OWN:Olga", "--pin-stdin", stdin=f"{NEW}\n",
    )  # fmt: skip
    assert ran.status == 0, ran
    assert NEW not in ran.out + ran.err
    assert all(NEW.encode() not in content for _, content in all_bytes(tmp_path))
