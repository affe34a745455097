"""The estimate sheet as the customer reads it: no inside figures, both prices of a fork."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from store.actions.desk import acts as desk
from store.file.shop import Shop
from store.views.estimate_sheet import EstimateSheet, estimate_sheet
from tests.tui.shops import Pen, founded
from tui.papers.sheet import sheet_paper
from tui.papers.text import text_of


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Shop:
    return founded(tmp_path / "made.shop", pen)


def _enquiry(shop: Shop, pen: Pen) -> str:
    return desk.enquire(
        shop, pen.by("F01"), vehicle="tall van", complaint="rattles when cold",
        customer=("Kim Invented", "0123 456"), operations=["TC"], family="D4-M-F",
    ).job or ""  # fmt: skip


def _text(found: EstimateSheet) -> str:
    return " ".join("\n".join(text_of(sheet_paper(found), 110)).split())


def test_neighbouring_work_is_cheaper_now_than_alone_later(shop: Shop, pen: Pen) -> None:
    found = estimate_sheet(shop, _enquiry(shop, pen), pen.now)
    assert len(found.extras) >= 3
    for one in found.extras:
        assert one.now is not None
        assert one.later is not None
        assert one.now < one.later, one
    assert "Worth doing while it is open".upper() in _text(found)


def test_every_way_that_the_work_may_take_has_its_own_price(shop: Shop, pen: Pen) -> None:
    job = _enquiry(shop, pen)
    rough = estimate_sheet(shop, job, pen.now)
    assert "ROUGH ESTIMATE" in _text(rough)
    assert sum(one.planned for one in rough.ways) == 1
    priced = [one for one in rough.ways if one.low is not None]
    assert len(priced) >= 2
    desk.arrive(shop, pen.by("F01"), job=job)
    desk.quote(shop, pen.by("F01"), job=job, basis="fixed price", means="in person")
    quoted = estimate_sheet(shop, job, pen.now)
    prices = [one.price for one in quoted.ways if one.price is not None]
    assert len(prices) >= 2
    assert len(set(prices)) == len(prices)
    text = _text(quoted)
    for price in prices:
        assert f"{price:,.2f} EUR" in text
    assert "fixed price. The price stands" in text


def test_no_inside_figure_is_told(shop: Shop, pen: Pen) -> None:
    job = _enquiry(shop, pen)
    desk.quote(shop, pen.by("F01"), job=job, basis="time", means="in person")
    for names in (True, False):
        found = estimate_sheet(shop, job, pen.now, names=names)
        text = _text(found)
        assert not re.search(r"\d h\b|hours|per hour|chance|in 10|quantile|cautious", text), text
        assert ("Kim Invented" in text) is names
        assert "0123" not in text
