from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from tests.tui.made_desk import DESK, calm_desk, desk, empty_desk, other_desk
from tui.colours import ANSI, DARK, Paint
from tui.desk.paint import desk_canvas, desk_lines
from tui.desk.state import DeskState, Shown
from tui.parts.canvas import Canvas
from tui.signs import ASCII, UNICODE, Signs

SIZES = [(60, 20), (79, 24), (80, 24), (112, 30), (120, 40), (180, 44), (200, 50)]
STATE = DeskState("2439", "Ruth, foreman")
LONG = "変速機 é́ 👩‍🔧 a name as long as nobody has one " * 6


def awkward() -> Shown:
    """A desk whose vehicles, words and names are long, wide and combining."""
    rows = tuple(
        replace(one, vehicle=LONG, work=LONG, complaint=LONG, next=LONG, customer=LONG, plate=LONG)
        for one in DESK.rows
    )
    return replace(other_desk(rows), shop=LONG, next=LONG, counts=((LONG, LONG),) * 5)


def many() -> Shown:
    """More lines than any screen has rows."""
    first = DESK.rows[0]
    return other_desk(tuple(replace(first, number=str(3000 + n)) for n in range(90)))


def text(of: Shown, size: tuple[int, int] = (80, 24), state: DeskState = STATE) -> str:
    return "\n".join(desk_canvas(of, size, UNICODE, state).text())


def loud(canvas: Canvas) -> int:
    return sum(ink.loud for row in canvas.inks for ink in row)


@pytest.mark.parametrize("signs", [UNICODE, ASCII], ids=["unicode", "ascii"])
@pytest.mark.parametrize("size", [(20, 5), (60, 19), (59, 40), *SIZES])
def test_a_desk_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    state = replace(STATE, who=LONG, said=LONG, stale="10:41")
    for each in (desk(), awkward(), calm_desk(), empty_desk(), many()):
        canvas = desk_canvas(each, size, signs, state)
        assert [cell_len(line) for line in canvas.text()] == [size[0]] * size[1]


@pytest.mark.parametrize("size", SIZES)
def test_in_ascii_every_letter_is_ascii(size: tuple[int, int]) -> None:
    assert "\n".join(desk_canvas(desk(), size, ASCII, STATE).text()).isascii()


@pytest.mark.parametrize("size", SIZES)
def test_the_first_two_lines_say_what_wants_whom_today(size: tuple[int, int]) -> None:
    lines = desk_canvas(desk(), size, UNICODE, STATE).text()
    assert "SIGN" in lines[1]
    assert "2439 small van: judge the check" in lines[1]
    for words in ("1 call to return", "1 arrives today", "1 check to judge",
                  "1 quote unanswered", "1 lacks something") if size[0] >= 112 else (
                      "1 to ring", "1 today", "1 to judge", "1 quoted"):  # fmt: skip
        assert words in lines[2]


def test_groups_stand_in_the_order_of_a_jobs_way() -> None:
    shown = text(desk())
    names = ["called ", "to come ", "here ", "quoted ", "agreed ", "declined "]
    places = [shown.index(f"\n {name}") for name in names]
    assert places == sorted(places)


def test_what_a_job_lacks_is_said_and_one_that_is_ready_is_too() -> None:
    shown = text(desk(), (200, 50))
    assert "lacks parts 2 of 5, Thu; kit: locking set; a lift for 3.4 t" in shown
    assert "▪ ready to come in" in shown
    assert "declined: the price" in shown


def test_a_calm_desk_has_no_loud_word() -> None:
    canvas = desk_canvas(calm_desk(), (80, 24), UNICODE, STATE)
    assert loud(canvas) == 0
    sentence = "Nothing at the desk wants anybody.  Next: 2442 estate, six-cyl. comes Fri."
    assert sentence in "\n".join(canvas.text())
    assert loud(desk_canvas(desk(), (80, 24), UNICODE, STATE)) > 0


def test_more_is_told_of_the_line_one_stands_on() -> None:
    shown = text(desk(), state=replace(STATE, cursor="2438"))
    assert "A. Berg, 0612 345 678; says: clutch judders when cold" in shown
    quoted = text(desk(), (120, 40), replace(STATE, cursor="2436"))
    assert "check: pass with conditions, seal weeps, watch it" in quoted
    assert "clutch and flywheel: 10.7 h, 963; flywheel two-piece: 11.3 h, 1,017" in quoted


def test_an_empty_desk_says_what_will_stand_there_and_the_key_that_begins_it() -> None:
    shown = text(empty_desk())
    assert "stand here." in shown
    assert "e takes a call down." in shown


def test_a_long_list_moves_with_the_line_one_stands_on() -> None:
    top = text(many(), state=replace(STATE, cursor="3000"))
    assert "more below" in top
    assert " above" not in top
    end = text(many(), state=replace(STATE, cursor="3089"))
    assert "▸ 3089" in end
    assert "above" in end
    assert "more below" not in end
    assert "called " in end, "the group's name stays beside its first line that is shown"


def test_without_colour_the_story_is_the_same() -> None:
    for paint in (Paint(DARK), Paint(ANSI), Paint(DARK, monochrome=True)):
        lines = desk_lines(desk(), (80, 24), paint, UNICODE, STATE)
        assert "SIGN" in "".join(segment.text for segment in lines[1])


def test_of_what_came_to_nothing_the_newest_few_are_shown_and_the_others_counted() -> None:
    gone = DESK.gone[0]
    every = tuple(replace(gone, number=str(2000 + n)) for n in range(11))
    shown = text(other_desk(DESK.rows[:1], every), (120, 40))
    assert "declined   2000 coupe" in shown
    assert "7 more     2001 coupe" in shown
    assert "2003 coupe" in shown
    assert "2004 coupe" not in shown
