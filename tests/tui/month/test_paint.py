"""A month as it is painted: exact widths, answers first, nothing told by colour alone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from store.views.month.values import Month
from tests.tui.month.made import empty, plain, shown, told, ugly
from tests.tui.papers.made import LONG
from tui.colours import ANSI, DARK, Paint
from tui.month.figures import BEFORE, JOBS, made_of
from tui.month.paint import month_canvas, month_lines, names_of, pages_of
from tui.month.state import Level, MonthState, Shown
from tui.parts.canvas import as_text
from tui.signs import ASCII, UNICODE, Signs

SIZES = [(60, 20), (75, 24), (76, 24), (80, 24), (100, 30), (120, 40), (159, 45), (160, 45),
         (200, 50)]  # fmt: skip
STATE = MonthState(JOBS, who="Olga, owner")


def text(of: Shown, size: tuple[int, int] = (80, 24), state: MonthState = STATE) -> str:
    return "\n".join(month_canvas(of, size, UNICODE, state).text())


def month(of: Shown) -> Month:
    assert of.found is not None
    return of.found


@pytest.mark.parametrize("signs", [UNICODE, ASCII], ids=["unicode", "ascii"])
@pytest.mark.parametrize("size", [(20, 5), (60, 19), (59, 40), *SIZES])
def test_the_screen_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    for each in (ugly(), plain(), told(), empty(), shown(None)):
        for scroll in (0, 10_000):
            state = replace(STATE, scroll=scroll, who=LONG, said=LONG, stale="10:41", cursor=None)
            canvas = month_canvas(each, size, signs, state)
            assert [cell_len(line) for line in canvas.text()] == [size[0]] * size[1]


@pytest.mark.parametrize("signs", [UNICODE, ASCII], ids=["unicode", "ascii"])
@pytest.mark.parametrize("size", SIZES)
def test_every_step_down_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    of = ugly()
    for name, line in made_of(month(of)).items():
        for at in (0, max(0, len(line.below) - 1)):
            state = replace(STATE, path=(Level(line, name, at),))
            canvas = month_canvas(of, size, signs, state)
            assert [cell_len(row) for row in canvas.text()] == [size[0]] * size[1]


def test_in_plain_letters_every_letter_is_plain() -> None:
    for size in SIZES:
        assert "".join(month_canvas(told(), size, ASCII, STATE).text()).isascii()


def test_the_answer_is_in_the_first_five_lines_and_what_to_change_under_it() -> None:
    lines = text(told()).splitlines()
    first = "\n".join(lines[:5])
    assert "Estimates ran 4 % short; in September it was 6 %. Truer since May." in first
    assert "came within a quarter" in first
    assert any(" 1  mend" in line and "22 times, yes" in line for line in lines)
    assert any(" 2  close, B4-M-F" in line and "h too dear" in line for line in lines)
    (unsure,) = [line for line in lines if "6, not yet" in line or "6 times, not yet" in line]
    assert unsure.strip().startswith("open")


def test_what_too_few_say_is_dim_and_has_no_digit() -> None:
    canvas = month_canvas(told(), (80, 24), UNICODE, replace(STATE, cursor="lost"))
    y, x = next((y, row.index("open")) for y, row in enumerate(canvas.text()) if "  open " in row)
    assert canvas.inks[y][x].role == "dim"
    few = replace(month(told()), accuracy=replace(month(told()).accuracy, enough=False))
    canvas = month_canvas(shown(few), (80, 24), UNICODE, replace(STATE, cursor="lost"))
    inks = {ink.role for row in canvas.inks[1:4] for ink in row}
    assert "ahead" not in inks
    assert "behind" not in inks


def test_a_month_without_jobs_says_so_and_paints_no_marks() -> None:
    shown_text = text(empty())
    assert "No job was closed in October 2026" in shown_text
    assert "quarter less" not in shown_text
    assert "Nothing in the work book is worth changing" in shown_text


def test_before_it_is_read_its_name_stands_there() -> None:
    assert "Looking at what happened" in text(shown(None))
    assert "October 2026" in text(shown(None))


@pytest.mark.parametrize("size", [(120, 40), (200, 50)])
def test_where_there_is_room_the_chart_stands_with_its_dated_change(size: tuple[int, int]) -> None:
    shown_text = text(told(), size)
    assert "is it real or chance?" in shown_text
    assert "4 May 2026" in shown_text
    assert "all jobs: May was a real change." in shown_text


def test_every_figure_that_can_be_stood_on_leads_somewhere() -> None:
    for of in (told(), ugly(), plain()):
        known = made_of(month(of))
        for size in SIZES:
            names = names_of(pages_of(of, size, UNICODE))
            assert [one for one in names if one not in known and not one.startswith(BEFORE)] == []


def test_a_figure_below_the_window_is_scrolled_into_it() -> None:
    for size in SIZES:
        for name in names_of(pages_of(told(), size, UNICODE)):
            canvas = month_canvas(told(), size, UNICODE, replace(STATE, cursor=name))
            assert any(row[:1] == "▸" or "▸" in row for row in canvas.text()), (size, name)


def test_the_jobs_are_listed_the_farthest_off_first() -> None:
    lines = made_of(month(told()))[JOBS].below
    ratios = {one.job: one.ratio for one in month(told()).jobs}
    far = [max(r, 1 / r) for one in lines if (r := ratios[one.way.job or ""])]
    assert far == sorted(far, reverse=True)
    assert len(lines) == len(month(told()).jobs)


@pytest.mark.parametrize("paint", [Paint(DARK), Paint(ANSI), Paint(monochrome=True)])
def test_no_colour_takes_nothing_away(paint: Paint) -> None:
    lines = month_lines(told(), (120, 40), paint, UNICODE, STATE)
    plain_text = [as_text(line) for line in lines]
    wanted = month_canvas(told(), (120, 40), UNICODE, STATE).text()
    known = str.maketrans("░", "█")
    assert [one.translate(known) for one in plain_text] == [one.translate(known) for one in wanted]


def test_a_digit_is_pressed_by_the_mouse_as_by_its_key() -> None:
    canvas = month_canvas(told(), (80, 24), UNICODE, STATE)
    y = next(n for n, row in enumerate(canvas.text()) if " 1  mend" in row)
    assert canvas.key_at(3, y) == "1"
    assert (canvas.key_at(30, y) or "").endswith("book-0")
    assert canvas.key_at(canvas.text()[0].index("November"), 0) == "right"


def test_the_jobs_that_were_not_in_their_range_are_marked_below_the_sentence() -> None:
    found = month(plain())
    inside = found.accuracy.inside
    assert inside is not None
    assert 0 < inside.held < inside.count == len(found.jobs)
    marked = [one for one in made_of(found)[JOBS].below if "outside the range" in one.way.says]
    assert len(marked) == inside.count - inside.held
    assert f"range in {inside.held} of {inside.count} jobs" in " ".join(found.said)
