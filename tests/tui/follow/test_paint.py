"""The list of follow-ups as it is painted."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from store.views.follow_ups import FollowUps
from tests.tui.follow.made import AWKWARD, CALM, EMPTY, LONG, MANY, SOME
from tui.colours import ANSI, DARK, Paint
from tui.follow.paint import follow_canvas, follow_lines, name_of
from tui.follow.state import FollowState
from tui.signs import ASCII, UNICODE, Signs

SIZES = [(60, 20), (79, 24), (80, 24), (112, 30), (120, 40), (200, 50)]
STATE = FollowState("2417.1", "Ruth, foreman")


def text(of: FollowUps, size: tuple[int, int] = (80, 24), state: FollowState = STATE) -> str:
    return "\n".join(follow_canvas(of, size, UNICODE, state).text())


@pytest.mark.parametrize("signs", [UNICODE, ASCII], ids=["unicode", "ascii"])
@pytest.mark.parametrize("size", [(20, 5), (60, 19), (59, 40), *SIZES])
def test_a_list_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    state = replace(STATE, who=LONG, said=LONG, stale="10:41")
    for each in (SOME, CALM, MANY, AWKWARD, EMPTY):
        canvas = follow_canvas(each, size, signs, state)
        assert [cell_len(line) for line in canvas.text()] == [size[0]] * size[1]


@pytest.mark.parametrize("size", SIZES)
def test_in_ascii_every_letter_is_ascii(size: tuple[int, int]) -> None:
    assert "\n".join(follow_canvas(SOME, size, ASCII, STATE).text()).isascii()


@pytest.mark.parametrize("size", SIZES)
def test_what_is_overdue_is_loud_and_the_rest_is_counted(size: tuple[int, int]) -> None:
    lines = follow_canvas(SOME, size, UNICODE, STATE).text()
    assert "DUE" in lines[1]
    assert "2409 panel van: Call: is all well?" in lines[1]
    assert "1 overdue   2 within a week   4 follow-ups in all" in lines[2]


def test_on_a_calm_day_nothing_is_loud() -> None:
    canvas = follow_canvas(CALM, (120, 40), UNICODE, STATE)
    assert not any(ink.loud for row in canvas.inks for ink in row)
    assert "Nothing is overdue.  Next: 2417, today." in canvas.text()[1]


def test_rows_stand_by_date_and_the_chosen_one_tells_more() -> None:
    shown = text(SOME)
    order = [shown.index(f" {name_of(one)} ") for one in SOME.lines]
    assert order == sorted(order)
    for words in ("3 days ago", "today", "▸ today", "by 2026-10-14 or at 129,000 km",
                  "Kim Invented, 0123 456", "KFS 73-40"):  # fmt: skip
        assert words in shown, words


def test_a_long_list_keeps_the_chosen_line_in_sight_and_says_what_is_beyond() -> None:
    shown = text(MANY, state=replace(STATE, cursor="3045.1"))
    assert "3045.1" in shown
    assert "above" in shown
    assert "more below" in shown


def test_an_empty_list_says_what_will_stand_there_and_the_key() -> None:
    shown = text(EMPTY)
    assert "in the months after a job stands here" in shown
    assert "x on the job card" in shown


def test_without_colour_the_same_words_are_there() -> None:
    colour = follow_lines(SOME, (80, 24), Paint(DARK), UNICODE, STATE)
    for look in (Paint(ANSI), Paint(DARK, monochrome=True)):
        lines = follow_lines(SOME, (80, 24), look, UNICODE, STATE)
        assert ["".join(one.text for one in line) for line in lines] == [
            "".join(one.text for one in line) for line in colour
        ]
