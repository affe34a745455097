"""Erasing a customer by keys, and what became of quotes."""

from __future__ import annotations

from datetime import timedelta

from store.actions.desk import acts as desk
from store.file.shop import Shop
from store.file.verify import verify
from tests.tui.desk.ready import JOB, OWNER, called, quoted
from tests.tui.driver import terminal
from tests.tui.shops import PIN, Pen, kinds, last
from tui.parts.where import DESK


async def test_a_customer_is_erased_after_one_question_and_the_ledger_verifies(
    shop: Shop, pen: Pen
) -> None:
    called(shop, pen)
    desk.decline(shop, pen.by("F01"), job=JOB, why="too dear", said_by="customer", means="letter")
    before = last(shop)
    async with terminal(shop, pen.now + timedelta(minutes=5), first=DESK, badge="F01") as at:
        text = await at.keys("F9", "erases customer", "Enter", JOB, "Enter")
        assert f"Erase {OWNER[0]}?" in text
        assert "A backup made before still holds them." in text
        await at.keys("Esc")
        assert kinds(shop, before) == []
        await at.keys("F9", "erases customer", "Enter", JOB, "Enter", "Enter", PIN, "Enter")
        assert not at.said.startswith("!"), at.said
    assert kinds(shop, before) == ["customer-erased"]
    for beside in shop.path.parent.glob(f"{shop.path.name}*"):
        assert OWNER[0].encode() not in beside.read_bytes(), beside.name
    assert verify(shop.path).ok


async def test_a_customer_with_an_open_job_is_kept_and_it_is_named(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now + timedelta(minutes=5), first=DESK, badge="F01") as at:
        await at.keys("F9", "erases customer", "Enter", JOB, "Enter", "Enter", PIN, "Enter")
        assert at.said.startswith(f"! {JOB} of this customer is still open")
    assert kinds(shop, before) == []


async def test_a_technician_is_not_offered_to_erase_anybody(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=DESK, badge="B12") as at:
        assert "No action is called so" in await at.keys("F9", "erases customer")


async def test_what_became_of_quotes_is_a_page(shop: Shop, pen: Pen) -> None:
    quoted(shop, pen)
    async with terminal(shop, pen.now + timedelta(minutes=5), first=DESK, badge="F01") as at:
        text = await at.keys("F9", "quotes became", "Enter")
        assert "QUOTES AND WHAT BECAME OF THEM" in text.upper()
        assert "1 job quoted, 0 agreed" in text
