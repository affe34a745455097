"""The job card by keys: steps, phases, promise, closing."""

from __future__ import annotations

import pytest

from store.actions import clock, holding, jobs, phases
from store.file.shop import Shop
from store.views.job import job_card
from store.views.ledger import ledger
from tests.tui.driver import terminal
from tests.tui.shops import PIN, Pen, first_steps, kinds, last
from tui.parts.where import Where

CARD = Where("job", "1001")


async def test_the_card_scrolls_and_goes_back_to_the_floor(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD) as at:
        assert "1001 panel van, long" in at.text
        assert "ledger, newest first" not in at.text
        for _ in range(6):
            await at.keys("page down")
        assert "ledger, newest first" in at.text
        assert "wants somebody" in await at.keys("Esc")


async def test_steps_are_signed_from_their_list(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="B12") as at:
        text = await at.keys("s")
        assert "1 reception   under way" in text
        await at.keys("3", "2", "Enter")
        assert "2 Qualifying check" in await at.keys("6")
    assert kinds(shop, before) == ["step-signed", "step-signed"]
    signed = [one.payload["step"] for one in ledger(shop) if one.seq > before]
    assert signed == ["1", "3"]


async def test_a_hold_point_cannot_be_got_round_from_the_list(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="B12") as at:
        await at.keys("s", "6", "6", "2", "3")
        assert "waits for the hold point" in at.said
    assert last(shop) == before


async def test_a_phase_is_finished_left_out_and_opened_again(shop: Shop, pen: Pen) -> None:
    first_steps(shop, pen, "1001", "1", 5)
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="F01") as at:
        await at.keys("k", "1", "1")
        assert "1001.1 reception is finished" in at.said
        await at.keys("k", "3", "1", "looked again", "Enter")
        assert "open again" in at.said
        await at.keys("k", "2", "2", "not needed", "Enter", PIN, "Enter")
        assert "cannot be left out: it holds the hold point" in at.said
    assert kinds(shop, before)[:3] == ["clocked-off", "phase-finished", "phase-reopened"]


async def test_a_promise_is_typed_and_nonsense_is_explained(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="F01") as at:
        assert "is no time" in await at.keys("p", "9", "whenever", "Enter")
        for _ in "whenever":
            await at.keys("backspace")
        assert "That time has been" in await at.keys("2020-01-01 10:00", "Enter")
        for _ in "2020-01-01 10:00":
            await at.keys("backspace")
        await at.keys("fri 16:00", "Enter", PIN, "Enter")
        assert "promised for Fri 16 Oct 16:00" in at.said
    assert kinds(shop, before) == ["promised"]
    assert job_card(shop, "1001", pen.now).job.promise is not None


async def test_what_is_open_is_said_before_a_hand_over_is_asked_for(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="F01") as at:
        text = await at.keys("x")
        assert "1001 CANNOT BE HANDED OVER YET" in text
        assert "1001.1 reception is under way" in text
        assert "Esc back" in text
        await at.keys(" ", "up")
        assert "1001 panel van, long" in await at.keys("Esc")
    assert last(shop) == before


async def test_held_and_released_by_phase_or_as_a_whole(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="F01") as at:
        await at.keys("h", "z", "3", "Enter", "Enter")
        await at.keys("h", "1", "4", "Enter", "Enter")
        text = await at.keys("r")
        assert "the whole job" in text
        await at.keys("1")
        assert "1001 can go on" in at.said
    assert [one for one in kinds(shop, before) if one != "clocked-off"] == [
        "held", "held", "released"
    ]  # fmt: skip


async def test_a_job_that_is_not_there_is_one_sentence(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=Where("job", "9999"), badge="F01") as at:
        assert "There is no job 9999" in at.said
        await at.keys("x", "p")
        assert "wants somebody" in await at.keys("Esc")


@pytest.mark.parametrize("size", [(59, 19), (60, 20), (80, 24), (120, 40), (200, 50)])
async def test_every_size_is_filled_exactly(shop: Shop, pen: Pen, size: tuple[int, int]) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="F01", size=size) as at:
        for keys in ((), ("k",), ("Esc", "s"), ("0", "x"), ("Esc", "F1")):
            await at.keys(*keys)
            assert len(at.lines) == size[1]
            assert {len(line) for line in at.lines} == {size[0]}


async def test_who_gave_the_word_is_put_right_afterwards(shop: Shop, pen: Pen) -> None:
    holding.find(
        shop, pen.by("B12"), job="1001", phase="1", kind="surprise", text="stud broken", hours=2.0
    )
    async with terminal(shop, pen.now, first=CARD, badge="F01") as at:
        await at.keys("a", "1", PIN, "Enter")
        assert "How did the word come?" in await at.keys("a")
        await at.keys("4", "the owner", "Enter", "3")
    found = {one.kind: one.payload for one in ledger(shop)}
    assert found["supplement-answered"]["means"] == "telephone"
    noted = found["answer-noted"]
    assert noted["means"] == "in writing"
    assert "owner" not in str(noted), "who gave the word stays outside the ledger"
    line = job_card(shop, "1001", pen.now).supplements[0]
    assert (line.answered_by, line.means) == ("the owner", "in writing")


