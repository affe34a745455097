"""The settings file: what it may say, and one line for each fault."""

from __future__ import annotations

from collections.abc import Generator
from pathlib import Path

import pytest

from store.trouble import Refused
from tests.tui.driver import terminal
from tests.tui.shops import Pen, worked_on
from tui import keys
from tui.colours import HIGH, LIGHT
from tui.keys import TABLES
from tui.parts.where import BAY, FLOOR
from tui.rekeying import F_KEYS, KEPT
from tui.settings import (
    LOOK_VARIABLE,
    VARIABLE,
    BadSettings,
    look_wanted,
    read_settings,
    settings,
    settings_path,
    use_keys,
)

FILE = Path("/there/settings.toml")


@pytest.fixture(autouse=True)
def own_keys() -> Generator[None]:
    """Whatever a test gives away, the tables are their own again after it."""
    yield
    use_keys({})


def test_nothing_said_is_nothing_changed() -> None:
    assert read_settings("", FILE) == read_settings("# later\n", FILE)
    use_keys(read_settings("", FILE).keys)
    assert all(tuple(table) == table.built for table in TABLES.values())


def test_look_signs_and_keys_are_read() -> None:
    said = read_settings(
        'look = "light"\nascii = true\n[keys.floor]\nhold = "Space"\nnew = "f5"\n', FILE
    )
    assert said.look is LIGHT
    assert said.ascii is True
    assert said.keys == {"floor": {"hold": (" ",), "new": ("F5",)}}
    assert read_settings('look = "hoistbook-high-contrast"', FILE).look is HIGH


@pytest.mark.parametrize(
    "text, line, says",
    [
        ("\n\nlok = 1", 3, "no setting is called lok"),
        ('look = "pink"', 1, "no look is called pink. There are: dark, light, high-contrast, 16."),
        ("look = 3", 1, "no look is called 3"),
        ('ascii = "yes"', 1, "true or false"),
        ("keys = 4", 1, "like [keys.floor]"),
        ('[keys.yard]\nhold = "q"', 1, "no place is called yard. There are: sign-in, bay"),
        ('[keys.floor]\n\nfoo = "q"', 3, "floor knows no foo. There are: open, try"),
        ('[keys.floor]\nmove = "Space"\nhold = "m"\ncall = "m"', 3, "m is"),
        ('[keys.floor]\nhold = "m"', 2, "m is move there already. Give move another key"),
        ('[keys.floor]\nhold = "7"', 2, "digits are lifts there"),
        ('[keys.bay]\nclock = "c"', 2, "letters are badges there"),
        ('[keys.sign-in]\nfind = "5"', 2, "letters and digits are badges there"),
        ('[keys.job]\nhold = "ctrl+h"', 2, "does not arrive on every terminal"),
        ('[keys.job]\nhold = "F10"', 2, "for their menu. Take another key."),
        ('[keys.job]\nhold = "Esc"', 2, "goes back everywhere"),
        ("[keys.job]\nhold = []", 2, "a key is a text"),
        ("[keys.job]\nhold = [1]", 2, "a key is a text"),
        ("look = \n", 1, "this is no TOML"),
        ("look = 'light'\n[keys.floor\n", 2, "this is no TOML"),
    ],
)  # fmt: skip
def test_a_fault_is_one_line_that_names_its_line_and_says_what_to_do(
    text: str, line: int, says: str
) -> None:
    with pytest.raises(BadSettings) as bad:
        read_settings(text, FILE)
    assert bad.value.line == line
    assert f"{FILE}, line {line}: " in str(bad.value)
    assert says in str(bad.value)
    assert "\n" not in str(bad.value)


def test_two_keys_can_change_places() -> None:
    said = read_settings('[keys.floor]\nhold = "m"\nmove = "h"', FILE)
    use_keys(said.keys)
    assert keys.meant(keys.FLOOR, "m") == "hold"
    assert keys.meant(keys.FLOOR, "h") == "move"


@pytest.mark.parametrize("table", TABLES.values(), ids=list(TABLES))
def test_esc_stays_what_it_is_whatever_is_asked_for(table: keys.Table) -> None:
    back = keys.meant(table, "Esc")
    assert back is not None
    name = table.name.replace(" ", "-")
    free = next(key for key in (*F_KEYS, "z", "x", "q", " ") if keys.meant(table, key) is None)
    asked = {" ": "Space"}.get(free, free)
    use_keys(read_settings(f'[keys.{name}]\n{back} = "{asked}"', FILE).keys)
    assert keys.meant(table, "Esc") == keys.meant(table, free) == back
    assert "esc" in KEPT


def test_where_the_file_is(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    assert settings_path({VARIABLE: "/x/y.toml"}) == Path("/x/y.toml")
    monkeypatch.setattr("sys.platform", "linux")
    assert settings_path({"XDG_CONFIG_HOME": "/c"}) == Path("/c/hoistbook/settings.toml")
    relative = settings_path({"XDG_CONFIG_HOME": "c"})
    assert relative == Path("~/.config/hoistbook/settings.toml").expanduser()
    assert settings({"XDG_CONFIG_HOME": str(tmp_path)}) == settings({"XDG_CONFIG_HOME": "/none"})


def test_a_file_that_was_named_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="not there"):
        settings({VARIABLE: str(tmp_path / "no.toml")})
    (tmp_path / "bad.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(Refused, match="cannot be read"):
        settings({VARIABLE: str(tmp_path / "bad.toml")})
    with pytest.raises(Refused, match="cannot be read"):
        settings({VARIABLE: str(tmp_path)})


def test_a_look_of_the_environment_must_be_one() -> None:
    assert look_wanted({}) is None
    assert look_wanted({LOOK_VARIABLE: "light"}) == "light"
    with pytest.raises(Refused, match="no look is called pink"):
        look_wanted({LOOK_VARIABLE: "pink"})


async def test_help_last_row_palette_and_pad_show_the_keys_as_they_are_now(
    tmp_path: Path,
) -> None:
    text = '[keys.floor]\nhold = "Space"\n[keys.bay]\nclock = "3"\nsign = "1"'
    use_keys(read_settings(text, FILE).keys)
    pen = Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    async with terminal(shop, pen.now, size=(120, 50), first=FLOOR, badge="F01") as at:
        await at.keys("h")
        assert "h is no key of the floor" in at.said
        assert "Space       holds the job" in await at.keys("F1")
        await at.keys("Esc", "F9")
        assert "Space " in next(line for line in at.lines if "holds the job, with" in line)
        await at.keys("Esc", " ")
        assert at.screen.prompt is not None
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "3  clock off" in at.text
        await at.keys("3")
        assert "clocked off" in at.said
    shop.close()
