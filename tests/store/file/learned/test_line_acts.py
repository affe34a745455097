"""The other order of the line as an act: only where a promise is at risk, and for whom it moves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from store.actions import holding, jobs
from store.actions.lining_up import put_in_line
from store.file.learned.as_if import as_if
from store.file.learned.due import LIVE, due
from store.file.learned.help_values import LEAST_GAIN
from store.file.learned.moment import moment
from store.file.learned.own import VERSIONS
from store.rules.acts import Act
from store.sums import moving
from store.views.needs import needs
from tests.store.actions.made import World
from tests.store.made_acts import acts, learner, outlook, told_line_shop


@pytest.fixture(name="told")
def told_fixture(tmp_path: Path) -> Iterator[World]:
    """1004 and 1005 wait; the second is promised and at risk."""
    made = told_line_shop(tmp_path)
    yield made
    made.shop.close()


def of_the_line(world: World) -> list[str]:
    """The jobs that could come in before the one ahead of them."""
    return [f"{one.job} {one.line}" for one in acts(world) if one.kind == "line"]


def promise(world: World, job: str, hour: int, day: int) -> None:
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(hour, day=day))


def test_only_a_promise_at_risk_asks_for_another_order(told: World) -> None:
    assert of_the_line(told) == ["1005 1004"]
    promise(told, "1005", 12, 150)
    assert of_the_line(told) == [], "a promise that is as good as kept wants no other order"
    promise(told, "1004", 12, 1)
    assert of_the_line(told) == [], "whoever is first comes in no earlier"


def test_whoever_could_not_come_in_earlier_is_left_where_they_are(told: World) -> None:
    holding.hold(told.shop, told.by("T1"), job="1005", phase=None, reason="parts", text="hose")
    assert of_the_line(told) == []
    holding.release(told.shop, told.by("T1"), job="1005")
    assert of_the_line(told) == ["1005 1004"]


def test_of_many_that_wait_few_are_looked_at(told: World) -> None:
    for _ in range(12):
        job = told.take("WP", None)
        promise(told, job, 12, 1)
    learner(told).keep_up()
    assert of_the_line(told) == [f"{1004 + n} {1003 + n}" for n in range(1, 7)]


def test_it_is_among_the_needs_only_where_it_is_worth_a_line(told: World) -> None:
    found = [one for one in needs(told.shop, told.now).needs if one.act.kind == "line"]
    assert [one.act.job for one in found] == ["1005"]
    assert (found[0].gain or 0.0) >= LEAST_GAIN
    promise(told, "1005", 10, 0)
    learner(told).keep_up()
    assert of_the_line(told) == ["1005 1004"], "late it is in any order"
    assert [one for one in needs(told.shop, told.now).needs if one.act.kind == "line"] == []


def test_those_that_were_passed_are_forecast_anew_with_the_one_that_was_put(told: World) -> None:
    late = told.take("WP", None)
    learner(told).keep_up()
    put_in_line(told.shop, told.by("FOR"), job=late, before="1004")
    with told.shop.reading() as db:
        assert due(db, VERSIONS, told.now).concerned == ("1004", "1005", late)
    learner(told).keep_up()
    put_in_line(told.shop, told.by("FOR"), job="1005", before="1004")
    with told.shop.reading() as db:
        assert due(db, VERSIONS, told.now).concerned == ("1004", "1005"), "the first stays first"


def test_kept_forecasts_after_it_are_those_of_the_new_order(told: World) -> None:
    put_in_line(told.shop, told.by("FOR"), job="1005", before="1004")
    learner(told).keep_up()
    fresh = outlook(told).before
    with told.shop.reading() as db:
        kept = moment(db, [row[0] for row in db.execute(LIVE)], told.now).kept
    for job in ("1004", "1005"):
        finish = kept[job].finish
        assert finish is not None
        assert moving.quantile(finish.quantiles, 0.5) == pytest.approx(
            moving.quantile(fresh[job].quantiles, 0.5), rel=1e-3
        )


def test_an_order_that_cannot_be_changes_nothing(told: World) -> None:
    """The job behind came in, or is ahead, by the time that somebody asks."""
    act = next(one for one in acts(told) if one.kind == "line")
    with told.shop.reading() as db:
        here = moment(db, [row[0] for row in db.execute(LIVE)], told.now)
    assert as_if(here, act) is not None
    for job, other in (("1004", "1005"), ("1005", "1001"), ("1001", "1005"), ("1005", "999")):
        assert as_if(here, _of(act, job, other)) is None


def _of(act: Act, job: str, other: str) -> Act:

    return replace(act, job=job, line=other)
