"""The table of keys: no clash, every key one that arrives on every line, every meaning done."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.tui.manual import rows
from tui import keys
from tui.bay.screen import BayScreen
from tui.floor.screen import FloorScreen
from tui.job.screen import JobScreen
from tui.keys import TABLES, Meaning
from tui.parts.in_keys import SAID

ARRIVE = {"Enter", "Esc", "up", "down", "left", "right", "page up", "page down", " "}
NAMED = re.compile(r"\{([a-z-]+)\.([a-z-]+)\}")
SCREENS = {"bay": BayScreen, "floor": FloorScreen, "job": JobScreen}


@pytest.mark.parametrize("table", TABLES.values(), ids=list(TABLES))
def test_no_key_means_two_things(table: tuple[Meaning, ...]) -> None:
    every = [key for line in table for key in line.keys]
    assert len(every) == len(set(every))
    ids = [line.id for line in table]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("table", TABLES.values(), ids=list(TABLES))
def test_keys_are_letters_digits_f_keys_and_arrows(table: tuple[Meaning, ...]) -> None:
    for line in table:
        for key in line.keys:
            plain = len(key) == 1 and (key.isascii() and (key.isalnum() or key in ".,-?"))
            function = key.startswith("F") and key[1:].isdigit()
            assert plain or function or key in ARRIVE, key


def test_the_pad_lies_as_under_the_glove() -> None:
    digits = {key for line in keys.BAY for key in line.keys if key.isdigit()}
    assert digits == set("0123456789")
    assert keys.meant(keys.BAY, "1") == "clock"
    assert keys.meant(keys.BAY, ",") == keys.meant(keys.BAY, ".") == "away"


def test_a_letter_means_the_same_in_capitals() -> None:
    assert keys.meant(keys.FLOOR, "H") == keys.meant(keys.FLOOR, "h") == "hold"
    assert keys.meant(keys.FLOOR, "ctrl+h") is None


def test_the_last_row_fits_a_narrow_screen_in_its_first_words() -> None:
    for table in TABLES.values():
        assert all(key.words for key in keys.last_row(table))


def test_the_manual_has_every_id_of_every_place_with_its_keys() -> None:
    manual = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    missing = [row for row in rows() if row not in manual]
    assert missing == [], "README, Keys: put these rows there"


def named_keys() -> list[tuple[str, str]]:
    """Every place and id that a sentence of ours names, wherever it stands in the source."""
    found: list[tuple[str, str]] = []
    for path in (Path(__file__).parents[2] / "tui").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func).endswith("filled"):
                found += NAMED.findall(ast.unparse(node))
    return [*found, *(pair for _, instead in SAID for pair in NAMED.findall(instead))]


def test_every_key_that_a_sentence_names_is_in_the_tables() -> None:
    named = named_keys()
    assert len(named) > 10
    assert [pair for pair in named if not keys.key_of(keys.BY_NAME[pair[0]], pair[1])] == []


def test_a_sentence_names_the_key_as_it_is_now() -> None:
    assert keys.filled("{floor.undo} undoes it, {bay.away} too.") == "u undoes it, the dot too."
    keys.FLOOR.change({"undo": ("F12",)})
    try:
        assert keys.filled("{floor.undo} undoes it.") == "F12 undoes it."
        assert keys.meant(keys.FLOOR, "u") is None
    finally:
        keys.FLOOR.change({})
