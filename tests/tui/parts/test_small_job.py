"""A small job in ten seconds: its keys are counted, what it takes stands in the ledger."""

from __future__ import annotations

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from store.views.job import job_card
from tests.tui.bay.test_key_counts import Typed
from tests.tui.driver import terminal
from tests.tui.shops import Pen, kinds, last
from tui.parts.where import BAY, FLOOR, INTAKE, Where

MOST = 4
"""Keys for a small job, its text and its vehicle aside: to the form, through two fields, a lift."""
WAITS = (Typed("rear lamp"), "Enter", Typed("little red one"), "Enter", "Enter")
ON_LIFT = (*WAITS[:4], "1")
FROM: dict[str, tuple[Where, str, str]] = {
    "the bay": (BAY, "B12", "F12"),
    "the floor": (FLOOR, "F01", "s"),
    "the floor, by its F-key": (FLOOR, "B12", "F12"),
}


@pytest.mark.parametrize("name", FROM)
@pytest.mark.parametrize("rest", [WAITS, ON_LIFT], ids=["waits", "on a lift"])
async def test_from_bay_and_floor_in_four_keys(
    shop: Shop, pen: Pen, name: str, rest: tuple[str, ...]
) -> None:
    first, badge, key = FROM[name]
    before = last(shop)
    async with terminal(shop, pen.now, first=first, badge=badge, lift="1") as at:
        keys = (key, *rest)
        assert sum(not isinstance(one, Typed) for one in keys) <= MOST
        await at.keys(*keys)
        assert "1004 taken" in at.said
        assert at.screen.prompt is None
    assert kinds(shop, before)[:2] == ["vehicle-known", "job-opened"]
    job = job_card(shop, "1004", pen.now).job
    assert (job.work, job.vehicle, job.small) == ("rear lamp", "little red one", True)
    assert job.place == ("3" if rest is ON_LIFT else None)
    assert verify(shop.path).ok


async def test_other_hours_are_said_by_one_key(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("s", "wipers", "Enter", "van", "Enter")
        assert "the usual hours" in at.text
        await at.keys("z", "none", "Enter")
        assert "is no number" in at.said
        await at.keys(*["backspace"] * 4, "0.5", "Enter")
        assert "0.5 h" in at.text
        await at.keys("Enter")
    assert job_card(shop, "1004", pen.now).job.estimate.middle == pytest.approx(0.5)


async def test_nothing_typed_is_refused_and_what_was_typed_is_there_again(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("s", "Enter")
        assert "Nothing was typed" in at.said
        await at.keys("wipers", "Enter", "va", "Esc")
        await at.keys("s")
        assert "wipers" in at.text
        assert "va" in await at.keys("Enter")
        await at.keys("Esc", "F9", "small", "Enter")
        assert "what is to be done" in at.text
    assert last(shop) == before


async def test_without_a_free_lift_it_waits(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("s", "lamp", "Enter", "van", "Enter", "1")
        await at.keys("s", "wipers", "Enter", "car", "Enter")
        assert at.screen.prompt is not None
        assert [one.key for one in at.screen.prompt.options] == ["z", "Enter"]
        await at.keys("Enter")
        assert "1005 taken" in at.said


async def test_the_intake_takes_one_as_before(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="B12") as at:
        await at.keys("van", "Enter", "Enter", "rear lamp", "Enter", "Enter")
        assert "1004 taken" in at.said
