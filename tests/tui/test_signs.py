from __future__ import annotations

from dataclasses import fields
from typing import get_args, get_type_hints

import pytest
from rich.cells import cell_len
from wcwidth import wcwidth

from store.views.values import Want
from tui.signs import ASCII, LOUD, STATES, UNICODE, Signs, choose_signs, wants_ascii


def glyphs(signs: Signs) -> list[str]:
    marks = [getattr(signs, each.name) for each in fields(signs) if each.name != "ascii"]
    return [letter for mark in marks for letter in mark] + [signs.of(state) for state in STATES]


@pytest.mark.parametrize("signs", [UNICODE, ASCII, UNICODE.without_colour()])
def test_every_sign_takes_exactly_one_cell(signs: Signs) -> None:
    assert all(cell_len(glyph) == 1 == wcwidth(glyph) for glyph in glyphs(signs))


def test_the_ascii_set_is_ascii() -> None:
    assert all(glyph.isascii() and glyph.isprintable() for glyph in glyphs(ASCII))


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
def test_no_two_states_that_stand_beside_each_other_share_a_sign(signs: Signs) -> None:
    beside = [signs.of(state) for state in STATES if state not in ("ahead", "over", "sign")]
    assert len(set(beside)) == len(beside)


def test_every_word_that_the_floor_can_shout_has_a_sign() -> None:
    assert set(get_args(get_type_hints(Want)["word"])) == set(LOUD)


@pytest.mark.parametrize(
    "environ, encoding, asked, expected",
    [
        ({}, "UTF-8", False, False),
        ({}, "utf8", False, False),
        ({"TERM": "xterm-256color"}, "utf-8", False, False),
        ({"TERM": "linux"}, "utf-8", False, True),
        ({}, "ISO-8859-1", False, True),
        ({}, "ANSI_X3.4-1968", False, True),
        ({}, "utf-8", True, True),
        ({"HOISTBOOK_ASCII": "1"}, "utf-8", False, True),
        ({"HOISTBOOK_ASCII": "0"}, "utf-8", False, False),
        ({"HOISTBOOK_ASCII": ""}, "utf-8", False, False),
    ],
)
def test_ascii_is_chosen_where_signs_would_not_show(
    environ: dict[str, str], encoding: str, asked: bool, expected: bool
) -> None:
    assert wants_ascii(environ, encoding, asked) is expected
    assert choose_signs(environ, encoding, asked) is (ASCII if expected else UNICODE)


def test_without_colour_what_was_worked_differs_from_what_runs() -> None:
    assert UNICODE.without_colour().worked != UNICODE.without_colour().running
    assert ASCII.without_colour() is ASCII
    assert ASCII.worked != ASCII.running
