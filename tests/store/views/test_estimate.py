"""What an estimate says of what may change it: each figure is what one gets by asking for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import jobs
from store.actions.agreeing import worked_out
from store.file.shop import Shop
from store.sums import moving
from store.trouble import Refused
from store.views.book import book_now
from store.views.counter import counter, in_words
from store.views.estimate import Depth, Estimate, estimate
from store.views.ledger import ledger
from tests.tui.shops import Pen, founded
from tests.tui.taught import FAMILY, taught


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    shop = taught(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


def ask(
    shop: Shop, pen: Pen, *work: str, depth: Depth = "whole",
    options: Mapping[str, str] | None = None,
) -> Estimate:  # fmt: skip
    return estimate(shop, pen.now, operations=work, family=FAMILY, options=options, depth=depth)


def test_less_depth_says_less_and_nothing_else(shop: Shop, pen: Pen) -> None:
    whole = ask(shop, pen, "CL", "RS")
    dates = ask(shop, pen, "CL", "RS", depth="dates")
    hours = ask(shop, pen, "CL", "RS", depth="hours")
    assert replace(whole, forks=(), unknown=(), extras=()) == dates
    assert replace(dates, promise=(), finish_h=(), kits=hours.kits) == hours
    assert [(one.kit, one.phases) for one in dates.kits] == [
        (one.kit, one.phases) for one in hours.kits
    ]
    book = ask(shop, pen, "CL", "RS", depth="book")
    assert book.says == "book"
    assert [one.book_h for one in book.route] == [one.figures.middle for one in book.route]


def test_each_answer_is_what_is_estimated_once_it_is_known(shop: Shop, pen: Pen) -> None:
    found = ask(shop, pen, "CL", "RS")
    asked = 0
    for line in (*found.forks, *found.unknown):
        for way in line.ways:
            if way.sets and not way.ends:
                known = ask(shop, pen, "CL", "RS", options=dict(way.sets))
                assert known.total == way.total
                assert known.promise == way.finish
                asked += 1
    assert asked >= 4, "a decision and an unknown option with two ways each"


def test_odds_of_a_decision_sum_to_one_and_nobody_knows_those_of_an_option(
    shop: Shop, pen: Pen
) -> None:
    found = ask(shop, pen, "CL", "RS")
    for line in found.forks:
        assert sum(way.odds or 0.0 for way in line.ways) == pytest.approx(1)
        assert line.phase is not None
    assert found.unknown
    assert all(way.odds is None for line in found.unknown for way in line.ways)
    for line in (*found.forks, *found.unknown):
        assert any(way.planned for way in line.ways)
        assert all(way.total == found.total for way in line.ways if way.planned)


def test_what_is_named_is_no_question_any_more(shop: Shop, pen: Pen) -> None:
    found = ask(
        shop, pen, "CL", "RS", options={"seal": "large", "clutch": "plain", "seat": "sound"}
    )
    assert found.unknown == ()
    assert all("crank: seal alone" not in line.text for line in found.forks)


def test_a_check_that_fails_says_what_is_spent_by_then(shop: Shop, pen: Pen) -> None:
    found = ask(shop, pen, "CL")
    ends = [way for line in found.forks for way in line.ways if way.ends]
    assert ends
    for way in ends:
        assert 0 < way.total.middle < found.total.middle
        assert way.less
        assert way.finish[0] <= found.promise[0]


def test_extras_are_differences_of_estimates(shop: Shop, pen: Pen) -> None:
    found = ask(shop, pen, "CL")
    sold = [one for one in found.extras if one.operation]
    assert [one.operation for one in sold] == ["RS", "TC"], "TC was taken for this family"
    for one in sold:
        assert one.operation is not None
        both, alone = ask(shop, pen, "CL", one.operation), ask(shop, pen, one.operation)
        assert one.adds_h == pytest.approx(both.total.middle - found.total.middle)
        assert one.alone_h == pytest.approx(alone.total.middle)
    assert sold[0].odds == pytest.approx(0.25), "the work book says 1 in 4"
    assert sold[1].odds is None
    small = [one for one in found.extras if one.operation is None]
    assert {one.text for one in small} >= {"gearbox input seal", "selector bushes"}
    assert all(one.alone_h > one.adds_h > 0 for one in small)


def test_small_work_alone_later_pays_the_way_in_and_out_again(shop: Shop, pen: Pen) -> None:
    found = ask(shop, pen, "CL")
    bushes = next(one for one in found.extras if one.text == "selector bushes")
    paid = ("G0", "GB-off", "FW-off", "FW-on", "GB-on", "ZR")
    phases = [one.figures for one in found.route if one.code in paid]
    way = bushes.alone_h - bushes.adds_h
    assert sum(one.middle for one in phases) <= way <= sum(one.mean for one in phases)


def test_what_the_work_includes_is_no_extra(shop: Shop, pen: Pen) -> None:
    texts = {one.text for one in ask(shop, pen, "CL", "RS").extras}
    assert "rear main seal" not in texts
    assert "clutch and flywheel" not in texts


def test_a_day_gets_the_chance_that_the_dates_say(shop: Shop, pen: Pen) -> None:
    found = ask(shop, pen, "CL")
    before = 0.0
    for level, at in found.promise:
        said = estimate(shop, pen.now, operations=["CL"], family=FAMILY, by=at).by
        assert said is not None
        assert said[0] == at
        assert said[1] is not None
        assert said[1] >= level - 1e-4, "the next full quarter of an hour is no sooner"
        assert said[1] >= before
        before = said[1]
    hours = counter(shop, pen.now).calendar.working_h(pen.now, found.promise[0][1])
    assert moving.chance(found.finish_h, hours) == pytest.approx(0.5, abs=0.03)


def test_where_nothing_was_learned_no_day_has_a_chance(tmp_path: Path, pen: Pen) -> None:
    shop = founded(tmp_path / "new.shop", pen)
    try:
        day = pen.now + timedelta(days=3)
        found = estimate(shop, pen.now, operations=["CL"], family=FAMILY, by=day)
        assert found.by == (day, None)
        assert found.promise == ()
        assert found.finish_h == ()
        assert all(way.finish == () for line in found.forks for way in line.ways)
    finally:
        shop.close()


def test_what_was_told_is_what_is_frozen(shop: Shop, pen: Pen) -> None:
    told = worked_out(shop, pen.now, operations=["CL"], family=FAMILY, options={}, grade=2)
    assert told is not None
    said = replace(told, hours=replace(told.hours, says="as it was said"))
    for options, expected in (({}, "as it was said"), ({"clutch": "self-adjusting"}, None)):
        done = jobs.take(
            shop, pen.by("F01"), operations=["CL"], family=FAMILY, vehicle="van",
            options=options, told=said, promise=pen.now + timedelta(days=4), chance=0.8,
        )  # fmt: skip
        agreed = next(
            one
            for one in ledger(shop)
            if one.kind == "estimate-agreed" and one.payload["job"] == done.job
        )
        assert (agreed.payload["says"] == expected) == (expected is not None)
    promised = [one.payload for one in ledger(shop) if one.kind == "promised"]
    assert [one.get("chance") for one in promised[-2:]] == [0.8, 0.8]


def test_the_counter_knows_families_vehicles_and_lifts(shop: Shop, pen: Pen) -> None:
    here = counter(shop, pen.now)
    assert here.families[0].key == FAMILY
    assert here.families[0].words == "petrol four, manual, front driven"
    assert here.families[0].jobs == 14, "12 imported and 2 of its own"
    assert [one.label for one in here.vehicles] == ["farm pick-up", "estate, grey",
                                                    "panel van, long"]  # fmt: skip
    assert {one.code: one.job for one in here.lifts} == {"1": "1001", "2": "1002", "3": None}
    assert here.waiting == 1
    assert counter(shop, pen.now) == here
    assert in_words(book_now(shop, pen.now).book, "X9-M-F") == "X9, manual, front driven"
    assert in_words(None, FAMILY) == ""


def test_work_that_cannot_be_is_refused_at_any_depth(shop: Shop, pen: Pen) -> None:
    for depth in ("book", "hours", "whole"):
        with pytest.raises(Refused, match="no operation"):
            ask(shop, pen, "XX", depth=depth)
