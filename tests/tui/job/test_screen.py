"""The job card by keys: steps, phases, promise, closing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import holding
from store.file.shop import Shop
from store.views.job import job_card
from store.views.ledger import ledger
from tests.tui.driver import terminal
from tests.tui.shops import PIN, Pen, first_steps, worked_on
from tui.parts.where import Where

CARD = Where("job", "1001")


@pytest.fixture
def pen() -> Pen:
    return Pen()


@pytest.fixture
def shop(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    made = worked_on(tmp_path / "made.shop", pen)
    yield made
    made.close()


def kinds(shop: Shop, since: int) -> list[str]:
    return [line.kind for line in ledger(shop) if line.seq > since]


def last(shop: Shop) -> int:
    return max(line.seq for line in ledger(shop))


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


async def test_closing_is_asked_once_and_names_all_that_is_open(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="F01") as at:
        text = await at.keys("x")
        assert "Enter close 1001   Esc keep it open" in text
        await at.keys("Esc")
        assert last(shop) == before
        await at.keys("x", "Enter", PIN, "Enter")
        assert "1001 cannot be closed" in at.said
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
    assert (noted["by"], noted["means"]) == ("the owner", "in writing")
