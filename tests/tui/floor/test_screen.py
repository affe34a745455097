"""The floor by keys: looked at by anybody, changed only by somebody who is signed in."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import clock, holding, places
from store.file.shop import Shop
from tests.tui.driver import terminal
from tests.tui.floor.at import click
from tests.tui.shops import PIN, Pen, kinds, last
from tui.colours import ANSI, DARK, Paint
from tui.floor.screen import FloorScreen
from tui.parts.where import FLOOR
from tui.signs import ASCII, UNICODE


async def test_nobody_signed_in_looks_and_is_asked_for_a_badge_at_the_first_act(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR) as at:
        assert "nobody signed in" in at.text
        assert "1001 panel van, long" in at.text
        assert "Who does this?" in await at.keys("h")
        text = await at.keys("Esc")
        assert "Who does this?" not in text
        assert last(shop) == before
        await at.keys("h", "F01", "Enter", "1", "Enter", "Enter")
        assert "Ruth, foreman" in at.text
    assert kinds(shop, before) == ["clocked-off", "held"]


async def test_a_digit_an_arrow_and_n_go_to_lifts(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR) as at:
        assert "▸1" in at.text
        assert "▸3" in await at.keys("3")
        assert "▸2" in await at.keys("up")
        assert "Nothing wants anybody" in await at.keys("n")
        holding.hold(shop, pen.by("B13"), job="1002", phase=None, reason="parts")
        await at.look_again()
        assert "▸2" in await at.keys("1", "n")
        assert "HELD  lift 2: 1002 parts  r releases it." in at.said


async def test_the_floor_opens_at_the_lift_that_wants_somebody_most(shop: Shop, pen: Pen) -> None:
    holding.hold(shop, pen.by("B13"), job="1002", phase=None, reason="parts")
    async with terminal(shop, pen.now, first=FLOOR) as at:
        assert "▸2" in at.text
        assert "1002 estate, grey" in (await at.keys("Enter")).split("\n")[0]


async def test_what_is_to_be_warned_of_is_said_in_full_where_one_stands(
    shop: Shop, pen: Pen
) -> None:
    for code in ("1", "2"):
        places.look_over(shop, pen.by("B12"), code=code)
        places.inspect_lift(
            shop, pen.by("F01"), code=code, day=(pen.now - timedelta(days=20)).date(),
            months=12, source="made up", inspector="somebody",
        )  # fmt: skip
    async with terminal(shop, pen.now, first=FLOOR) as at:
        await at.keys("3")
        assert "Lift 3 has no inspection on record" in at.said
        await at.keys("2")
        assert "inspection" not in at.said


async def test_two_digits_reach_the_lifts_from_ten_on(shop: Shop, pen: Pen) -> None:
    for code in range(4, 13):
        places.add_place(
            shop, pen.by(), code=str(code), kind="lift", lift_kind="two-post", rated_kg=3500
        )
    async with terminal(shop, pen.now, first=FLOOR) as at:
        assert "A second digit: lift 10 to 12." in (await at.keys("1"), at.said)[1]
        assert "▸12" in await at.keys("2")
        assert "▸2" in await at.keys("2")
        assert "▸11" in await at.keys("1", "1")
        assert "▸1 " in await at.keys("up", "1"), "any other key begins anew"


async def test_the_wheel_turns_pages_and_leaves_questions_alone(shop: Shop, pen: Pen) -> None:
    for code in range(4, 13):
        places.add_place(
            shop, pen.by(), code=str(code), kind="lift", lift_kind="two-post", rated_kg=3500
        )
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        screen = at.screen
        assert "lifts 1 to" in at.text
        screen.on_mouse_scroll_down()
        await at.settle()
        assert "lifts 8 to" in at.text or "to 12 of 12" in at.text
        screen.on_mouse_scroll_up()
        await at.settle()
        assert "lifts 1 to" in at.text
        await at.keys("2", "h")
        screen.on_mouse_scroll_down()
        await at.settle()
        assert at.screen.prompt is not None
        assert "lifts 1 to" in at.text


async def test_a_click_on_what_wants_somebody_goes_there(shop: Shop, pen: Pen) -> None:
    holding.hold(shop, pen.by("B13"), job="1002", phase=None, reason="parts")
    async with terminal(shop, pen.now, first=FLOOR) as at:
        await click(at, "1002 parts")
        assert "▸2" in at.text
        assert "r releases it." in at.said


async def test_a_change_elsewhere_shows_without_a_key_and_an_equal_look_sends_nothing(
    shop: Shop, pen: Pen
) -> None:
    other = Shop(shop.path)
    try:
        async with terminal(shop, pen.now, first=FLOOR) as at:
            await at.look_again()
            painted = at.screen.board.refreshed
            at.screen.read()
            await at.settle()
            assert at.screen.board.refreshed == painted, "equal values paint nothing"
            clock.clock_on(other, pen.by("B13"), job="1002", phase="1")
            assert "reception" in await at.look_again()
            assert "0.0/0.5 TO" in at.text
            assert at.screen.board.refreshed > painted
    finally:
        other.close()


async def test_called_in_moved_and_taken_back(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("3", "c", "1", "Enter", PIN, "Enter")
        assert "3!1003 farm pick-up" in at.text
        await at.keys("m")
        assert "yard" in at.text
        await at.keys("1")
        assert "1003 is at yard now" in at.said
        assert "Taken back" in await at.keys("u")
    assert kinds(shop, before)[:2] == ["placed", "placed"]


async def test_the_pin_is_asked_once_and_forgotten_at_sign_off(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("2", "o", "1", "Esc")
        assert "out of service" in at.text
        assert "Ruth's PIN" in await at.keys("o")
        assert "That is not Ruth's PIN" in await at.keys("1111", "Enter")
        await at.keys(PIN, "Enter")
        assert "in service again" in at.said
        await at.keys("o", "2", "Esc")
        await at.keys("o")
        assert "in service again" in at.said, "the PIN is known while she is signed in"
        await at.keys("Esc")
        assert "Scan your badge" in at.text
        await at.sign_in("F01")
        await at.keys("2", "o", "1", "Esc")
        assert "Ruth's PIN" in await at.keys("o")


async def test_a_job_taken_by_keys_from_codes_family_and_vehicle(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("F5", "saloon", "Enter", "b4m", "Enter", "cl rs", "Enter")
        assert "sharing saves" in at.text
        await at.keys("p", "fri 16:00", "Enter", "Enter", PIN, "Enter")
        assert "1004 taken" in at.said
    assert "promised" in kinds(shop, before)


async def test_a_small_job_in_ten_seconds(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="B13") as at:
        await at.keys("j", "little red one", "Enter", "Enter", "rear lamp", "Enter", "Enter")
    assert kinds(shop, before)[:2] == ["vehicle-known", "job-opened"]


async def test_a_lift_that_is_too_weak_is_refused_with_both_figures(shop: Shop, pen: Pen) -> None:
    from store.actions import jobs

    jobs.take(shop, pen.by(), operations=["IN"], family="D4-M-R", vehicle="tipper", mass_kg=3400)
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("3", "c", "2")
        assert "3,400 kg" in at.said
        assert "3,000 kg" in at.said
    assert last(shop) == before


async def test_a_wall_takes_no_key_and_turns_its_pages(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, wall=True, size=(80, 20)) as at:
        await at.pilot.press("h", "1", "enter")
        await at.pilot.pause()
        assert "Who does this?" not in at.text
        screen = at.app.screen
        assert isinstance(screen, FloorScreen)
        screen.turn_page()
        assert "1001 panel van, long" in at.text
    assert last(shop) == before


async def test_a_click_goes_to_a_lift_and_a_second_one_opens_its_job(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR) as at:
        row = next(n for n, line in enumerate(at.lines) if line.startswith(" 2"))
        await at.pilot.click(offset=(5, row))
        await at.settle()
        assert at.lines[row].startswith("▸2")
        await at.pilot.click(offset=(5, row))
        await at.settle()
        assert "timing chain" in at.text


async def test_keys_of_the_last_row_and_answers_can_be_pressed_with_a_mouse(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        assert "Nothing wants anybody." in await click(at, "n next")
        await at.keys("h")
        assert "▸1" in await click(at, "1001 panel van"), "while somebody is asked, no lift is open"
        assert "Expected when?" in await click(at, "customer's word")
        await click(at, "not known")
        await click(at, "Esc back")
        assert "held" in at.said
        await click(at, "F1 help")
        assert at.screen.page is not None
        await click(at, " back")
        assert at.screen.page is None
    assert kinds(shop, before)[:2] == ["clocked-off", "held"]


async def test_a_file_that_cannot_be_read_says_as_of_and_keeps_the_rest(
    shop: Shop, pen: Pen, tmp_path: Path
) -> None:
    async with terminal(shop, pen.now, first=FLOOR) as at:
        await at.look_again()
        shop.path.rename(tmp_path / "away")
        at.app.notice()
        await at.settle()
        assert "! AS OF 07:46" in at.text
        assert "1001 panel van, long" in at.text
        assert "is gone: it is called" in at.said
        (tmp_path / "away").rename(shop.path)
        await at.look_again()
        assert "AS OF" not in at.text


@pytest.mark.parametrize("size", [(59, 19), (60, 20), (80, 24), (112, 30), (180, 50)])
@pytest.mark.parametrize("plainly", [False, True], ids=["unicode", "ascii"])
async def test_every_size_is_filled_exactly(
    shop: Shop, pen: Pen, size: tuple[int, int], plainly: bool
) -> None:
    async with terminal(
        shop, pen.now + timedelta(hours=3), first=FLOOR, badge="F01", size=size,
        signs=ASCII if plainly else UNICODE, paint=Paint(ANSI if plainly else DARK),
    ) as at:  # fmt: skip
        for keys in ((), ("c",), ("Esc", "F1"), ("x", "F5"), ("Esc", "z")):
            await at.keys(*keys)
            assert len(at.lines) == size[1]
            assert {len(line) for line in at.lines} == {size[0]}
            if plainly:
                assert at.text.isascii(), [line for line in at.lines if not line.isascii()]
