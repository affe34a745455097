"""The learner at work: the job concerned first, then all that teaches, then every job."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from store.actions import clock, day_sheet, holding, jobs, settings
from store.file.backup import backup, restore
from store.file.learned.alone import alone
from store.file.learned.due import HALF_DAY_H, due
from store.file.learned.kept import Forecast, forecasts, parts
from store.file.learned.turns import teach
from store.file.shop import Shop
from store.file.trouble import Busy
from store.file.verify import verify
from tests.store.actions.made import World, make
from tests.store.file.learned.made import Counting, turns


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    made.shop.close()


def read(world: World, *numbers: str) -> dict[str, Forecast]:
    """What the views would find."""
    with world.shop.reading() as db:
        return forecasts(db, numbers)


def test_a_new_shop_learns_from_nothing_and_has_nothing_to_say(world: World) -> None:
    learner = Counting()
    assert turns(world, learner).keep_up()
    assert learner.learned == [0]
    assert not turns(world, learner).keep_up()
    assert learner.learned == [0]


def test_whatever_happens_to_a_job_makes_its_forecast_anew_and_no_other(world: World) -> None:
    one, other = world.take("TC", "1"), world.take("TC", "2")
    learner = Counting()
    turns(world, learner).keep_up()
    assert set(learner.asked) == {one, other}
    learner.asked.clear()
    acts: list[Callable[[], object]] = [
        lambda: world.on("T1", one, "1"),
        lambda: holding.hold(
            world.shop, world.by("T1"), job=one, phase="1", reason="parts",
            until=world.at(14), next_move="desk",
        ),
        lambda: holding.hold(
            world.shop, world.by("FOR"), job=one, phase="1", reason="parts",
            until=world.at(15), next_move="desk",
        ),
        lambda: holding.release(world.shop, world.by("FOR"), job=one, phase="1"),
    ]  # fmt: skip
    for act in acts:
        act()
        assert turns(world, learner).keep_up()
        assert learner.asked == [one]
        assert read(world, one)[one].seq == world.events()
        learner.asked.clear()
    assert learner.learned == [0]


@pytest.mark.parametrize("act", ["rate", "small"])
def test_what_concerns_no_forecast_calls_nobody(world: World, act: str) -> None:
    job, learner = world.take("TC", "1"), Counting()
    turns(world, learner).keep_up()
    learner.asked.clear()
    if act == "rate":
        settings.set_rate(world.shop, world.by("OWN"), per_hour=99)
    else:
        jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="van")
    assert not turns(world, learner).keep_up()
    assert learner.asked == []
    assert job in read(world, job)


def test_a_finished_phase_teaches_all_others_once_its_clock_is_confirmed(world: World) -> None:
    one, other = world.take("TC", "1"), world.take("TC", "2")
    learner = Counting()
    turns(world, learner).keep_up()
    world.do("T1", one, "1")
    turns(world, learner).keep_up()
    assert learner.learned == [0]
    assert "1" not in read(world, one)[one].phases
    confirm(world)
    learner.asked.clear()
    assert turns(world, learner).keep_up()
    assert learner.learned == [0, 1]
    assert {one, other} <= set(learner.asked)
    found = read(world, other)[other]
    assert found.fit_seq == world.events()
    assert found.phases["1"].left.mean == 2.0


def confirm(world: World) -> None:
    """The day's clocks count as confirmed."""
    clock_runs = world.one("select count(*) from clock where until is null")
    if clock_runs:
        clock.clock_off(world.shop, world.by("T1"))
    day_sheet.confirm_day(world.shop, world.by("T1"), day=world.now.date())


def test_each_forecast_is_made_anew_after_half_a_shop_day(world: World) -> None:
    job, learner = world.take("TC", "1"), Counting()
    turns(world, learner).keep_up()
    before = read(world, job)[job]
    world.to(9, 0)
    assert not turns(world, learner).keep_up()
    world.to(8 + int(HALF_DAY_H) + 1, 0)
    assert turns(world, learner).keep_up()
    assert read(world, job)[job].made_at == world.now
    assert read(world, job)[job].seq == before.seq


def test_a_clock_that_steps_back_keeps_nobody_busy(world: World) -> None:
    job, learner = world.take("TC", "1"), Counting()
    turns(world, learner).keep_up()
    world.now = world.at(7, 0)
    assert not turns(world, learner).keep_up()
    assert job in read(world, job)


def test_rebuilt_from_the_ledger_it_says_the_same(world: World) -> None:
    job, learner = world.take("TC", "1"), Counting()
    world.do("T1", job, "1")
    confirm(world)
    turns(world, learner).keep_up()
    before = read(world, job)
    with world.shop.reading() as db:
        known = parts(db, learner.versions, whole=True)
    assert turns(world, learner).anew()
    assert read(world, job) == before
    with world.shop.reading() as db:
        assert parts(db, learner.versions, whole=True) == known
    assert learner.learned == [1, 1]


