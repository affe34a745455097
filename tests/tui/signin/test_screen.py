"""Signing in: by badge, to the right home; nothing else gets in."""

from __future__ import annotations

from textual import events

from store.file.shop import Shop
from tests.tui.driver import terminal
from tests.tui.shops import Pen


async def test_technicians_come_to_their_bay_and_foremen_to_the_floor(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now) as at:
        assert "called away" in await at.sign_in("B13")
        await at.keys("Esc")
        assert "wants somebody" in await at.sign_in("f01")


async def test_a_badge_scanned_in_one_piece_signs_in(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now) as at:
        at.app.post_message(events.Paste("B13\n"))
        await at.pilot.pause()
        await at.settle()
        assert "Tomas" in at.text


async def test_a_badge_scanned_at_full_speed_signs_in_and_no_digit_of_it_is_a_key(
    shop: Shop, pen: Pen
) -> None:
    """Every key of the code is on its way before the first one is taken."""
    async with terminal(shop, pen.now) as at:
        for key in ("B", "1", "3", "enter"):
            at.app.post_message(events.Key(key, key if len(key) == 1 else None))
        await at.pilot.pause()
        await at.settle()
        assert "Tomas" in at.text
        assert "NO CLOCK" in at.text


async def test_the_floor_may_be_looked_at_by_anybody(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now) as at:
        assert "nobody signed in" in await at.keys("F3")
        assert "Scan your badge" in await at.keys("Esc")


async def test_esc_empties_the_field_and_then_leaves(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now) as at:
        assert "B1" in await at.keys("B1")
        assert "badge  ▂" in await at.keys("Esc")
        await at.keys("Esc")
        assert not at.app.is_running or at.app.return_value == 0


async def test_rubbish_of_any_kind_is_one_line(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now) as at:
        for rubbish in ("%$#", "ÄÖÜ漢字", "x" * 300, "' or 1=1 --"):
            text = await at.keys(rubbish, "Enter")
            assert "Nobody here has the badge" in text
            assert len(at.lines) == 24
