"""The customer and other firms, by keys alone: from a finding to the last word, and back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import books, clock, holding, jobs, phases
from store.edges.events.route import EstimateAgreed
from store.file.ledger import rows
from store.file.shop import Shop
from store.file.verify import verify
from store.views.job import job_card
from tests.store.actions.made import BOOK
from tests.store.made_calls import AWAY
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import PIN, Pen, founded, kinds, last
from tui.parts.where import Where
from tui.signs import ASCII, UNICODE

CARD = Where("job", "1001")
SIZES = [(80, 24), (120, 40), (200, 50)]


@pytest.fixture
def pen() -> Pen:
    return Pen()


@pytest.fixture
def shop(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    """A head is to go to a machine shop; nobody has begun."""
    made = founded(tmp_path / "outside.shop", pen)
    books.load_workbook(made, pen.by(), source=BOOK + AWAY)
    jobs.take(
        made, pen.by("F01"), operations=["MS"], family="B4-M-F", vehicle="truck, blue",
        basis="ceiling", ceiling=600,
    )  # fmt: skip
    yield made
    made.close()
    found = verify(tmp_path / "outside.shop")
    assert found.ok, found.says


def surprise(shop: Shop, pen: Pen, text: str = "stud broken", **more: float) -> None:
    holding.find(
        shop, pen.by("B12"), job="1001", phase="1", kind="surprise", text=text,
        hours=more.get("hours"), money=more.get("money"),
    )  # fmt: skip


def to_firm(shop: Shop, pen: Pen) -> None:
    for phase in ("1", "2"):
        clock.clock_on(shop, pen.by("B12"), job="1001", phase=phase)
        phases.finish(shop, pen.by("B12"), job="1001", phase=phase)


async def proven(at: Terminal, *keys: str) -> str:
    """Press keys, then the PIN where it is asked for."""
    text = await at.keys(*keys)
    return await at.keys(PIN, "Enter") if "PIN" in text else text


async def test_extra_work_from_the_first_call_to_the_last_line(shop: Shop, pen: Pen) -> None:
    surprise(shop, pen, hours=1.0)
    surprise(shop, pen, "two clips", money=30)
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="F01", size=(80, 40)) as at:
        assert "meanwhile: 2 head off may go on" in at.text
        text = await at.keys("c")
        assert "tried to reach the customer" in text
        await at.keys("Enter", "1", "nobody", "Enter", "+2", "Enter")
        assert "not reached" in at.said
        await at.keys("c", "2", "2", "asked to ring", "Enter", "Enter")
        assert "tried twice: " in at.text
        assert "text message, asked to ring" in at.text
        await at.keys("a", "3", "1", "1")
        await at.keys(PIN, "Enter") if "PIN" in at.text else None
        assert "How did the word come?" in at.text
        await at.keys("4", "Robin Invented", "Enter", "3")
        await at.keys("a", "2", "Esc")
        assert "two clips: +30" in at.text
    assert [one for one in kinds(shop, before) if one != "estimate-changed"] == [
        "call-tried", "call-tried", "supplement-answered", "customer-known",
        "customer-of-job", "answer-noted", "supplement-answered", "released",
    ]  # fmt: skip
    lines = job_card(shop, "1001", pen.now).supplements
    assert [(one.state, one.answered_by, one.means) for one in lines] == [
        ("approved", "Robin Invented", "in writing"), ("refused", None, "telephone"),
    ]  # fmt: skip


async def test_a_foreman_says_what_a_surprise_costs(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=CARD, badge="F01", size=(80, 40)) as at:
        await at.keys("g", "1", "1", "two clips", "Enter", "Enter")
        assert "money that is asked" in at.text
        await at.keys("30", "Enter")
        assert "two clips: +30" in at.text
    line = job_card(shop, "1001", pen.now).supplements[0]
    assert (line.hours, line.money, line.state) == (0.0, 30.0, "asked")


async def test_over_the_ceiling_the_new_one_is_asked_for_and_taken_back_whole(
    shop: Shop, pen: Pen
) -> None:
    surprise(shop, pen, hours=4.0)
    async with terminal(shop, pen.now, first=CARD, badge="F01", size=(80, 40)) as at:
        text = await at.keys("a", "1")
        assert "over the ceiling of 600" in text
        assert "is expected at the end" in text
        await at.keys("1,200", "Enter", "Enter")
        await proven(at, "1")
        assert "approved" in at.said
        assert "ceiling 1,200" in at.text
        await at.keys("u")
        assert job_card(shop, "1001", pen.now).supplements[0].state == "asked"
        money = job_card(shop, "1001", pen.now).money
        assert money is not None
        assert money.ceiling == 600


async def test_what_was_agreed_ahead_is_one_digit(shop: Shop, pen: Pen) -> None:
    with shop.reading() as db:
        agreed = next(row.event() for row in rows(db) if row.kind == "estimate-agreed")
    with shop.changing(pen.by("F01")) as change:
        terms = {**agreed.model_dump(), "free_hand": 100.0, "basis": "time", "ceiling": None}
        change.record(EstimateAgreed.model_validate(terms))
    surprise(shop, pen, money=60)
    async with terminal(shop, pen.now, first=CARD, badge="F01", size=(80, 40)) as at:
        assert "agreed ahead: 100 is left" in await at.keys("a")
        await proven(at, "4")
        assert "approved" in at.said
        surprise(shop, pen, "more", money=41)
        await at.look_again()
        assert "agreed ahead" not in (await at.keys("a")).split("what did the customer say?")[1]


async def test_a_head_goes_away_is_asked_after_and_comes_back(shop: Shop, pen: Pen) -> None:
    to_firm(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=CARD, badge="B12", size=(80, 40)) as at:
        await at.keys("o", "head to be refaced", "Enter", "Facing Works", "Enter")
        assert "nobody asks" in at.text
        await at.keys("3", "fri 16:00", "Enter", "4", "today", "Enter", "5", "210", "Enter")
        await at.keys("Enter")
        assert "is at Facing Works" in at.said
        assert "DUE" in at.text
        assert "ask Facing Works" in at.text
        await at.keys("o", "2", "one day later", "Enter", "Enter", "Enter")
        assert "says: one day later" in at.text
        assert "ask Facing Works" not in at.text
        await at.keys("o", "1", "ground twice", "Enter")
        assert "Head back: thick and flat enough" in at.text
        await at.keys("1", "121", "Enter", "120.5", "Enter")
        assert "What became of the head?" in at.text
        await at.keys("2", "230", "Enter")
        assert "finished" in at.said
        assert "exchange head built up" in at.text
    found = kinds(shop, before)
    assert found[:3] == ["outwork-sent", "outwork-chased", "outwork-back"]
    assert {"step-signed", "route-changed", "phase-finished"} <= set(found)
    money = job_card(shop, "1001", pen.now).money
    assert money is not None
    assert money.used.outwork == 230


async def test_a_report_without_figures_leaves_the_phase_open(shop: Shop, pen: Pen) -> None:
    to_firm(shop, pen)
    async with terminal(shop, pen.now, first=CARD, badge="B12", size=(80, 40)) as at:
        await at.keys("o", "head", "Enter", "F", "Enter", "Enter")
        await at.keys("o", "Enter", "Enter", "2", "z", "Enter")
        assert "not finished before" in at.said
        await at.keys("u")
        assert job_card(shop, "1001", pen.now).outwork[0].away


async def test_advice_gets_its_word(shop: Shop, pen: Pen) -> None:
    for text in ("hoses hard", "mounts soft"):
        holding.find(shop, pen.by("B12"), job="1001", phase="1", kind="advice", text=text)
    async with terminal(shop, pen.now, first=CARD, badge="F01", size=(80, 40)) as at:
        assert "Which advice?" in await at.keys("v")
        assert "Was the risk told?" in await at.keys("1", "1")
        await proven(at, "1", "Enter", "Enter")
        assert "declined" in at.said
        await at.keys("v", "2", "3", "0.5", "Enter", "Enter", "1")
        assert "agreed" in at.said
        await at.keys("v")
        assert "Was the risk told?" in await at.keys("2")
        await at.keys("Esc")
    card = job_card(shop, "1001", pen.now)
    assert [(one.answer, one.risk_told) for one in card.advice] == [
        ("declined", True), ("agreed", False),
    ]  # fmt: skip
    assert card.supplements[0].state == "approved"


async def test_nothing_to_send_and_nothing_advised_is_one_sentence(shop: Shop, pen: Pen) -> None:
    jobs.take_small(shop, pen.by("B12"), text="Bulb", vehicle="van")
    async with terminal(shop, pen.now, first=Where("job", "1002"), badge="F01") as at:
        await at.keys("o")
        assert "No phase of 1002 waits for another firm" in at.said
        await at.keys("v")
        assert "Nothing was advised on 1002" in at.said


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("ascii_", [False, True])
async def test_every_form_fits_every_size(
    shop: Shop, pen: Pen, size: tuple[int, int], ascii_: bool
) -> None:
    to_firm(shop, pen)
    surprise_now = "a stud that broke off below the face and wants drilling, with a long story"
    holding.find(
        shop, pen.by("B12"), job="1001", phase="4", kind="surprise", text=surprise_now, hours=1.5
    )
    signs = ASCII if ascii_ else UNICODE
    async with terminal(shop, pen.now, first=CARD, badge="F01", size=size, signs=signs) as at:
        for keys in (
            ("c",),
            ("Esc", "o"),
            ("what goes", "Enter", "to whom", "Enter"),
            ("Esc", "a"),
        ):
            await at.keys(*keys)
            assert len(at.lines) == size[1]
            assert {len(line) for line in at.lines} == {size[0]}