def test_another_version_learns_anew(world: World) -> None:
    turns(world, Counting()).keep_up()
    newer = Counting("2")
    assert turns(world, newer).keep_up()
    assert newer.learned == [0]


def test_a_question_takes_in_what_has_not_taught_yet(world: World) -> None:
    job, learner = world.take("TC", "1"), Counting()
    turns(world, learner).keep_up()
    world.do("T1", job, "1")
    confirm(world)
    assert turns(world, learner).take_in()
    assert learner.learned == [0, 1]
    assert turns(world, learner).take_in()
    assert learner.learned == [0, 1]
    settings.set_rate(world.shop, world.by("OWN"), per_hour=98)
    with world.shop.reading() as db:
        assert not due(db, learner.versions, world.now).learn


def test_what_teaches_nothing_new_is_noted_and_not_asked_again(world: World) -> None:
    job, learner = world.take("TC", "1"), Counting()
    turns(world, learner).keep_up()
    world.do("T1", job, "1")
    assert turns(world, learner).keep_up()
    with world.shop.reading() as db:
        assert parts(db, learner.versions)["count"].at.seq == world.events()
        assert not due(db, learner.versions, world.now).anything


def test_while_another_learner_works_nobody_else_does(world: World) -> None:
    world.take("TC", "1")
    learner = Counting()
    with alone(world.shop.path) as mine:
        assert mine
        assert not turns(world, learner).keep_up()
    assert learner.learned == []


def test_what_happens_while_one_works_is_done_before_it_leaves(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An act after the last look and before the lock is let go finds the learner still there."""
    one, other = world.take("TC", "1"), world.take("TC", "2")
    learner = Counting()
    turns(world, learner).keep_up()
    at_work = turns(world, learner)
    looks: list[str] = []
    before = at_work._work  # pyright: ignore[reportPrivateUsage] - the moment is inside

    def work() -> bool:
        worked = before()
        if not worked and not looks:
            looks.append("nothing due")
            world.on("T1", other, "1")
        return worked

    monkeypatch.setattr(at_work, "_work", work)
    world.on("T2", one, "1")
    learner.asked.clear()
    at_work.keep_up()
    assert learner.asked == [one, other]


def test_a_job_is_served_while_everything_is_learned_anew(world: World) -> None:
    """Somebody clocks on while the learner is deep in its sums."""
    one, other = world.take("TC", "1"), world.take("TC", "2")

    class Slow(Counting):
        def learn(self, cases, known):  # type: ignore[no-untyped-def]  # as its parent's
            if self.learned:
                world.on("T2", other, "1")
                served.append(self.wait_for(other))
            return super().learn(cases, known)

        def wait_for(self, job: str) -> bool:
            from threading import Event

            for _ in range(400):
                if read(world, job)[job].seq == world.events():
                    return True
                Event().wait(0.05)
            return False

    served: list[bool] = []
    learner = Slow()
    turns(world, learner).keep_up()
    world.do("T1", one, "1")
    confirm(world)
    turns(world, learner).keep_up()
    assert served == [True]


def test_a_file_that_is_kept_busy_costs_the_learner_its_turn_and_nothing_else(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    from store.file import opening

    job, learner = world.take("TC", "1"), Counting()
    monkeypatch.setattr(opening, "BUSY_S", 0.05)
    other = Shop(world.shop.path)
    mine = turns(World(Shop(world.shop.path), world.now), learner)
    with other.changing(world.by("T1")), pytest.raises(Busy):
        mine.keep_up()
    other.close()
    assert read(world, job) == {}
    assert turns(world, learner).keep_up()
    assert job in read(world, job)


def test_a_file_put_in_its_place_meanwhile_learns_its_own(world: World, tmp_path: Path) -> None:
    copy = tmp_path / "copy.shop"
    backup(world.shop, copy)
    job = world.take("TC", "1")

    class Replaced(Counting):
        def learn(self, cases, known):  # type: ignore[no-untyped-def]  # as its parent's
            if not self.learned:
                restore(copy, world.shop.path, replace=True)
            return super().learn(cases, known)

    learner = Replaced()
    assert turns(world, learner).keep_up()
    assert len(learner.learned) == 2
    with world.shop.reading() as db:
        assert parts(db, learner.versions)["count"].at.seq == world.events()
    assert read(world, job) == {}
    assert verify(world.shop.path).ok


def test_a_past_made_in_one_go_can_be_learned_on_its_way(world: World) -> None:
    """Inside one transaction, with nothing forecast."""
    learner = Counting()
    with world.shop.bulk():
        for _ in range(2):
            world.do("T1", world.take("TC", None), "1")
        day_sheet.confirm_day(world.shop, world.by("T1"), day=world.now.date())
        teach(world.shop, learner)
        seq = world.events()
        world.take("TC", None)
    assert learner.learned == [2]
    with world.shop.reading() as db:
        assert parts(db, learner.versions)["count"].at.seq == seq
        assert forecasts(db, ["1001"]) == {}
    assert verify(world.shop.path).ok