async def test_a_note_is_written_shown_and_taken_back(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="B13", size=(120, 60)) as at:
        assert "what is to be remembered?" in await at.keys("n")
        assert "Nothing was typed" in await at.keys("Enter")
        text = await at.keys("wants the old parts back", "Enter")
        assert "Noted on 1001: wants the old parts back." in at.said
        assert "notes    Wed " in text
        assert "Tomas  wants the old parts back" in text
        await at.keys("u")
        assert "Taken back: note on 1001" in at.said
        assert "Tomas  wants the old parts back" not in at.text.split("ledger, newest")[0]
    assert kinds(shop, before) == ["job-noted", "undone", "job-note-taken-back"]


async def test_what_is_typed_of_a_note_is_there_when_one_returns(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="B13") as at:
        await at.keys("n", "rang twice", "Esc")
        assert "rang twice" in await at.keys("n")


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50)])
async def test_arrows_reach_every_section_and_say_where_the_page_ends(
    shop: Shop, pen: Pen, size: tuple[int, int]
) -> None:
    async with terminal(shop, pen.now, first=CARD, size=size) as at:
        top = at.text
        tops: list[str] = []
        while "The page ends here." not in at.said:
            tops.append(at.lines[3])
            assert len(tops) < 40
            await at.keys("right")
        assert len(tops) == len(set(tops)) or size[0] > 179
        assert "more lines below" not in at.text
        for _ in tops[1:]:
            await at.keys("left")
        assert at.text == top
        assert "The page begins here." in await at.keys("left")


async def test_one_key_shows_the_ledger(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD) as at:
        assert "ledger, newest first" not in at.text
        assert "ledger, newest first" in await at.keys("e")
        assert "does not go farther" in await at.keys("e")


async def test_arrows_and_pages_move_by_lines_and_screens(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD) as at:
        first = list(at.lines)
        await at.keys("down", "down")
        assert at.lines[3] == first[5]
        await at.keys("up", "up")
        assert at.lines == first
        assert "does not go farther" in await at.keys("up")
        await at.keys("page down")
        assert at.lines[3] == first[21], "the last line of a page is the first of the next"
        await at.keys("page up")
        assert at.lines == first
        await at.keys(" ")
        assert at.lines[3] == first[21]


async def test_the_wheel_moves_by_three_lines_and_leaves_questions_alone(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="F01") as at:
        first = list(at.lines)
        at.screen.on_mouse_scroll_down()
        await at.settle()
        assert at.lines[3] == first[6]
        at.screen.on_mouse_scroll_up()
        await at.settle()
        assert at.lines == first
        asked = await at.keys("k")
        at.screen.on_mouse_scroll_down()
        await at.settle()
        assert at.text == asked
        await at.keys("Esc")
        assert at.lines == first


async def test_a_click_on_a_word_of_the_last_row_is_its_key(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="B13") as at:
        x = at.lines[-1].index("n note")
        await at.pilot.click(offset=(x + 3, len(at.lines) - 1))
        await at.settle()
        assert "what is to be remembered?" in at.text


async def test_what_lies_below_is_named_and_makes_room_for_what_was_said(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="B13") as at:
        assert "more lines below: " in at.lines[-2]
        await at.keys("n", "ok", "Enter")
        assert "Noted on 1001: ok.  u undoes it.   " in at.lines[-2]
        assert "more lines below" in at.lines[-2]
        await at.keys("n", "wants the old parts, all of them", "Enter")
        assert "Noted on 1001: wants the old parts, all of them.  u undoes it." in at.lines[-2]
        assert "more lines" not in at.lines[-2]


async def test_the_card_of_a_closed_job_is_read_and_noted_on(shop: Shop, pen: Pen) -> None:
    done = jobs.take_small(shop, pen.by("B13"), text="Bulb", vehicle="blue estate")
    number = done.job or ""
    clock.clock_on(shop, pen.by("B13"), job=number, phase="1")
    phases.finish(shop, pen.by("B13", 9), job=number, phase="1")
    jobs.close(shop, pen.by("F01"), job=number)
    async with terminal(shop, pen.now, first=Where("job", number), badge="B13") as at:
        assert "nothing left" in at.text
        await at.keys("n", "rang: all is well", "Enter")
        assert f"Noted on {number}: rang: all is well." in at.said
        await at.keys("u")
        assert "Taken back" in at.said
