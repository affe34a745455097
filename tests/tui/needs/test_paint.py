"""The pages of needs and of causes: exactly their size, nothing loud but what waits."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from store.views.needs_values import Helps, Needs, Why
from tests.tui.made import CALENDAR, NOW
from tests.tui.made_needs import HELPS, HOSE, NEEDS, WHY
from tui.needs.paint import needs_canvas
from tui.needs.why_paint import best_of, shown_best, why_canvas
from tui.needs.words import NEED_LOUD, is_loud
from tui.signs import ASCII, UNICODE, Signs

SIZES = [(60, 20), (80, 24), (112, 30), (120, 40), (200, 50)]
LONG = "変速機 é́ 👩‍🔧 words as long as nobody writes them " * 6


def long_needs() -> Needs:
    """Forty lines, each with names of any length."""
    act = replace(HOSE, says=LONG, who=LONG)
    return replace(NEEDS, needs=(replace(NEEDS.needs[4], act=act, vehicle=LONG),) * 40)


def long_why() -> Why:
    """Twenty chains of the same kind."""
    chain = WHY.chains[0]
    links = tuple(replace(one, says=LONG) for one in chain.links)
    return replace(WHY, chains=(replace(chain, vehicle=LONG, links=links),) * 20)


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", [(30, 10), *SIZES])
def test_both_pages_have_exactly_their_size(size: tuple[int, int], signs: Signs) -> None:
    for here in (0, 2, 19):
        pages = [
            *(needs_canvas((one, HELPS), here, size, signs, "")
              for one in (NEEDS, long_needs(), Needs(NOW, CALENDAR))),
            *(why_canvas(one, here, size, signs, "")
              for one in (WHY, long_why(), Why(NOW, CALENDAR))),
        ]  # fmt: skip
        for page in pages:
            assert len(page.text()) == size[1]
            assert {cell_len(line) for line in page.text()} == {size[0]}


@pytest.mark.parametrize("size", SIZES[1:])
def test_each_need_says_what_where_who_by_when_and_what_waiting_costs(
    size: tuple[int, int],
) -> None:
    rows = needs_canvas((NEEDS, HELPS), 0, size, UNICODE, "").text()
    assert "5 things want somebody; 1 due today or before; waiting costs 1.9" in rows[1]
    first, under = rows[3], rows[4]
    assert "SEND BACK  lift 3  2420" in first
    assert "Ines, Tomas or 4 more, 15 min; by Wed 16:00" in under
    assert "Ruth or Olga, 5 min; costs 1.4 lift-days; +0.8 promises; since Tue 13:35" in rows[6]
    assert "parts" in rows[11], "what can wait is in lower case"


def test_only_what_cannot_wait_is_loud() -> None:
    assert [is_loud(one) for one in NEEDS.needs] == [True, True, True, True, False]
    assert all(word.isupper() for word in NEED_LOUD)


def test_a_calm_page_says_so() -> None:
    rows = needs_canvas((Needs(NOW, CALENDAR), Helps(NOW, CALENDAR)), 0, (80, 24), UNICODE, "")
    assert rows.text()[1].strip() == "Nothing needs anybody."
    rows = why_canvas(Why(NOW, CALENDAR), 0, (80, 24), UNICODE, "")
    assert rows.text()[1].strip() == "Nothing waits for anything."


@pytest.mark.parametrize("size", SIZES[1:])
def test_a_chain_is_read_downwards_to_what_somebody_can_do(size: tuple[int, int]) -> None:
    rows = why_canvas(WHY, 0, size, UNICODE, "").text()
    at = next(n for n, row in enumerate(rows) if row.startswith("▸2431  tipper"))
    assert "promised Mon 16:00 doubtful 3 in 10" in rows[at]
    assert rows[at + 1].startswith("  └ lift 2: only 2, 3 carry it; till about Fri 14:25")
    assert rows[at + 2].startswith("     └ 2409 estate, six-cyl.")
    assert rows[at + 3].startswith("        └  ? ANSWER  the customer's word on the broken stu")
    assert rows[at + 3].rstrip().endswith("5 min, frees 5.0 h")


def test_what_helps_stands_under_it_with_its_digit() -> None:
    rows = why_canvas(WHY, 0, (80, 24), UNICODE, "").text()
    at = next(n for n, row in enumerate(rows) if "one act each, best first" in row)
    assert rows[at + 1].startswith("  1  answer  lift 2  2409.3")
    assert rows[at + 1].split()[-2:] == ["+0.8", "+5.0"]
    assert rows[at + 2].split()[-2:] == ["+0.1", "+0.3"]


def test_what_was_never_reckoned_has_a_digit_too() -> None:
    unknown = replace(WHY, helps=())
    assert [one.need.act.kind for one in best_of(unknown)] == ["answer", "sign"]


def test_what_lies_beyond_the_page_is_counted() -> None:
    many = long_needs()
    assert (
        needs_canvas((many, HELPS), 0, (80, 24), UNICODE, "").text()[2].endswith("31 more below ")
    )
    rows = needs_canvas((many, HELPS), 20, (80, 24), UNICODE, "").text()
    assert rows[2].endswith("16 more above, 15 more below ")
    assert needs_canvas((NEEDS, HELPS), 0, (80, 24), UNICODE, "").text()[2].strip() == ""


def test_no_fact_is_cut_and_the_line_one_stands_on_is_read_whole() -> None:
    says = "to be ordered: sealant, coolant, oil and filter, hoses and clips"
    act = replace(HOSE, says=says, who="the supplier, by courier or by post on Thursday")
    found = replace(NEEDS, needs=(*NEEDS.needs, replace(NEEDS.needs[1], act=act)))
    last = len(found.needs) - 1
    rows = needs_canvas((found, HELPS), last, (80, 24), UNICODE, "").text()
    under = next(row for row in rows if "by post on Thursday" in row)
    assert "…" not in under
    assert rows[-2].strip() == says
    assert (
        needs_canvas((found, HELPS), last, (80, 24), UNICODE, "done").text()[-2].strip() == "done"
    )
    wide = needs_canvas((found, HELPS), last, (200, 50), UNICODE, "").text()
    assert wide[-2].strip() == ""
    assert any(says in row for row in wide)


def test_the_promise_of_a_chain_is_whole_and_the_vehicle_cut() -> None:
    chain = replace(WHY.chains[0], vehicle=LONG)
    row = why_canvas(replace(WHY, chains=(chain,)), 0, (80, 24), UNICODE, "").text()[3]
    assert row.rstrip().endswith("promised Mon 16:00 doubtful 3 in 10")


def test_no_digit_does_what_is_not_seen() -> None:
    many = replace(WHY.helps[0].need.act, job="9")
    lines = tuple(
        replace(WHY.helps[0], need=replace(WHY.helps[0].need, act=replace(many, line=str(nth))))
        for nth in range(9)
    )
    view = replace(WHY, helps=lines)
    for size in SIZES:
        text = why_canvas(view, 0, size, UNICODE, "").text()
        digits = [row for row in text if row[:3] == f"  {row.strip()[:1]}" and row[2].isdecimal()]
        assert len(digits) == len(shown_best(view, size[1])) <= 9
