"""The bay by keys: what a technician presses in a day, and what must not happen."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import clock, day_sheet, holding, steps
from store.file.shop import Shop
from store.views.bay import bay
from store.views.ledger import ledger
from tests.tui.driver import terminal
from tests.tui.shops import Pen, kinds, last
from tui.parts.where import BAY


async def test_a_badge_and_enter_show_the_running_clock(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now + timedelta(minutes=72), lift="1") as at:
        assert "Scan your badge" in at.text
        text = await at.sign_in("b12")
    assert "CLOCK RUNS" in text
    assert "1001.1  reception" in text
    assert "VIN, number plate" in text


async def test_an_unknown_badge_is_refused_in_one_line_and_the_field_is_empty(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, pen.now) as at:
        text = await at.sign_in("B99")
        assert "Nobody here has the badge B99" in text
        assert "CLOCK RUNS" in await at.sign_in("B12")


async def test_one_key_stops_the_clock_and_one_starts_it(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "NO CLOCK" in await at.keys("1")
        assert "CLOCK RUNS" in await at.keys("1")
    assert kinds(shop)[-2:] == ["clocked-off", "clocked-on"]


async def test_keys_typed_ahead_of_a_form_land_in_the_form(shop: Shop, pen: Pen) -> None:
    """Hold and its reason typed at once: the digit is the reason and no clock is touched."""
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("4", "1", "Enter", "Enter")
    assert kinds(shop, before) == ["clocked-off", "held"]


async def test_held_in_two_keys_even_when_the_line_drops_then(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("4", "1")
    assert bay(shop, "B12", pen.now).blocks == ("held for parts",)


async def test_when_it_is_expected_and_whose_move_it_is_are_kept(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("4", "1")
        assert "Expected when?" in text
        assert "1  Wed 16:30" in text
        text = await at.keys("4", "nonsense", "Enter")
        assert "is no time" in text
        assert "nonsense" in text, "what was typed is still there"
        for _ in "nonsense":
            await at.keys("backspace")
        assert "Whose move is it?" in await at.keys("14:00", "Enter")
        await at.keys("1")
        text = await at.keys("4")
        assert "it can go on" in text
        assert "can go on" in await at.keys("1")
    assert kinds(shop)[-3:] == ["held", "hold-changed", "released"]


async def test_going_over_takes_two_keys_and_one_instant(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("2")
        assert "1  1001.2" in text
        text = await at.keys("2")
        assert "1002.1  reception" in text
    lines = list(ledger(shop))[-2:]
    assert [line.kind for line in lines] == ["clocked-off", "clocked-on"]
    assert lines[0].happened_at == lines[1].happened_at


async def test_away_and_back_take_one_key_each(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "AWAY" in await at.keys(".")
        at.hands.turn(minutes=15)
        assert "1001.1  reception" in await at.keys(",")
    assert kinds(shop)[-4:] == ["clocked-off", "clocked-indirect", "clocked-off", "clocked-on"]


async def test_other_bay_work_and_undo(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "BAY WORK" in await at.keys("6", "1")
        assert "Taken back" in await at.keys("0")
        assert "1001.1  reception" in at.text


async def test_a_step_behind_a_hold_point_is_refused_with_all_one_must_know(
    shop: Shop, pen: Pen
) -> None:
    to_raised(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("down", "3")
        flat = " ".join(text.split())
        assert "waits for the hold point 1001.2.1" in flat
        assert "to be signed by a technician" in flat
        assert "gross mass with load" in flat
        text = await at.keys("7", "2", "2", "3", "Esc")
        assert last(shop) == before, "no way round through the list either"


def to_raised(shop: Shop, pen: Pen) -> None:
    """Reception of 1001 is done; Ines is on the check, whose first step is a hold point."""
    for step in range(1, 6):
        steps.sign(shop, pen.by("B12"), job="1001", phase="1", step=str(step))
    clock.clock_over(shop, pen.by("B12"), job="1001", phase="2")


async def test_a_reading_outside_its_limits_is_kept_holds_and_offers_a_finding(
    shop: Shop, pen: Pen
) -> None:
    to_raised(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("3")
        assert "500 to 4000 kg" in text
        text = await at.keys("heavy", "Enter")
        assert "heavy is no number" in text
        for _ in "heavy":
            await at.keys("backspace")
        text = await at.keys("4200,5", "Enter")
        assert "report it as a finding" in text
        text = await at.keys("1", "1")
        assert "4200.5 kg" in " ".join(text.split()), "the reading stands in the finding already"
        await at.keys("Enter", "2", "Enter")
    assert kinds(shop, before) == [
        "step-signed",
        "clocked-off",
        "held",
        "found",
        "released",
        "held",
    ]
    assert bay(shop, "B12", pen.now).blocks[0].startswith("held for the customer's word")


async def test_a_second_person_signs_in_the_same_place_with_badge_and_pin(
    shop: Shop, pen: Pen
) -> None:
    to_second_name(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("3")
        assert "a second name" in text
        text = await at.keys("B12", "Enter")
        assert "second person's" in " ".join(at.said.split())
        text = await at.keys("3", "B13", "Enter")
        assert "Tomas's PIN" in text
        text = await at.keys("1111", "Enter")
        assert "That is not Tomas's PIN" in text
        assert "1111" not in text
        text = await at.keys("2468", "Enter")
        assert "signed by Tomas" in " ".join(at.said.split())
    assert [line.badge for line in ledger(shop) if line.seq > before] == ["B12", "B13"]


def to_second_name(shop: Shop, pen: Pen) -> None:
    """1001 up to the first hold point that takes two names."""
    to_raised(shop, pen)
    steps.sign(shop, pen.by("B12"), job="1001", phase="2", step="1", readings={"gross": 2100.0})
    for step in "234":
        steps.sign(shop, pen.by("B12"), job="1001", phase="2", step=step)
    steps.sign(shop, pen.by("B12"), job="1001", phase="2", step="5", answer="pass")
    clock.clock_over(shop, pen.by("B12"), job="1001", phase="3")
    steps.sign(shop, pen.by("B12"), job="1001", phase="3", step="1", readings={"value": 10.0})
    for step in "2345":
        steps.sign(shop, pen.by("B12"), job="1001", phase="3", step=step)


async def test_a_clock_left_running_is_asked_about_first_thing(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now + timedelta(days=1)) as at:
        text = await at.sign_in("B12")
        assert "When did you stop?" in text
        assert "16:30" in text
        assert "is no time of day" in await at.keys("4", "soon", "Enter")
        for _ in "soon":
            await at.keys("backspace")
        assert "Type a later time" in " ".join((await at.keys("0600", "Enter")).split())
        for _ in "0600":
            await at.keys("backspace")
        text = await at.keys("1415", "Enter")
        assert "NO CLOCK" in text
    lines = [line for line in ledger(shop) if line.seq > before]
    assert [line.kind for line in lines] == ["clocked-off"]
    assert f"{lines[0].happened_at:%H:%M}" == "12:15", "UTC of a quarter past two"


async def test_enter_takes_the_shifts_end_and_esc_is_later(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now + timedelta(days=1)) as at:
        await at.sign_in("B12")
        text = await at.keys("Esc")
        assert "LEFT RUNNING" in text
        assert "When did you stop?" in await at.keys("1")
        await at.keys("Enter")
        assert "NO CLOCK" in at.text
    assert f"{list(ledger(shop))[-1].happened_at:%H:%M}" == "14:30"


async def test_finishing_says_what_is_open_and_over_the_cautious_figure_asks_why(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, pen.now + timedelta(hours=2), first=BAY, badge="B12") as at:
        assert "is finished" not in await at.keys("9", "x")
        text = await at.keys("Enter")
        assert "Why?" in text
        await at.keys("5")
    assert kinds(shop)[-3:] == ["clocked-off", "phase-finished", "phase-noted"]
    to_check(shop, pen, hours=3)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = " ".join((await at.keys("Enter")).split())
        assert "is not finished before the hold point 1001.2.1" in text


def to_check(shop: Shop, pen: Pen, hours: float) -> None:
    pen.now += timedelta(hours=hours)
    clock.clock_on(shop, pen.by("B12"), job="1001", phase="2")


async def test_the_day_sheet_shows_gaps_and_one_key_confirms(shop: Shop, pen: Pen) -> None:
    clock.clock_off(shop, pen.by("B12", 60))
    async with terminal(shop, pen.now + timedelta(hours=1), first=BAY, badge="B12") as at:
        text = await at.keys("-")
        assert "day sheet of Ines" in text
        assert "gap" in text
        assert "confirmed" in await at.keys("Enter")
        assert "NO CLOCK" in await at.keys("Esc")
    assert kinds(shop)[-1] == "day-confirmed"


async def test_an_overlap_on_the_day_sheet_takes_one_key(shop: Shop, pen: Pen) -> None:
    began = pen.now
    clock.clock_off(shop, pen.by("B12", 60))
    day_sheet.enter_clock(
        shop, pen.by("B12"), where=day_sheet.Where(reason="tidying"),
        since=began + timedelta(minutes=30), until=pen.now,
    )  # fmt: skip
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("-", "down")
        assert "overlap   1001.1 ended then" in text
        assert "overlap" not in await at.keys("3")
    assert kinds(shop)[-1] == "clock-corrected"


async def test_an_empty_day_has_nothing_to_put_right(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("-", "4", "4", "4", "4")
        assert "nothing to put right" in " ".join((await at.keys("3")).split())
    assert last(shop) == before


async def test_a_change_from_another_terminal_shows_without_a_key(shop: Shop, pen: Pen) -> None:
    other = Shop(shop.path)
    try:
        async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
            await at.look_again()
            assert "held for" not in at.text
            holding.hold(other, pen.by("F01"), job="1001", phase="1", reason="tool")
            assert "held for tool" in await at.look_again()
    finally:
        other.close()


async def test_a_quiet_screen_sends_nothing_and_a_minute_only_its_figures(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.look_again()
        before = at.screen.board.refreshed
        for _ in range(8):
            await at.look_again()
        assert at.screen.board.refreshed == before
        at.hands.turn(minutes=1)
        for _ in range(8):
            await at.look_again()
        assert 0 < at.screen.board.refreshed - before <= 8, "the clock, the labour, the time"


async def test_a_silence_signs_off_and_the_clock_goes_on(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("4")
        at.app.fall_silent()
        await at.settle()
        assert "Scan your badge" in at.text
        assert "Ines was signed off; the clock goes on." in at.text
        assert "CLOCK RUNS" in await at.sign_in("B12")
    assert last(shop) == before


async def test_no_key_at_all_signs_off_whom_the_line_signed_in(shop: Shop, pen: Pen) -> None:
    """The timer is the real one; the silence begins with the first look, not the first key."""
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12", sign_off_s=0.05) as at:
        while "Scan your badge" not in at.text:
            await at.pilot.pause(0.01)
        assert "Ines was signed off; the clock goes on." in at.text
    assert last(shop) == before
    assert bay(shop, "B12", pen.now).clock is not None


async def test_a_badge_typed_on_the_bay_is_the_next_person_and_no_key(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("B13", "Enter")
        assert "Tomas" in text
        assert "NO CLOCK" in text
    assert last(shop) == before


async def test_a_file_that_is_gone_is_a_sentence_at_every_key(
    shop: Shop, pen: Pen, tmp_path: Path
) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        shop.path.rename(tmp_path / "away")
        for key in ("1", "2", "3", "6", "B", "-", "7", "0", ".", "Enter"):
            await at.keys(key, "1")
            assert at.said.startswith(f"! {shop.path} is gone: it is called"), key
        at.app.notice()
        await at.settle()
        assert "AS OF 07:46" in at.text
        (tmp_path / "away").rename(shop.path)
        await at.look_again()
        assert "AS OF" not in at.text


async def test_pad_without_numlock_is_told_once(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "Press NumLock" in await at.keys("end")
    assert last(shop) == before


@pytest.mark.parametrize("size", [(59, 19), (60, 20), (80, 24), (120, 40), (200, 50)])
async def test_every_size_is_filled_exactly(shop: Shop, pen: Pen, size: tuple[int, int]) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12", size=size) as at:
        for keys in ((), ("4",), ("Esc", "5", "1"), ("Esc", "7"), ("Esc", "9"), ("x", "-")):
            await at.keys(*keys)
            assert len(at.lines) == size[1]
            assert {len(line) for line in at.lines} == {size[0]}
