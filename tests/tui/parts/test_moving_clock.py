"""The clock comes along with a step of the next phase: when that is offered, and when not."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.actions import clock, holding
from store.file.shop import Shop
from store.views.bay import bay
from store.views.ledger import ledger
from tests.tui.bay.ready import in_check
from tests.tui.driver import terminal
from tests.tui.shops import Pen, worked_on
from tui.parts.where import BAY

NEXT = ("7", "right", "3", "2100", "Enter")
OFFER = "Your clock still runs on 1001.1"


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Shop:
    return worked_on(tmp_path / "made.shop", pen)


def on(shop: Shop, pen: Pen) -> str | None:
    found = bay(shop, "B12", pen.now).clock
    return found.phase if found else None


@pytest.mark.parametrize("key, phase", [("1", "2"), ("Enter", "2"), ("2", "1"), ("Esc", "1")])
async def test_one_key_moves_it_or_leaves_it(shop: Shop, pen: Pen, key: str, phase: str) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert OFFER in await at.keys(*NEXT)
        await at.keys(key)
    assert on(shop, pen) == phase


async def test_a_step_of_an_earlier_phase_ticked_late_moves_nothing(shop: Shop, pen: Pen) -> None:
    in_check(shop, pen)
    holding.hold(shop, pen.by("F01"), job="1001", phase="2", reason="tool")
    holding.release(shop, pen.by("F01"), job="1001", phase="2")
    clock.clock_on(shop, pen.by("B12"), job="1001", phase="2")
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        text = await at.keys("7", "left", "up", "3")
        assert "Your clock still runs" not in text
    assert on(shop, pen) == "2"


async def test_a_reading_that_holds_the_next_phase_leaves_the_clock(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert OFFER not in await at.keys(*NEXT[:3], "4200", "Enter")
        assert OFFER not in await at.keys("3")
    assert on(shop, pen) == "1"


async def test_without_a_clock_nothing_is_offered(shop: Shop, pen: Pen) -> None:
    clock.clock_off(shop, pen.by("B12"))
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "Your clock still runs" not in await at.keys(*NEXT)
    assert list(ledger(shop))[-1].kind == "step-signed"
