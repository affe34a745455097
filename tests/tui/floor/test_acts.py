"""What a foreman does from the floor by keys: each act, its refusal, and what is written down."""

from __future__ import annotations

import re
from datetime import timedelta

from store.actions import clock, holding, places
from store.file.shop import Shop
from store.views.floor import floor
from store.views.ledger import ledger
from tests.tui.driver import terminal
from tests.tui.shops import PIN, Pen, kinds, last
from tui.parts.where import FLOOR


def digit_of(text: str, words: str) -> str:
    """The digit of an answer."""
    found = re.search(rf"(\d)  +{words}", text)
    assert found, text
    return found[1]


def ask(shop: Shop, pen: Pen, *texts: str) -> None:
    """Ines finds extra work on 1001."""
    for text in texts:
        holding.find(
            shop, pen.by("B12"), job="1001", phase="1", kind="surprise", text=text, hours=2.0
        )


async def test_the_customers_word_is_two_keys_and_the_promise_is_asked_about(
    shop: Shop, pen: Pen
) -> None:
    ask(shop, pen, "stud broken")
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        assert "stud broken: +2.0 h" in await at.keys("a")
        await at.keys("1")
        assert "supplement-answered" not in kinds(shop, before), "it takes a foreman's PIN, once"
        text = await at.keys(PIN, "Enter")
        assert "supplement-answered" in kinds(shop, before)
        assert "1001 panel van, long: what is the customer told?" in text
        assert "at the cautious figure" in text
        await at.keys("Enter")
        assert "1001 is promised for" in at.said
        assert "Taken back" in await at.keys("u")
    assert "promised" in kinds(shop, before)


async def test_esc_leaves_the_promise_and_the_answer_can_be_taken_back(
    shop: Shop, pen: Pen
) -> None:
    ask(shop, pen, "stud broken")
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        assert "what is the customer told?" in await at.keys("a", "2", PIN, "Enter")
        await at.keys("Esc")
        assert "refused: stud broken" in at.said
        assert "u undoes it" in at.said
        assert "Taken back" in await at.keys("u")
    asked = [one.text for lane in floor(shop, pen.now).lanes if lane.job for one in lane.job.asked]
    assert asked == ["stud broken"]


async def test_the_answer_is_for_the_job_that_waits_whichever_lift_one_stands_on(
    shop: Shop, pen: Pen
) -> None:
    ask(shop, pen, "stud broken")
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        assert "1001: what did the customer say?" in await at.keys("3", "a")


async def test_a_technician_may_not_answer_and_is_told_who_may(shop: Shop, pen: Pen) -> None:
    ask(shop, pen, "stud broken")
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="B13") as at:
        await at.keys("a", "1")
        assert "it takes the foreman or owner" in at.said
    assert last(shop) == before


