"""The page of lists: exactly its size whatever is on it, and nothing said by colour alone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from store.views.assigned_values import Assigned
from tests.tui.made import CALENDAR, NOW
from tests.tui.made_lists import INES, PER, VIEW, work
from tui.lists.paint import lists_canvas, spots_of
from tui.lists.words import doing_words, is_late, turn_words
from tui.signs import ASCII, UNICODE, Signs

SIZES = [(60, 20), (80, 24), (112, 30), (120, 40), (200, 50)]
LONG = "変速機 é́ 👩‍🔧 a name as long as nobody has one " * 6


def text(
    view: Assigned = VIEW, size: tuple[int, int] = (80, 24), here: int = 0, signs: Signs = UNICODE
) -> list[str]:
    """The page as lines."""
    return lists_canvas(view, here, size, signs, "").text()


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", [(30, 10), *SIZES])
def test_the_page_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    long = replace(INES, name=LONG, works=tuple(replace(w, name=LONG, place=LONG, waits_for=LONG)
                                                for w in INES.works))  # fmt: skip
    many = replace(INES, works=INES.works * 12)
    for view in (VIEW, Assigned(NOW, CALENDAR), replace(VIEW, people=(long, many))):
        for here in (0, 3, 40):
            lines = text(view, size, here, signs)
            assert len(lines) == size[1]
            assert {cell_len(line) for line in lines} == {size[0]}


@pytest.mark.parametrize("size", SIZES[1:])
def test_each_list_is_there_in_its_order_with_what_it_waits_for(size: tuple[int, int]) -> None:
    page = "\n".join(text(size=size))
    assert page.index("Ines   on 2417.4 for 1:12") < page.index("2417.5") < page.index("2420.2")
    assert page.index("2409") < page.index("Per   no clock   away till Thu 16:00 (school)")
    assert page.index("nothing next") < page.index("nobody's, could go on now")
    assert "Ruth" not in page, "a foreman without work has no list"
    row = next(line for line in text(size=size) if "2409" in line)
    assert "after 3" in row
    assert "now" in next(line for line in text(size=size) if "2436.1" in line)


def test_what_is_likely_done_after_its_promise_has_a_sign() -> None:
    late = next(line for line in text() if "2420.2" in line)
    in_time = next(line for line in text() if "2417.5" in line)
    assert "! Wed 12:00" in late
    assert "!" not in in_time
    assert [is_late(one) for one in INES.works] == [False, True, False]


def test_one_stands_on_every_line_and_on_an_empty_list() -> None:
    assert [one.name for one in spots_of(VIEW)] == [
        ("B12", "2417.5"), ("B12", "2420.2"), ("B12", "2409"), ("B14", ""), ("", "2436.1"),
    ]  # fmt: skip
    for here, words in enumerate(("2417.5", "2420.2", "2409", "nothing next", "2436.1")):
        (row,) = (line for line in text(here=here) if line[1] == UNICODE.of("running"))
        assert words in row


def test_the_line_one_stands_on_is_always_in_sight() -> None:
    many = replace(INES, works=tuple(replace(INES.works[0], phase=str(n)) for n in range(1, 60)))
    view = replace(VIEW, people=(many,))
    for here in (0, 20, 58, 59):
        assert [line for line in text(view, here=here) if line[1] == UNICODE.of("running")]


def test_words_of_a_person_and_of_a_line() -> None:
    assert doing_words(VIEW, INES) == "on 2417.4 for 1:12, 3 lines on the list"
    assert doing_words(VIEW, PER) == "away till Thu 16:00 (school), no clock, nothing next"
    forgotten = replace(INES, left_running=True)
    assert doing_words(VIEW, forgotten).startswith("left running on 2417.4")
    assert turn_words(work("2409", "chain")) == "now, phase 2"
    assert turn_words(work("2409.2", "chain")) == "now"
