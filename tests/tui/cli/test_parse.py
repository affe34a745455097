"""A command line is read the same wherever its options stand, and says what is right."""

from __future__ import annotations

import pytest

from tui.cli.parse import parse
from tui.cli.typed import Typed
from tui.cli.usage import WrongUsage


def typed(*argv: str) -> Typed:
    found = parse(argv).typed
    assert found is not None
    return found


def wrong(*argv: str) -> str:
    with pytest.raises(WrongUsage) as refused:
        parse(argv)
    return str(refused.value)


@pytest.mark.parametrize(
    "argv",
    [
        ("clock", "on", "2417.4", "--as", "B12", "--shop", "x"),
        ("--shop", "x", "--as", "B12", "clock", "on", "2417.4"),
        ("clock", "--as", "B12", "on", "--shop=x", "2417.4"),
        ("--shop=x", "clock", "on", "--as=B12", "--", "2417.4"),
    ],
)
def test_options_stand_anywhere(argv: tuple[str, ...]) -> None:
    found = typed(*argv)
    assert found.command.name == "clock on"
    assert found.values == {"shop": ["x"], "as": ["B12"], "JOB.PHASE": ["2417.4"]}


def test_an_option_shown_with_dots_is_repeated_and_no_other() -> None:
    found = typed("sign", "1.2.3", "--reading", "a=1", "--reading", "b=-2", "--as", "X")
    assert found.all("reading") == ["a=1", "b=-2"]
    assert "--answer is there twice" in wrong("sign", "1.2.3", "--answer", "A", "--answer", "B")


def test_a_value_may_begin_with_a_hyphen_but_is_no_option() -> None:
    assert typed("limits", "1.2.3", "x", "--low", "-5", "--source", "s").number("low") == -5
    assert typed("finish", "1.2", "--why", "-- half a day lost").text("why") == "-- half a day lost"
    assert "--why lacks its value" in wrong("finish", "1.2", "--why", "--as", "B12")
    assert "--why lacks its value" in wrong("finish", "1.2", "--why")


def test_no_words_are_the_screens() -> None:
    assert typed().command.name == "open"
    assert typed("--shop", "x").values == {"shop": ["x"]}
    assert typed("--as", "B12").maybe("as") == "B12"
    assert typed("--view", "bay", "--ascii").text("view") == "bay"
    assert "--at" in wrong("--at", "2026-10-14T10:40")


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (("clok", "on"), "did you mean clock?"),
        (("zzz",), "see hoistbook --help"),
        (("clock",), "goes with one of on, over, off, away, back, indirect"),
        (("clock", "onn", "1.1"), "not 'onn'"),
        (("clock", "on"), "lacks JOB.PHASE. Like: hoistbook clock on"),
        (("clock", "on", "1.1", "1.2"), "does not take '1.2'"),
        (("floor", "--jsn"), "did you mean --json?"),
        (("floor", "-j"), "two hyphens"),
        (("floor", "--json=yes"), "takes no value"),
        (("floor", "extra"), "does not take 'extra'"),
        (("people", "ad", "B1"), "goes with one of add, change, pin"),
        (("--frobnicate", "floor"), "before the command"),
        (("hold", "1", "--reason", "outwork"), "parts, approval, person"),
        (("hold", "1"), "lacks --reason R"),
        (("hold", "1", "--reason", " "), "is empty"),
        (("clock", "on", ""), "JOB.PHASE is empty"),
        (("clock", "off", "--as", "\udcff"), "no text"),
        (("open", "--view", "year"), "floor, bay"),
        (("take", "--family", "a-b-c", "--vehicle", "v"), "lacks --operation CODE"),
        (("floor", "--part", "lead"), "no option --part"),
    ],
)
def test_wrong_usage_says_what_is_right(argv: tuple[str, ...], words: str) -> None:
    assert words in wrong(*argv)


@pytest.mark.parametrize("argv", [("--help",), ("-h",), ("clock", "--help"), ("--help", "clock")])
def test_help_is_asked_for_anywhere(argv: tuple[str, ...]) -> None:
    wanted = parse(argv)
    assert wanted.help
    assert wanted.command is None
    assert wanted.group == (None if len(argv) == 1 else "clock")


def test_help_of_a_command_needs_nothing_else_to_be_right() -> None:
    wanted = parse(("clock", "on", "--help", "--whatever", "x"))
    assert wanted.command is not None
    assert wanted.command.name == "clock on"
    assert parse(("--version",)).version
