from __future__ import annotations

from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.parts.lines import Key, paint_keys, paint_said, put_pieces, too_small
from tui.parts.prompt import Option, Prompt, paint_prompt
from tui.parts.sheet import Sheet, last_scroll
from tui.signs import UNICODE

KEYS = (Key("Enter", "open"), Key("n", "next that wants somebody", "next"), Key("F1", "help"))


def keys(width: int) -> str:
    canvas = Canvas(width, 1)
    paint_keys(canvas, 0, KEYS, UNICODE)
    return canvas.text()[0].rstrip()


def test_keys_shorten_before_they_drop_out_and_the_last_one_stays() -> None:
    assert keys(60) == " Enter open   n next that wants somebody   F1 help"
    assert keys(36) == " Enter open   n next   F1 help"
    assert keys(26) == " Enter open   F1 help"
    assert keys(12) == " F1 help"


def test_a_refusal_is_loud_and_what_was_done_is_not() -> None:
    canvas = Canvas(40, 2)
    paint_said(canvas, 0, "10:31  2433 taken in.", UNICODE)
    paint_said(canvas, 1, "! lift 6 carries 3.0 t.", UNICODE)
    assert not any(ink.loud for ink in canvas.inks[0])
    assert any(ink.loud for ink in canvas.inks[1])
    assert canvas.text()[1].rstrip() == "  !  lift 6 carries 3.0 t."


def test_a_small_terminal_is_told_its_size() -> None:
    canvas = Canvas(30, 8)
    too_small(canvas)
    assert "30 by 8" in " ".join("".join(canvas.text()).split())


def test_a_sheet_shows_the_part_it_is_asked_for() -> None:
    sheet = Sheet(3)
    for n in range(5):
        sheet.block().put(0, 0, str(n))
    tall = sheet.block(2)
    tall.put(0, 1, "end")
    canvas = Canvas(3, 4)
    sheet.show(canvas, (0, 1), 3, 3)
    assert [line.strip() for line in canvas.text()] == ["", "3", "4", ""]
    sheet.show(canvas, (0, 1), 3, last_scroll((sheet,), 3))
    assert [line.strip() for line in canvas.text()] == ["", "4", "", "end"]
    assert last_scroll((sheet,), 50) == 0


def test_a_row_that_is_cut_ends_there_with_one_sign() -> None:
    canvas = Canvas(12, 1)
    pieces = [("grade 3 ", Ink("text")), ("rusty", Ink("text")), (" ? seal", Ink("due"))]
    put_pieces(canvas, (0, 0), pieces, 12, UNICODE)
    assert canvas.text()[0].rstrip() == "grade 3 rus…"


def test_nothing_of_the_page_stands_between_a_question_and_what_was_said() -> None:
    canvas = Canvas(40, 12)
    for y in range(12):
        canvas.put(0, y, "of the page", Ink("text"))
    prompt = Prompt("why?", options=(Option("1", "a"),), keys=(Key("Esc", "back"),))
    paint_prompt(canvas, prompt, UNICODE)
    rows = [row.strip() for row in canvas.text()]
    asked = next(n for n, row in enumerate(rows) if "why?" in row)
    assert [n for n, row in enumerate(rows) if row == "of the page"] == [*range(asked), 10]