async def test_an_answer_where_nothing_waits_says_so(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("a")
        assert "1001 has no extra work that waits for an answer." in at.said
        await at.keys("3", "a")
        assert "No extra work waits" in at.said


async def test_a_promise_by_its_chance_or_at_any_time(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("p")
        assert "Promised for Fri" in text
        assert "at the cautious figure" in text
        await at.keys("Enter", PIN, "Enter")
        assert "1001 is promised for" in at.said
        await at.keys("p", "9", "yesterday", "Enter")
        assert "is no time" in at.said
        await at.keys(*["backspace"] * 9, "fri 16:00", "Enter")
        assert "Fri 16 Oct 16:00" in at.said or "promised for" in at.said
    promised = [one.payload["promise"] for one in ledger(shop) if one.kind == "promised"]
    assert str(promised[-1]).startswith("2026-10-16T14:00")


async def test_a_clock_left_running_is_put_right_with_who_and_why(shop: Shop, pen: Pen) -> None:
    now = pen.now + timedelta(days=1)
    async with terminal(shop, now, first=FLOOR, badge="F01", size=(120, 40)) as at:
        assert "CLOCK" in at.text
        await at.keys("n", "n")
        assert "CLOCK  Ines: left running on 1001.1  f puts it right." in at.said
        text = await at.keys("f")
        assert "Ines's clock on 1001.1 runs since" in text
        assert "16:30, the shift ended: 8.0 h" in text
        assert "16:00" in text
        assert "15:30" in text
        await at.keys("2", "ill today", "Enter", PIN, "Enter")
        assert "Ines's clock" in at.said
        assert "left running" not in at.text
        assert "Taken back" in await at.keys("u")
    entry = next(one for one in ledger(shop) if one.kind == "clock-corrected")
    assert (entry.badge, entry.payload["why"]) == ("F01", "ill today")
    assert str(entry.payload["until"]).startswith("2026-10-14T14:00")


async def test_the_stop_of_a_forgotten_clock_can_be_typed(shop: Shop, pen: Pen) -> None:
    now = pen.now + timedelta(days=1)
    async with terminal(shop, now, first=FLOOR, badge="F01") as at:
        await at.keys("f", "4", "7:00", "Enter")
        assert "The clock began at 07:46" in at.said
        await at.keys("backspace", "backspace", "backspace", "backspace", "15:20", "Enter")
        await at.keys("Enter", PIN, "Enter")
    entry = next(one for one in ledger(shop) if one.kind == "clock-corrected")
    assert str(entry.payload["until"]).startswith("2026-10-14T13:20")


async def test_without_a_forgotten_clock_the_other_key_is_named(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("f")
        assert "No clock was left running. w sends somebody over" in at.said


async def test_somebody_is_sent_over_to_a_phase_of_the_job_looked_at(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("2", "w")
        assert "Ines    on 1001.1" in text
        assert "1002.1" in await at.keys(digit_of(text, "Ines    on"))
        await at.keys("1", PIN, "Enter")
        assert "Ines went over to 1002.1" in at.said
        assert "Taken back" in await at.keys("u")
    on = {one.name: (one.job, one.phase) for one in floor(shop, pen.now).people if one.job}
    assert on == {"Ines": ("1001", "1")}


async def test_somebody_is_sent_to_another_job_than_the_one_looked_at(shop: Shop, pen: Pen) -> None:
    clock.clock_off(shop, pen.by("B12"))
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("w")
        assert "goes over to which phase of 1001?" in await at.keys(digit_of(text, "Tomas"))
        assert "goes over to which job?" in await at.keys("0")
        assert "goes over to which phase of 1002?" in await at.keys("2")
        await at.keys("1", PIN, "Enter")
        assert "Tomas went over to 1002.1" in at.said


async def test_a_lift_out_of_service_asks_where_its_job_goes(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("2", "o", "5", "chain slack", "Enter")
        assert "1002 estate, grey: move to" in text
        assert "lift 3   scissor 3.0 t" in text
        await at.keys("1")
        assert "1002" in at.said
        assert "chain slack" in at.text
        assert "No job on lift 2" in (await at.keys("Enter"), at.said)[1]
    assert kinds(shop, before) == ["lift-withdrawn", "placed"]


async def test_what_is_called_in_stands_first_and_what_lacks_is_said(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("3", "c")
        assert "to lift 3: which job?" in text
        assert "lacks parts" in text
        assert "1003 farm pick-up is not ready" in await at.keys("1")
        await at.keys("Enter", PIN, "Enter")
        assert "1003" in at.said
        await at.keys("c")
        assert "Nobody waits to come in. F5 takes a new job." in at.said


async def test_with_no_free_lift_the_key_that_helps_is_named(shop: Shop, pen: Pen) -> None:
    places.withdraw_lift(shop, pen.by("F01"), code="3", reason="lock")
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("1", "c")
        assert "No lift is free. m moves a job away." in at.said


async def test_held_and_released_and_where_nothing_is_held(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("2", "r")
        assert "1002 is not held. h holds it." in at.said
        await at.keys("h", "1", "Esc")
        assert "held: parts" in at.text or "HELD" in at.text
        await at.keys("r")
        assert "1002" in at.said
        await at.keys("3", "h")
        assert "No job on lift 3. c calls one in." in at.said
    assert kinds(shop, before) == ["held", "released"]


async def test_z_goes_from_a_day_over_a_week_to_two_weeks_and_around(shop: Shop, pen: Pen) -> None:
    for size in ((80, 24), (120, 40), (200, 50)):
        async with terminal(shop, pen.now, first=FLOOR, size=size) as at:
            days: list[int] = []
            for _ in range(9):
                await at.keys("z")
                assert "A cell is" in at.said
                days.append(int(at.said.split(": ")[1].split()[0]))
            assert min(days) <= 3, days
            assert max(days) >= 10, days
            assert any(5 <= one <= 8 for one in days), days
            assert len(set(days)) < 9, "it comes around"
    async with terminal(shop, pen.now, first=FLOOR, size=(70, 24)) as at:
        await at.keys("z")
        assert "No lanes are drawn under 80 columns." in at.said
