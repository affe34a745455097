"""A PIN is asked for where it is needed; it comes from a prompt or standard input alone."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from tests.tui.cli.made import PIN, Line
from tui.cli import pins


@dataclass
class Keyboard:
    """Somebody who types what is asked."""

    types: list[str]
    asked: list[str] = field(default_factory=list[str])

    def ask(self, whose: str) -> str:
        self.asked.append(whose)
        return self.types.pop(0)


@pytest.fixture(name="keyboard")
def keyboard_fixture(monkeypatch: pytest.MonkeyPatch) -> Keyboard:
    keyboard = Keyboard([])
    monkeypatch.setattr(pins, "can_ask", lambda: True)
    monkeypatch.setattr(pins, "ask", keyboard.ask)
    return keyboard


INSPECT = (
    "lift", "inspect", "2", "--date", "2026-01-01", "--months", "12", "--source", "s", "--by", "V",
    "--as", "FOR",
)  # fmt: skip


def test_it_is_asked_for_where_the_act_turns_out_to_need_it(line: Line, keyboard: Keyboard) -> None:
    keyboard.types = [PIN]
    assert line.run(*INSPECT).status == 0
    assert keyboard.asked == ["FOR"]
    assert line.run("lift", "look", "2", "--as", "FOR").status == 0
    assert keyboard.asked == ["FOR"]


def test_a_wrong_one_is_refused_and_writes_nothing(line: Line, keyboard: Keyboard) -> None:
    keyboard.types = ["9999"]
    assert "That is not Ruth's PIN" in line.refused(*INSPECT)


def test_where_nobody_can_be_asked_it_is_said(line: Line) -> None:
    assert "--pin-stdin" in line.refused(*INSPECT)
    assert "no PIN" in line.refused(*INSPECT, "--pin-stdin", stdin="")
    assert "not Ruth's PIN" in line.refused(*INSPECT, "--pin-stdin", stdin="0000\n")


def test_one_that_was_not_needed_does_no_harm(line: Line) -> None:
    for stdin in (f"{PIN}\n", "0000\n"):
        ran = line.run("clock", "indirect", "parts", "--as", "T1", "--pin-stdin", stdin=stdin)
        assert ran.status == 0
        assert line.run("clock", "off", "--as", "T1").status == 0


def test_who_has_none_set_is_refused_what_needs_one(line: Line) -> None:
    line.acts("OWN", "people", "add", "F2", "--name", "Kai", "--role", "foreman")
    said = line.refused(*INSPECT[:-1], "F2", "--pin-stdin")
    assert "hoistbook people pin F2" in said


def test_ones_own_first_pin_then_with_the_old_one(line: Line) -> None:
    line.acts("OWN", "people", "add", "N1", "--name", "New", "--role", "technician")
    own = ("people", "pin", "N1", "--as", "N1", "--pin-stdin")
    assert line.run(*own, stdin="1357\n").status == 0
    assert "not New's PIN" in line.refused(*own, stdin="8642\n")
    assert line.run(*own, stdin="1357\n8642\n").status == 0
    assert "not New's PIN" in line.refused(*own, stdin="1357\n2468\n")


def test_another_persons_is_set_by_the_owner_alone(line: Line) -> None:
    pin = ("people", "pin", "T1", "--pin-stdin")
    assert line.run(*pin, "--as", "OWN", stdin=f"{PIN}\n1357\n").status == 0
    assert "takes the owner" in line.refused(*pin, "--as", "FOR", stdin=f"{PIN}\n1357\n")
    assert "4 to 12 digits" in line.refused(*pin, "--as", "OWN", stdin=f"{PIN}\n12\n")
    assert line.refused("people", "pin", "T1", "--as", "OWN").startswith("2 ")


def test_a_new_one_is_typed_twice(line: Line, keyboard: Keyboard) -> None:
    keyboard.types = ["1357", "1358"]
    assert "not the same" in line.refused("people", "pin", "T1", "--as", "T1")
    keyboard.types = ["1357", "1357", PIN]
    assert line.run("people", "pin", "T1", "--as", "T1").status == 0
    assert keyboard.asked[-1] == "T1"


def test_nothing_of_a_pin_stands_in_the_ledger_or_the_answer(line: Line) -> None:
    ran = line.run("people", "pin", "T1", "--as", "T1", "--pin-stdin", stdin=f"{PIN}\n13571357\n")
    assert "13571357" not in ran.out + line.run("ledger", "--json").out
