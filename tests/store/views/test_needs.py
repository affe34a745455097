"""Who must do what: each is done by the command beside it and is gone; trying writes nothing."""

from __future__ import annotations

import shlex
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import get_args

import numpy as np
import pytest

from store.actions import clock, holding, jobs, places
from store.file.learned.due import LIVE
from store.file.learned.forecaster import ShopForecaster, standing_of
from store.file.learned.kept import parts
from store.file.learned.moment import moment
from store.file.learned.own import VERSIONS, ShopLearner
from store.file.verify import verify
from store.learn.dates.normal import rest_of
from store.rules.acts import MINUTES, ActKind
from store.trouble import Refused
from store.views.as_if import tried
from store.views.floor import floor
from store.views.helps import helps
from store.views.needs import needs
from store.views.needs_values import WORDS, Need, shown
from store.views.values import Floor, Job
from store.views.why import why
from tests.store.actions.made import World, make
from tests.store.made_acts import (
    acts,
    asked_shop,
    idle_shop,
    learner,
    scratch,
    stuck_shop,
    supply_shop,
    told_line_shop,
    type_in,
)
from tests.store.made_kit_acts import kits_shop

SHOPS: tuple[Callable[[Path], World], ...] = (
    stuck_shop, idle_shop, supply_shop, asked_shop, told_line_shop, kits_shop,
)  # fmt: skip


AGAIN = ("parts", "inspect", "chase", "call", "quote", "judge")
"""What may be told anew: another day, another answer."""


@pytest.fixture(name="world", params=SHOPS, ids=[one.__name__ for one in SHOPS])
def world_fixture(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[World]:
    making: Callable[[Path], World] = request.param
    made = making(tmp_path)
    yield made
    made.shop.close()


def calm_shop(folder: Path) -> World:
    """One job, somebody on it, and nothing else."""
    world = make(folder)
    world.to(8, 0)
    places.look_over(world.shop, world.by("T1"), code="1")
    job = world.take("WP", "1")
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(16, day=11))
    world.on("T1", job, "1")
    return world


def test_every_kind_of_act_is_in_one_of_the_shops(tmp_path: Path) -> None:
    kinds: set[str] = set()
    for number, making in enumerate(SHOPS):
        folder = tmp_path / str(number)
        folder.mkdir()
        made = making(folder)
        kinds |= {one.kind for one in acts(made)}
        made.shop.close()
    assert kinds == set(get_args(ActKind)) == set(MINUTES) == set(WORDS)


def as_printed(text: str, words: tuple[str, ...]) -> list[str]:
    """Words out of the line as people copy it; what stands in capitals is marked to be filled."""
    marked = {shown(word): word for word in words}
    program, *printed = shlex.split(text)
    assert (program, printed[-2]) == ("hoistbook", "--as")
    return [marked[word] for word in printed]


def test_each_is_done_by_the_command_beside_it_and_is_gone(world: World, tmp_path: Path) -> None:
    for number, need in enumerate(needs(world.shop, world.now).needs):
        copy = scratch(world, tmp_path / str(number))
        assert type_in(copy, *as_printed(need.command, need.act.command))
        left = {one.act.name for one in needs(copy.shop, copy.now).needs}
        assert need.act.name not in left, need.command
        if need.act.kind not in AGAIN:
            with pytest.raises(Refused) as caught:
                type_in(copy, *need.act.command)
            assert "\n" not in str(caught.value)
        assert verify(copy.shop.path).ok
        copy.shop.close()


def test_what_can_be_answered_otherwise_is_gone_by_that_too(world: World, tmp_path: Path) -> None:
    found = [one for one in needs(world.shop, world.now).needs if one.act.other]
    for number, need in enumerate(found):
        copy = scratch(world, tmp_path / str(number))
        assert type_in(copy, *as_printed(need.other or "", need.act.other))
        left = {one.act.name for one in needs(copy.shop, copy.now).needs}
        assert need.act.name not in left or need.act.kind == "let stand", need.other
        assert verify(copy.shop.path).ok
        copy.shop.close()


def test_the_list_is_the_same_twice_and_each_act_is_named_once(world: World) -> None:
    one, other = needs(world.shop, world.now), needs(world.shop, world.now)
    assert one == other
    names = [need.act.name for need in one.needs]
    assert len(set(names)) == len(names)
    assert all(need.command.startswith("hoistbook ") for need in one.needs)
    assert all(need.act.badge for need in one.needs)


def test_what_is_due_comes_first_and_then_what_costs_most(world: World) -> None:
    learner(world).keep_up()
    found = needs(world.shop, world.now).needs
    due = [one for one in found if one.due]
    assert list(found[: len(due)]) == due
    assert [one.act.by for one in due] == sorted(one.act.by for one in due if one.act.by)
    rest = [round(max(one.gain or 0, 0) + (one.lift_days or 0), 3) for one in found[len(due) :]]
    assert rest == sorted(rest, reverse=True)


def need_of(world: World, kind: str) -> Need:
    return next(one for one in needs(world.shop, world.now).needs if one.act.kind == kind)


def test_a_held_lift_costs_what_holds_of_its_reason_still_take(tmp_path: Path) -> None:
    """Against the mean of what the forecaster draws of the same hold."""
    world = idle_shop(tmp_path)
    learner(world).keep_up()
    with world.shop.reading() as db:
        known = ShopForecaster(parts(db, VERSIONS, whole=True))
        here = moment(db, [row[0] for row in db.execute(LIVE)], world.now)
    standing = standing_of(here, known.dates)
    assert standing is not None
    hold = next(one for one in here.spans if one.kind == "held")
    reading = standing.hours.upto(world.now.timestamp())
    law = known.dates.learned.length_law("parts", reading)
    so_far = reading - standing.hours.upto(hold.started)
    drawn = rest_of(law.m, law.wide, so_far, (np.arange(200_000) + 0.5) / 200_000)
    expected = float(np.minimum(drawn, 4e3).mean()) / 8
    assert need_of(world, "release").lift_days == pytest.approx(expected, rel=0.02)
    world.shop.close()


def test_a_hold_that_stops_one_of_several_phases_costs_no_lift(tmp_path: Path) -> None:
    world = make(tmp_path)
    world.to(8, 0)
    job = world.take("WP", "1")
    world.on("T1", job, "1")
    holding.hold(world.shop, world.by("T1"), job=job, phase="3", reason="parts")
    assert need_of(world, "release").lift_days == 0.0
    world.shop.close()


def test_a_calm_hour_is_empty_and_says_so(tmp_path: Path) -> None:
    world = calm_shop(tmp_path)
    learner(world).keep_up()
    assert needs(world.shop, world.now).needs == ()
    assert helps(world.shop, world.now).lines == ()
    assert type_in(world, "needs") == "Nothing needs anybody."
    assert "Nothing needs anybody." in type_in(world, "helps")
    world.shop.close()


def test_before_anything_was_reckoned_it_says_so(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    assert helps(world.shop, world.now).seq is None
    assert "Not reckoned yet" in type_in(world, "helps")
    assert needs(world.shop, world.now).needs[0].gain is None
    with pytest.raises(Refused):
        type_in(world, "helps", "--try", "1")
    world.shop.close()


def test_what_helps_goes_as_soon_as_it_is_done_and_the_rest_keeps_its_age(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    learner(world).keep_up()
    before = helps(world.shop, world.now)
    first = before.lines[0].need.act
    type_in(world, *first.command)
    world.now += timedelta(minutes=30)
    after = helps(world.shop, world.now)
    assert first.name not in {one.need.act.name for one in after.lines}
    assert (after.seq, after.made_at) == (before.seq, before.made_at)
    assert after.behind > 0
    assert after.age_h == pytest.approx(0.5)
    with pytest.raises(Refused, match="not open any more"):
        tried(world.shop, world.now, first.name)
    world.shop.close()


@pytest.mark.parametrize("making", [stuck_shop, idle_shop])
def test_try_it_shows_the_floor_as_if_and_writes_nothing(
    making: Callable[[Path], World], tmp_path: Path
) -> None:
    world = making(tmp_path)
    learner(world).keep_up()
    world.shop.close()
    again = World(type(world.shop)(world.shop.path), world.now, world.acts)
    whole, tables = again.shop.path.read_bytes(), again.tables()
    for number, line in enumerate(helps(again.shop, again.now, every=True).lines, 1):
        found = tried(again.shop, again.now, line.need.act.name)
        now = floor(again.shop, again.now)
        for as_told, as_is in zip(jobs_of(found.before), jobs_of(now), strict=True):
            assert same(as_told, as_is)
        assert found.after != found.before
        by_number = {one.number: one for one in jobs_of(found.after)}
        for moved in line.frees:
            assert by_number[moved.job].promise_chance == pytest.approx(moved.after, abs=2e-4)
        assert "Nothing is written" in type_in(again, "helps", "--all", "--try", str(number))
    assert again.shop.path.read_bytes() == whole
    assert again.tables() == tables
    assert verify(again.shop.path).ok
    again.shop.close()


def jobs_of(of: Floor) -> list[Job]:
    """Every job of a floor."""
    return [*(one.job for one in of.lanes if one.job), *of.waiting, *of.elsewhere]


def same(one: Job, other: Job) -> bool:
    """The same job, finished at the same second."""
    assert one.finish is not None
    assert other.finish is not None
    apart = abs(one.finish.middle - other.finish.middle)
    return (one.number, one.state, one.held) == (
        other.number, other.state, other.held
    ) and apart < timedelta(seconds=1)  # fmt: skip


@pytest.mark.parametrize("making", [stuck_shop, idle_shop])
def test_every_chain_ends_in_something_that_somebody_can_do(
    making: Callable[[Path], World], tmp_path: Path
) -> None:
    world = making(tmp_path)
    learner(world).keep_up()
    found = why(world.shop, world.now)
    assert found.chains
    for chain in found.chains:
        assert chain.links[-1].need is not None, chain
        assert all(one.depth >= 1 for one in chain.links)
        alone = why(world.shop, world.now, chain.job)
        assert alone.chains == (chain,)
    assert [one.place for one in found.helps] == sorted(one.place for one in found.helps)
    world.refused(lambda: why(world.shop, world.now, "9999"), "9999")
    world.shop.close()


def test_a_job_that_waits_for_a_lift_is_traced_to_what_holds_the_lift(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    chain = why(world.shop, world.now, "1003").chains[0]
    assert next(one.lift for one in chain.links) == "2"
    assert {one.need.act.kind for one in chain.links if one.need} == {"clear", "release"}
    world.shop.close()


def test_it_is_read_without_arrays(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    learner(world).keep_up()
    world.shop.close()
    code = (
        "import sys; from pathlib import Path; from datetime import datetime\n"
        "from store.file.shop import Shop\nfrom store.views.needs import needs\n"
        "from store.views.helps import helps\nfrom store.views.as_if import tried\n"
        "from store.views.why import why\n"
        "shop, now = Shop(Path(sys.argv[1])), datetime.fromisoformat(sys.argv[2])\n"
        "lines = helps(shop, now).lines\nneeds(shop, now); why(shop, now)\n"
        "tried(shop, now, lines[0].need.act.name)\n"
        "print(len(lines), [one for one in ('numpy', 'scipy') if one in sys.modules])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, str(world.shop.path), world.now.isoformat()],
        capture_output=True, text=True, check=True, cwd=Path(__file__).parents[3],
    )  # fmt: skip
    assert ran.stdout.split(maxsplit=1)[1].strip() == "[]"
    assert int(ran.stdout.split()[0]) > 0


def test_what_is_to_be_filled_in_is_shown_in_capitals() -> None:
    assert shown("-REASON") == "REASON"
    assert shown("a=-VALUE") == "a=VALUE"
    assert shown("--as") == "--as"
    assert shown("1001.2") == "1001.2"


def test_in_the_break_and_at_night_nobody_is_sent_to_work(tmp_path: Path) -> None:
    world = calm_shop(tmp_path)
    clock.clock_off(world.shop, world.by("T1"))
    assert [one.act.kind for one in needs(world.shop, world.at(9)).needs] == ["person"]
    for closed in (world.at(12, 20), world.at(22), world.at(9, day=5)):
        assert needs(world.shop, closed).needs == ()
    world.shop.close()


def test_somebody_clocked_off_is_called_for_work(tmp_path: Path) -> None:
    world = calm_shop(tmp_path)
    clock.clock_off(world.shop, world.by("T1"))
    found = need_of(world, "person")
    assert found.act.badge == "T1", "who was on it last comes first"
    assert ShopLearner().versions == VERSIONS
    world.shop.close()
