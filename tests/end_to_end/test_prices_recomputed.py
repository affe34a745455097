"""Prices and costs of the demo held against plain SQL and plain code over its printed ledger."""

from __future__ import annotations

import json
import shutil
import sqlite3
from collections import defaultdict
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import pytest

from store.actions import month_costs
from store.file.change import By
from store.file.shop import Shop
from store.file.verify import verify
from store.views.about import about
from store.views.month.page import month, months
from store.views.month.told_values import Prices, PriceWay
from tests.end_to_end.month_plain import Plain
from tests.end_to_end.shell import Shell

PIN = "2468"


@dataclass(frozen=True, slots=True)
class Read:
    """The last whole month of the demo, read by the page and by plain code."""

    path: Path
    plain: Plain
    prices: Prices
    attended: dict[str, float]
    until: str


@pytest.fixture(scope="module", name="read")
def read_fixture(taught_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Read:
    copy = tmp_path_factory.mktemp("prices") / "demo.shop"
    shutil.copyfile(taught_file, copy)
    with closing(Shop(copy)) as shop:
        made = about(shop).demo
        assert made is not None
        now = made.opens_at
        told = [one.month for one in months(shop, now)]
        whole = told[1]
        for at, wages in ((told[4], 15_000.0), (told[2], 16_000.0)):
            by = By("A01", "office", now, pin=PIN, key=f"{at}-costs-of-the-test")
            month_costs.set_costs(shop, by, month=at, wages=wages, overheads=6_001.5)
        found = month(shop, whole, now)
        attended = {
            one: month(shop, one, now).hours.attended.value or 0.0 for one in told[1:4]
        }  # fmt: skip
        assert verify(copy).ok
    ledger = Shell(copy).run("ledger", "--json")
    assert ledger.returncode == 0, ledger.stderr
    return Read(copy, Plain(ledger.stdout.splitlines()), found.prices, attended, whole)


def way(read: Read, hours: str) -> PriceWay:
    """One way at the rates of the days."""
    return next(one for one in read.prices.ways if one.hours == hours and one.rate is None)


ASKED = """
select job.job, job.basis, job.closed_at, coalesce(pays, '') as pays,
       content ->> '$.total.quantiles[9]' as middle,
       content ->> '$.total.quantiles[15]' as cautious,
       (select per_hour from rate where from_day <= date(estimate.at)
        order by from_day desc limit 1) as rate
from job join estimate on estimate.seq = agreed_seq left join comeback using (job)
where job.state = 'closed' and not small
"""
"""The cautious figure of the demo is the eighth tenth: quantile 15 of .05, .10 and so on."""


def asked(read: Read) -> list[sqlite3.Row]:
    """Jobs closed in the twelve months, by plain SQL."""
    with closing(sqlite3.connect(read.path)) as db:
        db.row_factory = sqlite3.Row
        return [
            row for row in db.execute(ASKED)
            if read.prices.since.isoformat()[:7]
            <= read.plain.month(datetime.fromisoformat(row["closed_at"])) <= read.until
        ]  # fmt: skip


def labour(read: Read) -> dict[str, float]:
    """Labour by job, by plain code over the ledger."""
    found: dict[str, float] = defaultdict(float)
    for (job, _), people in read.plain.labour.items():
        found[job] += sum(people.values())
    return found


def test_the_jobs_are_those_of_twelve_months(read: Read) -> None:
    rows = asked(read)
    assert len(rows) > 100
    assert {one.job for one in way(read, "as quoted").ways} == {row["job"] for row in rows}


def test_a_fixed_price_keeps_the_difference_and_time_keeps_none(read: Read) -> None:
    more = {one.job: one.value or 0.0 for one in way(read, "cautious").ways}
    seen = {"fixed price": 0, "time": 0, "ceiling": 0}
    for row in asked(read):
        asked_more = (row["cautious"] - row["middle"]) * row["rate"]
        found = more[row["job"]]
        seen[row["basis"]] += 1
        if row["pays"] == "shop" or row["basis"] == "time":
            assert found == 0
        elif row["basis"] == "fixed price":
            assert found == pytest.approx(asked_more, abs=0.05)
        else:
            assert -0.05 <= found <= asked_more + 0.05
    assert all(seen.values())
    assert way(read, "cautious").more == pytest.approx(sum(more.values()))


def test_time_fetches_its_hours_at_their_rate(read: Read) -> None:
    rate = {row["job"]: row["rate"] for row in asked(read)
            if row["basis"] == "time" and row["pays"] != "shop"}  # fmt: skip
    worked = labour(read)
    fetched = {one.job: one.value for one in way(read, "as quoted").ways}
    with closing(sqlite3.connect(read.path)) as db:
        rates = db.execute("select count(distinct per_hour) from rate").fetchone()[0]
    assert rate
    for job, per_hour in rate.items():
        if rates == 1:
            assert fetched[job] == pytest.approx(worked[job] * per_hour, abs=0.02), job


def test_what_a_month_cost_is_taken_over_and_divided_by_the_hours_attended(read: Read) -> None:
    costs = {one.month: one for one in read.prices.costs}
    with closing(sqlite3.connect(read.path)) as db:
        typed: dict[str, tuple[float, float]] = {
            json.loads(row[0])["month"]: (
                json.loads(row[0])["wages"], json.loads(row[0])["overheads"]
            )
            for row in db.execute(
                "select payload from ledger where kind = 'month-costs' order by seq"
            )
        }  # fmt: skip
    assert min(costs) == max(min(typed), read.prices.since.isoformat()[:7])
    for at, one in costs.items():
        last = max(each for each in typed if each <= at)
        assert (one.wages, one.overheads) == typed[last]
        assert one.taken_from == (None if last == at else last)
        if at in read.attended:
            assert one.attended_h == pytest.approx(read.attended[at], abs=0.01)
            assert one.per_hour == pytest.approx(sum(typed[last]) / read.attended[at], rel=1e-4)


def test_what_operations_fetched_is_all_that_was_paid(read: Read) -> None:
    worked, rows = labour(read), asked(read)
    hours: dict[str, float] = defaultdict(float)
    for row in rows:
        hours["+".join(read.plain.jobs[row["job"]].operations)] += worked[row["job"]]
    fetched = 0.0
    for one in read.prices.earned:
        assert one.labour_h == pytest.approx(hours[one.operation], abs=0.01), one.operation
        assert one.fetched_per_hour is not None
        fetched += one.fetched_per_hour * one.labour_h
    assert fetched == pytest.approx(way(read, "as quoted").sold)


def test_jobs_below_cost_and_what_is_kept_are_counted_from_the_same_jobs(read: Read) -> None:
    worked, quoted = labour(read), way(read, "as quoted")
    per_hour = {one.month: one.per_hour for one in read.prices.costs}
    closed = {row["job"]: read.plain.month(datetime.fromisoformat(row["closed_at"]))
              for row in asked(read)}  # fmt: skip
    kept, below, many = 0.0, 0, 0
    for one in quoted.ways:
        assert one.job is not None
        assert one.value is not None
        hour = per_hour.get(closed[one.job])
        if hour is not None:
            many += 1
            kept += one.value - worked[one.job] * hour
            below += one.value < worked[one.job] * hour
    assert quoted.below is not None
    assert (quoted.below.held, quoted.below.count) == (below, many)
    assert quoted.kept == pytest.approx(kept, abs=1.0)
