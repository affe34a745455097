"""Parts and kits by keys, from the card and from the floor, in few of them."""

from __future__ import annotations

from collections.abc import Generator
from pathlib import Path

import pytest

from store.actions import parts, places
from store.actions.hires import asked as hires
from store.file.shop import Shop
from store.file.verify import verify
from store.views.getting_ready import pieces_of
from store.views.job import job_card
from tests.tui.driver import terminal
from tests.tui.shops import PIN, Pen, kinds, last, worked_on
from tui.parts.where import FLOOR, Where

CARD = Where("job", "1003")
"""An injector job that waits."""


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    shop = worked_on(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


def states(shop: Shop, pen: Pen, job: str = "1003") -> list[str]:
    return [one.state for one in job_card(shop, job, pen.now).parts]


async def test_a_part_is_here_in_one_key_and_the_next_that_lacks_is_at_hand(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="B12") as at:
        text = await at.keys("b")
        assert "Parts and kits: lacks parts" in text
        await at.keys("h", "h")
        assert "1003 here: 2" in at.said
        assert "Taken back" in await at.keys("u")
        await at.keys("Esc")
        assert "ready" in at.text
    assert states(shop, pen)[:3] == ["here", "wanted", "wanted"]
    assert kinds(shop, before)[:2] == ["parts-moved", "parts-moved"]
    assert verify(shop.path).ok


async def test_marked_lines_are_ordered_together_with_their_day(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="B12") as at:
        text = await at.keys("b", " ", " ", "o")
        assert "Like thu, tomorrow, 22 oct" in text
        await at.keys("sun", "Enter")
        assert "The shop is closed on Sun 18 Oct: open again Mon 19 Oct." in at.text
        for _ in range(3):
            await at.keys("backspace")
        text = await at.keys("fri", "Enter", "Factor", "Enter")
        assert text.count("expected Fri 16:30; F") == 2
    assert states(shop, pen)[:3] == ["ordered", "ordered", "wanted"]


async def test_what_may_become_of_a_line_is_a_digit_each(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="B12") as at:
        text = await at.keys("b", "2", "Enter")
        assert "1  ordered" in text
        assert "2  it is here" in text
        assert "3  not needed" in text
        assert "fitted" not in text.split("1  ordered")[1].split("Enter")[0]
        await at.keys("3")
        assert states(shop, pen)[1] == "not needed"


async def test_a_part_that_never_came_is_not_fitted(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="B12") as at:
        await at.keys("b", "f")
        assert "was never here and cannot be fitted" in at.said
    assert last(shop) == before


async def test_a_part_is_listed_by_typing_for_a_phase(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="B14") as at:
        await at.keys("b", "a", "leak-off hose", "Enter", "1")
        assert "leak-off hose  for 1" in at.text
        await at.keys("a", "rags", "Enter", "z")
    found = [(one.text, one.phase) for one in job_card(shop, "1003", pen.now).parts]
    assert found[-2:] == [("leak-off hose", "1"), ("rags", None)]


async def test_a_wrong_part_of_the_phase_under_way_offers_to_hold_it(shop: Shop, pen: Pen) -> None:
    parts.list_parts(shop, pen.by("B12"), job="1001", texts=["mat", "clip"], phase="1")
    line = len(job_card(shop, "1001", pen.now).parts) - 1
    parts.move_parts(
        shop, pen.by("B12"), job="1001", lines=[line, line + 1], state="ordered",
        expected=pen.now.replace(day=16, hour=12, minute=0),
    )  # fmt: skip
    before = last(shop)
    async with terminal(shop, pen.now, first=Where("job", "1001"), badge="B12") as at:
        text = await at.keys("b", str(line), "w", "torn", "Enter")
        assert "1001.1 is under way. Hold it for parts, until Fri 14:00?" in text
        await at.keys("Enter")
    assert kinds(shop, before) == ["parts-moved", "clocked-off", "held"]
    (hold,) = job_card(shop, "1001", pen.now).holds
    assert (hold.reason, hold.next_move) == ("parts", "supplier")
    assert hold.until is not None


async def test_a_kit_is_asked_for_looked_through_and_sent_back(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    job = Where("job", "1002")
    card = job_card(shop, "1002", pen.now)
    kit = next(one for one in card.tools if not one.owned)
    pieces = len(pieces_of(shop, "1002")[kit.code])
    down = ["down"] * (len(card.parts) + card.tools.index(kit))
    async with terminal(shop, pen.now, first=job, badge="F01") as at:
        await at.keys("b", *down, "Enter")
        assert "supplier" in at.text
        assert "at which supplier's" in await at.keys("1")
        text = await at.keys("Loan", "Enter", "3", *["backspace"] * 20, "tomorrow", "Enter")
        assert "Loan" in text
        text = await at.keys("4", *["backspace"] * 20, "fri", "Enter", "Enter", PIN, "Enter")
        assert "asked for at Loan" in text
        text = await at.keys("h")
        assert f"{kit.name[:20]}" in text
        assert f"{pieces} piece" in text
        assert "all are there" in text
        text = await at.keys("Enter")
        assert "is here; it goes back Fri 16 Oct" in text
        text = await at.keys("r")
        assert f"{pieces} piece" in text
        await at.keys("x", "Enter")
        assert "is no whole number" in at.text
        text = await at.keys("backspace", str(pieces), "Enter")
        assert f"{pieces} of {pieces}" in text
        await at.keys("Enter")
        assert "went back to Loan" in at.said
        assert "Taken back" in await at.keys("u")
    assert [one for one in kinds(shop, before) if one.startswith("hire")] == [
        "hire-asked", "hire-received", "hire-sent-back", "hire-taken-back",
    ]  # fmt: skip
    assert verify(shop.path).ok


async def test_an_owned_kit_is_not_asked_for(shop: Shop, pen: Pen) -> None:
    owned = next(one for one in job_card(shop, "1001", pen.now).tools if one.owned)
    row = len(job_card(shop, "1001", pen.now).parts) + [
        one.code for one in job_card(shop, "1001", pen.now).tools
    ].index(owned.code)
    async with terminal(shop, pen.now, first=Where("job", "1001"), badge="F01") as at:
        await at.keys("b", *["down"] * row, "o")
        assert "is the shop's own" in at.said
        await at.keys("w")
        assert "That is for parts" in at.said


async def test_from_the_floor_it_is_the_job_of_the_lift_or_one_that_is_chosen(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("up", "up", "up")
        assert "1001 panel van, long" in await at.keys("v")
        assert "Parts and kits" in at.text
        await at.keys("Esc")
        await at.keys("down", "down")
        assert "parts and kits of which job?" in await at.keys("v")
        assert "1003 farm pick-up" in await at.keys("3")


# -- coming in unready


async def test_what_lacks_is_said_once_and_enter_brings_it_in_all_the_same(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("down", "down", "down", "c", "1")
        assert "1003 farm pick-up is not ready" in text
        assert "It lacks parts" in text
        await at.keys("Esc")
        assert last(shop) == before
        text = await at.keys("c", "1", "Enter")
        await at.keys(PIN, "Enter")
    assert kinds(shop, before) == ["placed"]
    assert job_card(shop, "1003", pen.now).unready[0].startswith("parts")
    assert verify(shop.path).ok


async def test_a_technician_is_refused_in_one_line(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="B12") as at:
        await at.keys("down", "down", "down", "c", "1")
        assert "1003 is not ready" in at.said
        assert "takes the foreman's word" in at.said
    assert last(shop) == before


async def test_what_is_ready_comes_in_without_a_question(shop: Shop, pen: Pen) -> None:
    card = job_card(shop, "1003", pen.now)
    lines = [one.line for one in card.parts]
    parts.move_parts(shop, pen.by("B12"), job="1003", lines=lines, state="here")
    for kit in card.tools:
        if not kit.owned:
            hires.ask(
                shop, pen.by("OWN"), kit=kit.code, supplier="Loan", job="1003",
                expected=pen.now.replace(day=16),
            )  # fmt: skip
    places.look_over(shop, pen.by("B12"), code="3")
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="B12") as at:
        await at.keys("down", "down", "down", "c", "1")
        assert "1003 is on lift 3" in at.said
    assert kinds(shop, before) == ["placed"]
    assert job_card(shop, "1003", pen.now).unready == ()


async def test_a_job_gets_ready_and_comes_in_by_keys_alone(shop: Shop, pen: Pen) -> None:
    """Parts by one key each, the kit by the foreman, then a technician calls it in."""
    card = job_card(shop, "1003", pen.now)
    kits = [row for row, one in enumerate(card.tools, len(card.parts)) if not one.owned]
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("down", "down", "down", "down", "v", "3")
        await at.keys(*["h"] * len(card.parts))
        assert "parts: none lacks" in at.text
        for row in kits:
            await at.keys(
                *["up"] * 20, *["down"] * row, "o", "1", "Loan", "Enter",
                "3", *["backspace"] * 20, "fri", "Enter", "Enter",
            )  # fmt: skip
            if "PIN" in at.text:
                await at.keys(PIN, "Enter")
        assert "Parts and kits: ready to come in" in at.text
        await at.keys("Esc")
    async with terminal(shop, pen.now, first=FLOOR, badge="B12") as at:
        await at.keys("down", "down", "down", "c", "1")
        assert "1003 is on lift 3" in at.said
    assert job_card(shop, "1003", pen.now).unready == ()
    assert verify(shop.path).ok
