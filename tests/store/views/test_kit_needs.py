"""Who wants which kit when: by the work book at first, then by the forecast, moved to now."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from store.actions import jobs
from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.verify import verify
from store.sums.working_time import Calendar
from store.views.tools.kit_needs import JobNeed
from tests.store.actions.made import World
from tests.store.made_kits import (
    SLOWER,
    ends,
    kit_shop,
    middle,
    needs,
    starts,
    take,
    turns,
)


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    with kit_shop(tmp_path) as made:
        yield made


def calendar(world: World) -> Calendar:
    with world.shop.reading() as db:
        return calendar_of(db)


def one(world: World, kit: str, *phases: str) -> JobNeed:
    """The need of the stretch with these phases."""
    return next(need for need in needs(world)[kit] if need.phases == phases)


def opened(world: World, job: str) -> None:
    """The first phase done, the answer that the work is deep."""
    world.on("T1", job, "1")
    world.sign("T1", job, "DEEP", answer="yes")
    world.finish("T1", job, "1")


def spread_h(world: World, need: JobNeed) -> float:
    """Open hours from the earliest end in ten to the latest."""
    each = sorted(ends(need))
    low, high = each[len(each) // 10], each[9 * len(each) // 10]
    return calendar(world).working_h(low, high)


def test_before_anything_is_forecast_the_work_book_says_it(world: World) -> None:
    job = take(world)
    link = one(world, "link", "2", "3")
    assert (link.job, link.lift, link.begun, link.captive) == (job, None, False, False)
    assert link.made_at is None
    assert link.needed == 1.0
    assert middle(starts(link)) == pytest.approx(
        calendar(world).after(world.now, 4.0), abs=timedelta(minutes=10)
    )
    assert middle(ends(link)) == pytest.approx(
        calendar(world).after(world.now, 12.0), abs=timedelta(minutes=20)
    )
    assert [need.phases for need in needs(world)["link"]] == [("2", "3"), ("7",)]
    assert one(world, "lock", "2", "3", "4").captive


def test_standing_goes_on_over_night_by_the_book_too(world: World) -> None:
    """14 hours of work, 12 by the clock on the wall, another two of work."""
    take(world)
    hours = calendar(world)
    dry = hours.after(world.now, 14.0) + timedelta(hours=12)
    found = hours.working_h(world.now, middle(starts(one(world, "link", "7"))))
    assert found == pytest.approx(hours.working_h(world.now, dry) + 2, abs=0.3)


def test_the_forecast_says_it_as_soon_as_it_is_made(world: World) -> None:
    take(world)
    turns(world).keep_up()
    for kit in ("link", "lock", "gauge"):
        for need in needs(world)[kit]:
            assert need.made_at == world.now
            assert len(need.draws) == len(need.finishes) == 200
            assert all(since <= until <= finish for (since, until), finish
                       in zip(need.draws, need.finishes, strict=True))  # fmt: skip
            assert all(since >= world.now for since, _ in need.draws)
    assert middle(ends(one(world, "link", "2", "3"))) > calendar(world).after(world.now, 12.0)
    assert verify(world.shop.path).ok


def test_what_an_open_answer_may_take_out_is_needed_by_its_odds(world: World) -> None:
    take(world)
    turns(world).keep_up()
    gauge = one(world, "gauge", "6")
    assert gauge.needed == pytest.approx(0.7, abs=0.01)
    assert one(world, "link", "7").needed == 1.0


def test_stretches_of_one_job_go_together(world: World) -> None:
    """The same draws: a kit is never wanted before the phases that come first are through."""
    take(world)
    turns(world).keep_up()
    lock, first, last = (
        one(world, "lock", "2", "3", "4"), one(world, "link", "2", "3"), one(world, "link", "7")
    )  # fmt: skip
    for (since, until), (_, link_until), (back, _) in zip(
        lock.draws, first.draws, last.draws, strict=True
    ):
        assert since <= link_until <= until <= back


def test_a_kit_in_use_is_wanted_since_it_was_begun_and_until_later_than_now(world: World) -> None:
    job = take(world)
    opened(world, job)
    world.on("T1", job, "2")
    began = world.now
    turns(world).keep_up()
    world.now += timedelta(hours=30)
    link = one(world, "link", "2", "3")
    assert link.begun
    assert {since for since, _ in link.draws} == {began}
    assert min(until for _, until in link.draws) > world.now
    assert link.made_at is not None
    assert link.made_at < world.now


def test_a_job_far_later_than_its_forecast_is_never_nearly_done_for_ever(world: World) -> None:
    job = take(world)
    opened(world, job)
    world.on("T1", job, "2")
    turns(world).keep_up()
    fresh = spread_h(world, one(world, "link", "2", "3"))
    world.now += timedelta(days=120)
    late = one(world, "link", "2", "3")
    assert min(until for _, until in late.draws) > world.now
    assert spread_h(world, late) > 0.3 * fresh
    assert all(until <= finish
               for (_, until), finish in zip(late.draws, late.finishes, strict=True))  # fmt: skip


def test_moved_to_later_it_says_what_is_said_when_it_is_made_anew(world: World) -> None:
    """Two hours on, with somebody at work all the time; what was made anew knows that too."""
    job = take(world)
    opened(world, job)
    world.on("T1", job, "2")
    turns(world).keep_up()
    world.now += timedelta(hours=1)
    moved = one(world, "link", "2", "3")
    with world.shop.beside() as db:
        db.execute("delete from learned_forecast")
    turns(world).keep_up()
    anew = one(world, "link", "2", "3")
    assert anew.made_at != moved.made_at
    hours = [calendar(world).working_h(world.now, middle(ends(need))) for need in (moved, anew)]
    assert hours[0] == pytest.approx(hours[1], rel=0.25)
    assert spread_h(world, moved) == pytest.approx(spread_h(world, anew), rel=0.35)


def test_a_slower_phase_puts_off_the_end_and_what_comes_after_it(tmp_path: Path) -> None:
    def ends_h(folder: str, book: str | None) -> tuple[float, float]:
        (tmp_path / folder).mkdir()
        with kit_shop(tmp_path / folder, *([book] if book else [])) as world:
            take(world)
            turns(world).keep_up()
            link, back = one(world, "link", "2", "3"), one(world, "link", "7")
            hours = calendar(world)
            return (hours.working_h(world.now, middle(ends(link))),
                    hours.working_h(world.now, middle(starts(back))))  # fmt: skip

    usual, slower = ends_h("usual", None), ends_h("slower", SLOWER)
    assert slower[0] > usual[0] + 12
    assert slower[1] > usual[1] + 12


def test_the_chance_that_it_is_still_needed_only_falls_once_it_is_in_use(world: World) -> None:
    job = take(world)
    opened(world, job)
    world.on("T1", job, "2")
    turns(world).keep_up()
    until = ends(one(world, "link", "2", "3"))
    chances = [
        sum(end > world.now + timedelta(days=day) for end in until) / len(until)
        for day in range(30)
    ]
    assert chances[0] == 1.0
    assert all(before >= later for before, later in pairwise(chances))
    assert chances[-1] < 0.3


def test_a_route_that_changed_since_is_told_by_the_book_until_it_is_forecast(world: World) -> None:
    job = take(world)
    turns(world).keep_up()
    opened(world, job)
    world.on("T1", job, "2")
    with world.shop.beside() as db:
        db.execute('update learned_need set content = replace(content, \'["2","3"]\', \'["2"]\')')
    assert one(world, "link", "2", "3").made_at is None
    assert one(world, "link", "7").made_at is not None


TORN = (
    "", "{", "null", "[]", '{"f":[1],"w":[]}', '{"f":[1],"w":[{"p":["6"],"s":[2],"e":[1]}]}',
    '{"f":[1],"w":[{"p":["6"],"s":["x"],"e":[1]}]}', '{"f":[],"w":[{"p":["6"],"s":[],"e":[]}]}',
    '{"f":[1],"w":[{"p":["6"],"s":[1,1],"e":[2,2]}]}', '{"f":[1e999],"w":[]}',
)  # fmt: skip


@pytest.mark.parametrize("content", TORN)
def test_what_cannot_be_read_is_as_never_made(world: World, content: str) -> None:
    take(world)
    turns(world).keep_up()
    with world.shop.beside() as db:
        db.execute("update learned_need set content = ? where kit = 'gauge'", [content])
    assert one(world, "gauge", "6").made_at is None
    assert one(world, "link", "7").made_at is not None
    assert verify(world.shop.path).ok


def test_a_lost_table_is_as_nothing_made_and_is_made_again(world: World) -> None:
    job = take(world)
    turns(world).keep_up()
    with world.shop.beside() as db:
        db.execute("drop table learned_need")
    assert one(world, "gauge", "6").made_at is None
    world.on("T1", job, "1")
    turns(world).keep_up()
    assert one(world, "gauge", "6").made_at == world.now


def test_a_closed_job_leaves_nothing_behind(world: World) -> None:
    job, other = take(world), take(world)
    turns(world).keep_up()
    kept = "select distinct job from learned_need order by job"
    assert world.all(kept) == [(job,), (other,)]
    opened(world, job)
    for phase in ("2", "3", "4", "5", "6", "7"):
        if phase != "5":
            world.on("T1", job, phase)
        world.finish("T1", job, phase)
    jobs.close(world.shop, world.by("FOR"), job=job)
    turns(world).keep_up()
    assert world.all(kept) == [(other,)]


def test_what_is_kept_is_whole_and_short(world: World) -> None:
    take(world)
    turns(world).keep_up()
    rows = world.all("select content, made_at, seq from learned_need where kit = 'link'")
    content, made_at, seq = rows[0]
    assert " " not in str(content)
    assert len(str(content)) < 6_000
    assert json.loads(str(content)).keys() == {"f", "w"}
    assert from_text(str(made_at)) == world.now
    assert seq == world.events()


def test_only_kits_asked_about_are_told(world: World) -> None:
    take(world)
    assert set(needs(world, ["lock", "gauge"])) == {"gauge", "lock"}
    assert needs(world, []) == {}
    assert {len(each) for each in needs(world, ["link"]).values()} == {2}


def test_a_look_twice_is_the_same(world: World) -> None:
    take(world)
    turns(world).keep_up()
    assert needs(world) == needs(world)


def monday(world: World) -> datetime:
    return world.at(0, 0, day=7)


def test_a_vehicle_that_is_booked_wants_nothing_before_it_comes(world: World) -> None:
    job = take(world)
    with world.shop.beside() as db:
        db.execute(
            "update job set state = 'booked', arrives = ? where job = ?",
            [date(2026, 10, 19).isoformat(), job],
        )
    assert all(since >= monday(world) for since in starts(one(world, "link", "2", "3")))
    turns(world).keep_up()
    later = one(world, "link", "2", "3")
    assert later.made_at is not None
    assert all(since >= monday(world) for since in starts(later))
