"""How one begins: a first run that asks, the screens, the demo shop."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from store.file.shop import Shop
from store.views.about import about
from tests.tui.cli.made import FOUNDING, PIN, Line, run
from tui.cli import pins, start


@pytest.fixture(name="asked")
def asked_fixture(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pins, "can_ask", lambda: True)
    monkeypatch.setattr(pins, "ask", lambda whose: PIN)  # pyright: ignore  # one answer for all


@pytest.mark.usefixtures("asked")
def test_a_first_run_asks_what_it_must_and_proposes_the_rest(tmp_path: Path) -> None:
    path = tmp_path / "new.shop"
    typed = (
        "Marsh Lane\nMars/Base\nEurope/Amsterdam\n\nnever\n\n\n\n\n1:two-post:heavy\n\n\n"
        "XX\ncl tc\nOlga\nO1:Olga\n"
    )
    ran = run("--shop", str(path), "init", stdin=typed)
    assert ran.status == 0, ran
    assert "Marsh Lane is made" in ran.out
    assert ran.err.count("! ") == 5
    line = Line(path)
    assert line.does("floor")["lanes"][0]["kind"] == "two-post"
    assert line.does("people")["people"][0]["name"] == "Olga"
    sold = [one["code"] for one in line.does("workbook", "show")["operations"]]
    assert sold == ["CL", "TC"]
    assert line.does("verify")["ok"]


@pytest.mark.usefixtures("asked")
def test_who_goes_away_in_the_middle_leaves_nothing(tmp_path: Path) -> None:
    ran = run("--shop", str(tmp_path / "new.shop"), "init", stdin="Marsh Lane\n")
    assert ran.status == 1
    assert "no shop was made" in ran.err
    assert list(tmp_path.iterdir()) == []


def test_init_keeps_what_is_there(line: Line) -> None:
    assert "is there already" in line.refused(*FOUNDING)


def test_a_shop_may_begin_before_today_so_that_its_past_can_be_entered(tmp_path: Path) -> None:
    path = tmp_path / "new.shop"
    ran = run("--shop", str(path), *FOUNDING, "--from", "2020-01-01", "--json", stdin=f"{PIN}\n")
    assert ran.status == 0
    assert ran.json["recorded"] == []
    line = Line(path)
    line.acts("OWN", "small", "--text", "x", "--vehicle", "y", "--at", "2020-02-03T08:00")
    line.acts("OWN", "clock", "on", "1001.1", "--at", "2020-02-03T08:00")
    line.acts("OWN", "clock", "off", "--at", "2020-02-03T10:30")
    assert line.does("job", "1001")["labour_hours"] == 2.5


def test_the_screens_want_a_terminal_that_can_show_them(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    for argv in ((), ("open",), ("open", "--view", "bay", "--as", "T1")):
        assert "hoistbook floor" in line.refused(*argv)

    class Screen(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr(sys, "stdin", Screen())
    monkeypatch.setattr(sys, "stdout", Screen())
    monkeypatch.setenv("TERM", "dumb")
    with pytest.raises(Exception, match="cannot show screens"):
        start.refuse_no_terminal()
    monkeypatch.setenv("TERM", "linux")
    start.refuse_no_terminal()


def test_the_demo_shop_is_made_once_and_then_opened_again(tmp_path: Path) -> None:
    path = tmp_path / "d.shop"
    made = run("--shop", str(path), "demo", "--no-open", "--months", "1", "--seed", "7")
    assert (made.status, made.err) == (0, "")
    assert str(path) in made.out
    shop = Shop(path)
    demo = about(shop).demo
    shop.close()
    assert demo is not None
    assert (demo.seed, demo.months) == (7, 1)
    again = run("--shop", str(path), "demo", "--no-open", "--json")
    assert again.status == 0
    assert "is there" in again.json["says"]
    other = run("--shop", str(path), "demo", "--no-open", "--seed", "8")
    assert other.status == 1
    assert "seed 7" in other.err
    assert Line(path).does("verify")["ok"]


@pytest.mark.parametrize(
    "more", [("--months", "0"), ("--months", "1000"), ("--seed", "-1"), ("--seed", "9" * 14)]
)
def test_a_demo_that_cannot_be(tmp_path: Path, more: tuple[str, str]) -> None:
    ran = run("--shop", str(tmp_path / "d.shop"), "demo", "--no-open", *more)
    assert ran.status == 2
    assert ran.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []
