"""What one act would change, against the act really done in a scratch copy and forecast again.

Brute force: every act of a list is done through its own command in a copy of the file; a learner
that knows nothing of acts then forecasts every job at the same instant.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from itertools import pairwise, permutations
from pathlib import Path

import pytest

from store.actions import clock, jobs
from store.file.kits.wanted import Wanted
from store.file.learned.as_if import Changed, as_if, as_if_refused
from store.file.learned.due import LIVE, due
from store.file.learned.forecaster import NOTHING, ShopForecaster
from store.file.learned.help_due import promised
from store.file.learned.help_values import Help
from store.file.learned.helping import Helping
from store.file.learned.kept import Forecast, Spread, turn
from store.file.learned.kept_help import kept_help
from store.file.learned.learner import Parts
from store.file.learned.moment import Moment, moment
from store.file.learned.outlook import ShopOutlook
from store.file.learned.own import VERSIONS, ShopLearner
from store.file.learned.turns import Turns
from store.file.verify import verify
from store.rules.acts import MOVES, Act
from store.sums import moving
from store.trouble import Refused
from tests.store.actions.made import World
from tests.store.made_acts import (
    acts,
    chance_shop,
    idle_shop,
    learner,
    line_shop,
    outlook,
    scratch,
    stuck_shop,
    type_in,
)

Making = Callable[[Path], World]


@pytest.fixture(
    name="made", params=[stuck_shop, idle_shop, line_shop], ids=["stuck", "idle", "line"]
)
def made_fixture(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[World]:
    making: Making = request.param
    world = making(tmp_path)
    learner(world).keep_up()
    yield world
    world.shop.close()


def here(world: World) -> Moment:
    """The shop now."""
    with world.shop.reading() as db:
        return moment(db, [row[0] for row in db.execute(LIVE)], world.now)


def moving_acts(world: World) -> list[Act]:
    """Open acts that move a forecast."""
    return [one for one in acts(world) if one.kind in MOVES]


def kept(world: World) -> Help:
    """What the learner wrote down."""
    with world.shop.reading() as db:
        found = kept_help(db)
    assert found is not None
    return found


def turns_of(world: World) -> int:
    """How often screens were told to look again."""
    with world.shop.reading() as db:
        return turn(db)


def promises_kept(world: World, finishes: Mapping[str, Spread]) -> float:
    """The sum of all chances of keeping what was promised."""
    calendar, total = here(world).calendar, 0.0
    with world.shop.reading() as db:
        for job, at in promised(db).items():
            due_h = calendar.working_h(world.now, at) if at > world.now else 0.0
            total += moving.chance(finishes[job].quantiles, due_h)
    return total


def really(world: World, folder: Path, *done: Act) -> Mapping[str, Spread]:
    """Every job's finish in a copy in which these acts were done by their commands."""
    copy = scratch(world, folder)
    try:
        for one in done:
            type_in(copy, *one.ending)
        return outlook(copy).before
    finally:
        copy.shop.close()


def close(one: Spread, other: Spread) -> None:
    """The same to the last digits that two orders of adding may differ in."""
    assert one.quantiles == pytest.approx(other.quantiles, rel=1e-9)
    assert one.mean == pytest.approx(other.mean, rel=1e-9)


def test_each_act_as_if_is_the_act_really_done(made: World, tmp_path: Path) -> None:
    known, now, tried = outlook(made), here(made), 0
    for number, act in enumerate(moving_acts(made)):
        changed = as_if(now, act)
        assert changed is not None, act
        as_said = {**known.before, **known.after(changed, known.before.keys())}
        done = really(made, tmp_path / str(number), act)
        for job, spread in done.items():
            if job != changed.back:  # what was cleared comes back to a lift, which no file knows
                close(spread, as_said[job])
        tried += 1
    assert tried >= 4


def test_what_an_act_does_not_touch_stays_bit_for_bit(made: World) -> None:
    known, now = outlook(made), here(made)
    for act in moving_acts(made):
        changed = as_if(now, act)
        assert changed is not None
        moved = known.after(changed, known.before.keys())
        behind = {job for job, one in now.hands.items() if one.line is not None}
        assert set(moved) <= {act.job} | behind, act


def test_a_no_is_told_beside_a_yes(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    learner(world).keep_up()
    act = next(one for one in acts(world) if one.kind == "answer")
    changed = as_if_refused(here(world), act)
    assert changed is not None
    said = outlook(world).after(changed, ())
    copy = scratch(world, tmp_path / "no")
    type_in(copy, "supplement", "refuse", act.job or "", "--as", "FOR")
    close(outlook(copy).before[act.job or ""], said[act.job or ""])
    told = next(one for one in kept(world).helped if one.act == act.name)
    assert told.refused_gain is not None
    assert told.refused_gain > told.gain, "a job without extra work is finished sooner"
    copy.shop.close()
    world.shop.close()


def test_gains_are_those_of_brute_force_and_the_first_is_the_best(
    made: World, tmp_path: Path
) -> None:
    before = promises_kept(made, outlook(made).before)
    found = {one.act: one for one in kept(made).helped}
    gains: dict[str, float] = {}
    for number, act in enumerate(moving_acts(made)):
        if act.kind == "clear":
            continue
        done = really(made, tmp_path / str(number), act)
        gains[act.name] = promises_kept(made, done) - before
        assert found[act.name].gain == pytest.approx(gains[act.name], abs=2e-4)
    order = [one.act for one in kept(made).helped if one.act in gains]
    assert gains[order[0]] == pytest.approx(max(gains.values()), abs=2e-4)
    assert all(gains[one] >= gains[other] - 2e-4 for one, other in pairwise(order))


@pytest.mark.parametrize("seed", range(4))
def test_on_small_shops_full_enumeration_finds_no_better_first_act(
    seed: int, tmp_path: Path
) -> None:
    """All single acts, and all pairs of them in both orders, really done."""
    world = chance_shop(tmp_path, seed)
    learner(world).keep_up()
    before = promises_kept(world, outlook(world).before)
    every = [one for one in moving_acts(world) if one.kind != "clear"]
    single = {
        one.name: promises_kept(world, really(world, tmp_path / f"s{n}", one)) - before
        for n, one in enumerate(every)
    }
    listed = [one for one in kept(world).helped if one.act in single]
    assert listed
    assert single[listed[0].act] == pytest.approx(max(single.values()), abs=2e-4)
    for n, (one, other) in enumerate(permutations(every, 2)):
        if not independent(one, other):
            continue
        first = as_if(here(world), one)
        assert first is not None
        both = as_if(first.moment, other)
        assert both is not None
        said = outlook_of_both(world, first.jobs | both.jobs, both.moment)
        done = really(world, tmp_path / f"p{n}", one, other)
        for job, spread in said.items():
            close(done[job], spread)
    world.shop.close()


def independent(one: Act, other: Act) -> bool:
    """Both can be done, one after the other: on two jobs, by two people, on two lifts."""
    if jobs_of(one) & jobs_of(other) or (
        one.kind == other.kind == "person" and one.badge == other.badge
    ):
        return False
    return one.place is None or one.place != other.place


def jobs_of(act: Act) -> set[str | None]:
    """What it is about; of a place in the line the job behind it too."""
    return {act.job, act.line} if act.kind == "line" else {act.job}


def outlook_of_both(world: World, changed: frozenset[str], there: Moment) -> Mapping[str, Spread]:
    """Finishes after two acts as if."""
    known = outlook(world)
    after = known.after(Changed(there, changed, line=True), known.before.keys())
    return {**known.before, **after}


def test_it_is_kept_for_its_entry_and_made_anew_when_something_happens(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    assert learner(world).keep_up()
    first = kept(world)
    assert first.at.seq == world.events()
    looks = turns_of(world)
    assert not learner(world).keep_up(), "nothing happened"
    type_in(world, "clock", "on", "1001.2", "--as", "T1")
    assert learner(world).keep_up()
    assert kept(world).at.seq > first.at.seq
    assert turns_of(world) > looks + 1, "screens look again: forecasts, then what helps"
    assert not any(one.act.startswith("person 1001") for one in kept(world).helped)
    clock.clock_off(world.shop, world.by("T1"))
    assert learner(world).keep_up(), "somebody has hands"
    jobs.promise(world.shop, world.by("FOR"), job="1001", at=world.at(12, day=3))
    assert learner(world).keep_up()
    world.to(15, 0)
    assert learner(world).keep_up(), "promises came nearer"
    assert verify(world.shop.path).ok
    world.shop.close()


def test_whatever_happens_meanwhile_comes_first(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    learner(world).keep_up()
    asked: list[str] = []

    def wanted() -> bool:
        asked.append("?")
        return len(asked) < 2

    helping = Helping(here(world), outlook(world), {})
    assert helping.help(acts(world), wanted) is None
    assert len(asked) == 2
    world.shop.close()


class Watching(ShopLearner):
    """The shop's own learner; somebody clocks on while it tries the first act."""

    def __init__(self, world: World) -> None:
        """Nobody did yet."""
        self.world, self.done = world, list[str]()

    def ready(self, parts: Parts) -> ShopForecaster:
        """Read what was learned."""
        watcher = self

        class Asked(ShopForecaster):
            def forecasts(
                self,
                moment: Moment,
                jobs: Sequence[str],
                wanted: Mapping[str, Sequence[Wanted]] = NOTHING,
            ) -> list[Forecast]:
                watcher.done.append(f"forecast {' '.join(jobs)}")
                return super().forecasts(moment, jobs, wanted)

            def outlook(self, moment: Moment, anew: Collection[str]) -> ShopOutlook | None:
                if "outlook" in watcher.done and "clock" not in watcher.done:
                    watcher.done.append("clock")
                    watcher.world.on("T1", "1001", "2")
                watcher.done.append("outlook")
                return super().outlook(moment, anew)

        return Asked(parts)


def test_a_job_to_which_something_happens_meanwhile_is_served_first(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    watching = Watching(world)
    busy = Turns(world.shop, watching, lambda: world.now)
    busy.keep_up()
    jobs.promise(world.shop, world.by("FOR"), job="1001", at=world.at(12, day=3))
    watching.done.clear()
    watching.done.append("outlook")
    busy.keep_up()
    assert watching.done == ["outlook", "clock", "outlook", "forecast 1001", "outlook"]
    assert kept(world).at.seq == world.events()
    world.shop.close()


def test_a_lost_or_torn_answer_is_as_none_and_comes_again(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    learner(world).keep_up()
    with world.shop.beside() as db:
        db.execute("update learned_help set content = '{torn'")
    with world.shop.reading() as db:
        assert kept_help(db) is None
    world.shop.close()
    with sqlite3.connect(world.shop.path) as plain:
        plain.execute("drop table learned_help")
    plain.close()
    again = World(type(world.shop)(world.shop.path), world.now, world.acts)
    with again.shop.reading() as db:
        assert kept_help(db) is None
        assert due(db, VERSIONS, again.now).whole
    assert learner(again).keep_up()
    assert kept(again).helped
    again.shop.close()


def test_an_act_that_somebody_else_did_a_second_ago_is_refused_in_one_line(
    made: World, tmp_path: Path
) -> None:
    for number, act in enumerate(moving_acts(made)):
        copy = scratch(made, tmp_path / f"twice{number}")
        type_in(copy, *act.ending)
        with pytest.raises(Refused) as caught:
            type_in(copy, *act.ending)
        assert "\n" not in str(caught.value)
        assert act.name not in {one.name for one in acts(copy)}, "it is gone from the list"
        assert verify(copy.shop.path).ok
        copy.shop.close()
