"""The demo shop: the same for the same seed, true to its ledger, believable, alive this morning."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import timedelta
from functools import partial
from pathlib import Path

import pytest

from demo.making import OPENS_AT, first_day, make_demo
from demo.people import PIN
from store.actions import clock, steps
from store.actions.trouble import WrongPin
from store.edges.instants import to_text
from store.file.shop import By, Shop
from store.file.verify import verify
from store.views.floor import floor
from tests.bench.demo_rates import Rate, Rates, rates, table


def last_hash(shop: Shop) -> str:
    with shop.reading() as db:
        found: str = db.execute("select hash from ledger order by seq desc limit 1").fetchone()[0]
    shop.close()
    return found


def opened(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"file:{path}?mode=ro", uri=True)


def test_the_same_seed_and_months_give_the_same_ledger(tmp_path: Path) -> None:
    first = last_hash(make_demo(tmp_path / "1", seed=3, months=1))
    assert last_hash(make_demo(tmp_path / "2", seed=3, months=1)) == first
    assert last_hash(make_demo(tmp_path / "3", seed=4, months=1)) != first


@pytest.mark.parametrize("months", [0, 61])
def test_months_that_cannot_be_are_refused(tmp_path: Path, months: int) -> None:
    with pytest.raises(ValueError, match="months"):
        make_demo(tmp_path / "demo.shop", months=months)
    assert not (tmp_path / "demo.shop").exists()


def test_the_past_begins_so_many_months_ago() -> None:
    assert [first_day(months).isoformat() for months in (1, 10, 18)] == [
        "2026-09-14", "2025-12-14", "2025-04-14",
    ]  # fmt: skip


@pytest.mark.parametrize("seed", [2, 5, 8])
def test_any_seed_ends_with_every_lift_taken(tmp_path: Path, seed: int) -> None:
    shop = make_demo(tmp_path / "demo.shop", seed=seed, months=1)
    lanes = floor(shop, OPENS_AT).lanes
    assert [lane.job is not None for lane in lanes] == [True] * 5
    shop.close()


def test_its_ledger_replays_to_the_same_tables(demo_file: Path) -> None:
    verdict = verify(demo_file)
    assert verdict.ok, verdict.says
    assert verdict.events > 35_000


def test_its_rates_are_those_of_workshops(demo_file: Path) -> None:
    with closing(opened(demo_file)) as db:
        found = rates(db)
    outside = [one.name for one in found if not one.believable]
    assert not outside, table(found)


def test_the_table_of_rates_marks_what_is_outside() -> None:
    text = table([Rate("held", 33.0, 24, 45, "33"), Rate("worked", 90.0, 27, 48, "38")])
    assert "outside" not in text.splitlines()[1]
    assert "outside its bounds" in text.splitlines()[2]


def test_some_350_deep_jobs_are_closed(demo_file: Path) -> None:
    with closing(opened(demo_file)) as db:
        assert 310 <= len(Rates(db).deep) <= 390


def test_nobody_has_two_clocks_at_once(demo_file: Path) -> None:
    with closing(opened(demo_file)) as db:
        assert Rates(db).overlapping() == 0


def test_its_events_stand_in_the_order_of_time_and_none_after_this_morning(
    demo_file: Path,
) -> None:
    with closing(opened(demo_file)) as db:
        stamps = [row[0] for row in db.execute("select recorded_at from ledger order by seq")]
        back = db.execute("select count(*) from ledger where stepped_back > 0").fetchone()[0]
    assert stamps == sorted(stamps)
    assert stamps[-1] <= to_text(OPENS_AT)
    assert back == 0


def test_true_hours_are_not_the_book_s(demo_file: Path) -> None:
    """Rust hits the strip: the same phases take longer on grade 3 than on grade 2."""
    by_grade: dict[int, float] = {}
    with closing(opened(demo_file)) as db:
        for grade, ratio in db.execute(
            "select grade, sum(hours) / sum(book_h) from (select job.grade, phase.book_h, "
            "sum(julianday(until) - julianday(since)) * 24 as hours from phase join job "
            "using (job) join clock using (job, phase) where class = 'strip' and small = 0 and "
            "part != 'learner' and phase.state = 'finished' and until is not null "
            "and substr(since, 1, 10) = substr(until, 1, 10) group by job.job, phase.phase) "
            "group by grade"
        ):
            by_grade[grade] = ratio
    assert by_grade[3] / by_grade[2] > 1.2
    assert by_grade[1] < by_grade[2]


def test_every_lift_is_in_another_state_this_morning(demo_shop: Shop) -> None:
    now = floor(demo_shop, OPENS_AT)
    jobs = [lane.job for lane in now.lanes]
    flags = [set(job.flags) if job else set[str]() for job in jobs]
    assert "supplement-asked" in flags[1]
    assert jobs[1] is not None
    assert jobs[1].held == "approval"
    assert "over-estimate" in flags[2]
    assert jobs[2] is not None
    assert jobs[2].phase is not None
    assert len(jobs[2].phase.people) == 2
    assert jobs[3] is not None
    assert jobs[3].hold is not None
    assert jobs[3].hold.reason == "parts"
    assert "signature-wanted" in flags[4]
    assert not flags[0] & {"held", "over-estimate", "signature-wanted", "supplement-asked"}
    assert jobs[0] is not None
    assert jobs[0].phase is not None
    assert len(jobs[0].phase.people) == 1


def test_jobs_wait_two_are_elsewhere_and_a_clock_was_left_running(demo_shop: Shop) -> None:
    now = floor(demo_shop, OPENS_AT)
    assert len(now.waiting) in (2, 3)
    assert len(now.elsewhere) == 2
    assert sum("left-running" in one.flags for one in now.elsewhere) == 1
    families = {lane.job.family for lane in now.lanes if lane.job}
    assert any(family.startswith("H") for family in families)


def test_every_pin_is_2468(demo_shop: Shop) -> None:
    """The signature that is wanted: with the PIN it is given, with another one refused."""
    wanted = next(lane.job for lane in floor(demo_shop, OPENS_AT).lanes if lane.lift == "5")
    assert wanted is not None
    assert wanted.phase is not None
    sign = partial(steps.sign, job=wanted.number, phase=wanted.phase.number, step="2")
    later = OPENS_AT + timedelta(minutes=1)
    with pytest.raises(WrongPin):
        sign(demo_shop, By("A02", "office", later, pin="1111"))
    done = sign(demo_shop, By("A02", "office", later, pin=PIN))
    assert "signed by Joost" in done.says


def test_whoever_left_a_clock_running_is_asked_first(demo_shop: Shop) -> None:
    with pytest.raises(clock.LeftRunning, match="left running"):
        clock.clock_off(demo_shop, By("B21", "bay-1", OPENS_AT + timedelta(minutes=1)))
