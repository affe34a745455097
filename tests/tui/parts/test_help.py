"""The help explains every sign, loud word and key, and pages where it does not fit."""

from __future__ import annotations

from dataclasses import fields

import pytest

from tui import keys
from tui.keys import TABLES, TITLES, Table
from tui.needs.words import NEED_LOUD
from tui.parts.help import help_canvas, help_sheet, shown_keys
from tui.parts.legend import LOUD_MEANINGS, MEANINGS, NEED_MEANINGS
from tui.signs import ASCII, LOUD, STATES, UNICODE, Signs
from tui.words import CHANCES

WIDTHS = [60, 80, 120, 200]


def whole(table: Table, width: int, signs: Signs = UNICODE) -> str:
    sheet = help_sheet(width, table, TITLES[table.name], signs)
    return "\n".join(row for block in sheet.blocks for row in block.text())


def test_every_state_and_every_loud_word_is_explained() -> None:
    assert set(MEANINGS) == set(STATES)
    assert set(LOUD_MEANINGS) == set(LOUD)
    text = whole(keys.FLOOR, 80)
    for state, sign in STATES.items():
        assert f"{sign.unicode} " in text
        assert MEANINGS[state] in text
    for word, meaning in LOUD_MEANINGS.items():
        assert f"{word} " in text
        assert meaning in text


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("table", [keys.FLOOR, keys.NEEDS, keys.WHY], ids=lambda one: one.name)
def test_every_word_of_the_list_of_needs_stands_with_its_sign(table: Table, signs: Signs) -> None:
    assert set(NEED_MEANINGS) == set(NEED_LOUD)
    text = whole(table, 80, signs)
    for word, meaning in NEED_MEANINGS.items():
        said = f" {signs.of(NEED_LOUD[word].state)} {word} "
        assert any(said in row and meaning in row.partition(said)[2] for row in text.split("\n"))


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
def test_every_mark_of_a_lane_stands_on_the_floors_help(signs: Signs) -> None:
    shown = whole(keys.FLOOR, 120, signs)
    for each in fields(signs):
        mark = getattr(signs, each.name)
        if each.name in ("ascii", "rule", "full", "taper", "frame"):
            continue
        assert mark in shown, each.name


def test_every_word_for_a_chance_is_explained_with_its_tenths() -> None:
    text = whole(keys.JOB, 80)
    for _, word, _, _ in CHANCES:
        assert word in text
    assert "9 or 8 times in 10" in text


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("table", TABLES.values(), ids=list(TABLES))
def test_every_key_is_named_with_what_it_does_and_no_word_is_cut(table: Table, width: int) -> None:
    text = whole(table, width)
    for line in table:
        assert shown_keys(line) in text
        assert line.words in text or width == 60
    assert text.count("…") <= 1 or width == 60, "the one that is explained"


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 50)])
@pytest.mark.parametrize("table", TABLES.values(), ids=list(TABLES))
def test_page_by_page_the_whole_is_seen(table: Table, size: tuple[int, int]) -> None:
    rows = size[1] - 2
    seen: set[str] = set()
    first, last = 0, help_canvas(size, table, "x", UNICODE)[1]
    while True:
        canvas, _ = help_canvas(size, table, "x", UNICODE, min(first, last))
        seen |= set(canvas.text()[:rows])
        if first >= last:
            break
        first += rows
    sheet = help_sheet(size[0], table, "x", UNICODE)
    assert {row for block in sheet.blocks for row in block.text()} <= seen


def test_a_terminal_too_small_is_told_so() -> None:
    canvas, last = help_canvas((40, 10), keys.BAY, "bay", UNICODE)
    assert "needs 60 columns" in " ".join(" ".join(canvas.text()).split())
    assert last == 0
