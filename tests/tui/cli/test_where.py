"""Which shop file is meant, and what a terminal is called."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.cli.made import Line, run
from tui.cli import where


@pytest.fixture(name="data", autouse=True)
def data_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(where, "data_folder", lambda: tmp_path / "data")
    monkeypatch.delenv("HOISTBOOK_SHOP", raising=False)
    (tmp_path / "data").mkdir()
    return tmp_path / "data"


def test_the_option_then_the_environment_then_the_users_own(data: Path, tmp_path: Path) -> None:
    environ = {"HOISTBOOK_SHOP": str(tmp_path / "env.shop")}
    assert where.named_shop("x.shop", environ) == Path("x.shop")
    assert where.named_shop(None, environ) == tmp_path / "env.shop"
    assert where.named_shop(None, {}) is None
    assert where.named_shop("~/x", {}) == Path.home() / "x"
    assert where.usual_shop() == data / "shop.shop"


def test_the_demo_is_the_usual_one_only_where_there_is_no_own_shop(data: Path) -> None:
    (data / "demo.shop").touch()
    assert where.usual_shop() == data / "demo.shop"
    (data / "shop.shop").touch()
    assert where.usual_shop() == data / "shop.shop"


def test_commands_find_the_shop_by_the_environment(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run("floor").status == 1
    monkeypatch.setenv("HOISTBOOK_SHOP", str(line.path))
    assert run("floor").status == 0


def test_the_badge_of_the_ssh_key_acts_where_no_other_is_named(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOISTBOOK_BADGE", "T1")
    assert line.does("clock", "indirect", "parts")["says"].startswith("Ines")
    assert line.does("clock", "indirect", "parts", "--as", "T2")["says"].startswith("Tomas")
    monkeypatch.setenv("HOISTBOOK_BADGE", " ")
    assert "lacks --as BADGE" in line.refused("clock", "off")


def test_a_terminals_name_is_one_short_line() -> None:
    assert where.terminal_name({"SSH_TTY": "/dev/pts/7"}).endswith(":pts/7")
    name = where.terminal_name({"SSH_TTY": "/dev/\n" + "ü" * 200})
    assert len(name) <= where.LONGEST_NAME
    assert name.isascii()
    assert name.isprintable()
