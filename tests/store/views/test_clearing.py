"""Clearing a lift: who drives, rolls or sits fixed, who would come in, whether it pays."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from store.actions import books, holding, outwork, places
from store.file.learned.forecaster import ShopForecaster, standing_of
from store.file.learned.kept import parts
from store.file.learned.moment import moment
from store.file.learned.own import VERSIONS
from store.learn.dates.normal import rest_of
from store.views.clearing import clearing
from store.views.clearing_values import Clearing
from store.views.job import job_card
from tests.store.actions.made import BOOK, World, make
from tests.store.made_acts import idle_shop, learner
from tests.store.made_calls import load_away, take_away, to_firm


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    made.shop.close()


def hold(
    world: World, job: str, reason: holding.Reason = "parts", hours: float | None = None
) -> None:
    """Hold the whole job, with an end so many hours on."""
    until = None if hours is None else world.now + timedelta(hours=hours)
    holding.hold(world.shop, world.by("FOR"), job=job, phase=None, reason=reason, until=until)


def rolling(world: World, lift: str = "1") -> str:
    """A job whose coolant is out: it rolls."""
    job = world.take("WP", lift)
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    world.sign("T1", job, "HL", readings={"value": 1980.5})
    world.off("T1")
    return job


def apart(world: World, *, finished: bool) -> str:
    """A gearbox on its way out, or out."""
    job = world.take("TC", "1")
    world.do("T1", job, "1")
    world.sign("T1", job, "HL", readings={"gross": 1980.0})
    world.on("T1", job, "2")
    if finished:
        world.sign("T1", job, "LK", readings={"a": 0.1, "b": 0.12})
        world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.12})
        world.finish("T1", job, "2")
    else:
        world.off("T1")
    return job


def full(world: World) -> None:
    """The other two lifts are taken by what goes on; somebody waits."""
    for lift in ("2", "3"):
        job = world.take("WP", lift)
        world.on("T1" if lift == "2" else "T2", job, "1")
    world.take("WP", None)


def one(world: World, lift: str = "1") -> Clearing:
    """The only lift asked about."""
    (found,) = clearing(world.shop, world.now, lift)
    return found


def test_what_drives_leaves_for_nothing_and_pays_as_soon_as_somebody_is_ready(
    world: World,
) -> None:
    job = world.take("WP", "1")
    hold(world, job)
    found = one(world)
    assert (found.stands, found.why, found.verdict) == ("drives", None, "nobody is ready")
    assert found.worth is not None
    assert (found.worth.labour_h, found.worth.break_even_h, found.worth.longer) == (0, 0, 1)
    full(world)
    found = one(world)
    assert found.verdict == "pays"
    assert len(found.comes) == 1
    assert found.yards == ("Y",)
    assert found.unit_places == ("BE", "ST")


def test_what_rolls_takes_two_people_and_pays_only_for_a_long_hold(world: World) -> None:
    job = rolling(world)
    full(world)
    hold(world, job, "approval", 1)
    short = one(world)
    assert short.cost is not None
    assert (short.stands, short.cost.low_h, short.cost.high_h, short.cost.people) == (
        "rolls", 0.4, 0.8, 2,
    )  # fmt: skip
    assert short.verdict == "does not pay"
    assert short.worth is not None
    assert short.worth.labour_h == pytest.approx(2.4)
    holding.hold(
        world.shop, world.by("FOR"), job=job, phase=None, reason="approval",
        until=world.now + timedelta(days=14),
    )  # fmt: skip
    long = one(world)
    assert long.verdict == "pays"
    assert long.worth is not None
    assert long.worth.break_even_h == pytest.approx(short.worth.break_even_h)
    assert 0 < short.worth.longer < 0.5 < long.worth.longer < 1
    assert short.worth.value_h < 0 < long.worth.value_h


def test_half_apart_it_stays_and_the_phase_is_named(world: World) -> None:
    job = apart(world, finished=False)
    full(world)
    hold(world, job)
    found = one(world)
    assert (found.stands, found.cost, found.worth, found.verdict) == ("fixed", None, None, "stays")
    assert found.why == "gearbox off keeps it fixed and is not finished"


def test_out_of_balance_it_stays_and_the_phase_after_which_it_rolls_is_named(
    world: World,
) -> None:
    job = apart(world, finished=True)
    hold(world, job)
    found = one(world)
    assert found.verdict == "stays"
    assert found.why is not None
    assert "heavy unit out, out of balance: that forbids lowering" in found.why
    assert found.why.endswith("gearbox off keeps it fixed until gearbox on is finished")


def test_fixed_and_closable_takes_long_and_its_unit_has_a_place(world: World) -> None:
    tags = ('opens = ["unbalanced"]\n', 'closes = ["unbalanced"]\n')
    source = BOOK
    for tag in tags:
        assert tag in source
        source = source.replace(tag, "")
    books.load_workbook(world.shop, world.by("OWN"), source=source)
    job = apart(world, finished=True)
    hold(world, job)
    found = one(world)
    assert (found.stands, found.why, found.closes) == ("fixed", None, True)
    assert found.cost is not None
    assert (found.cost.low_h, found.cost.high_h) == (1.5, 4.0)
    assert found.worth is not None
    assert found.worth.labour_h == pytest.approx(11.0)
    places.move(world.shop, world.by("T1"), job=job, place="ST", lift=False, part="unit")
    found = one(world)
    assert (found.unit_at, found.unit_places) == ("ST", ("BE",))


def test_a_ready_job_that_a_free_lift_takes_needs_no_clearing(world: World) -> None:
    job = world.take("WP", "1")
    hold(world, job)
    light = world.take("WP", None)
    found = one(world)
    assert (found.comes, found.other, found.verdict) == ((), (light, "2"), "nobody is ready")


def test_a_job_that_the_lift_does_not_carry_does_not_come(world: World) -> None:
    job = world.take("WP", "3")
    hold(world, job)
    for lift in ("1", "2"):
        world.on("T1" if lift == "1" else "T2", world.take("WP", lift), "1")
    world.take("WP", None, mass=3500)
    assert one(world, "3").comes == ()
    light = world.take("WP", None, mass=1500)
    assert one(world, "3").comes == (light,)


def test_a_lift_out_of_service_is_cleared_for_nobody(world: World) -> None:
    job = world.take("WP", "1")
    hold(world, job)
    full(world)
    places.withdraw_lift(world.shop, world.by("T1"), code="1", reason="lock")
    assert one(world).verdict == "nobody is ready"


def test_parts_away_at_a_firm_last_as_outwork_does(tmp_path: Path) -> None:
    world = make(tmp_path)
    load_away(world)
    world.to(8, 0)
    away = take_away(world)
    to_firm(world, away)
    outwork.send(
        world.shop, world.by("T2"), job=away, phase="3", what="head", firm="Facing Works",
        promised=world.at(16, day=3),
    )  # fmt: skip
    assert clearing(world.shop, world.now) == ()
    places.move(world.shop, world.by("FOR"), job=away, place="1", lift=True)
    found = clearing(world.shop, world.now)
    assert [each.job for each in found] == [away]
    assert found[0].waits == "its parts are away at Facing Works"
    assert found[0].until == world.at(16, day=3)
    assert found[0].rest_h > 8
    world.shop.close()


def test_of_two_holds_the_longer_counts(world: World) -> None:
    job = rolling(world)
    hold(world, job, "approval", 1)
    first = one(world).rest_h
    hold(world, job, "parts", 200)
    found = one(world)
    assert found.waits == "held for parts"
    assert found.rest_h > first


def test_what_goes_on_or_stands_free_is_refused(world: World) -> None:
    job = world.take("WP", "1")
    assert clearing(world.shop, world.now) == ()
    world.refused(lambda: clearing(world.shop, world.now, "1"), job, "goes on there")
    world.refused(lambda: clearing(world.shop, world.now, "2"), "Lift 2 is free")
    world.refused(lambda: clearing(world.shop, world.now, "9"), "There are: 1, 2, 3")


def test_the_card_says_the_same_and_only_of_a_held_job_on_a_lift(world: World) -> None:
    job = rolling(world)
    assert job_card(world.shop, job, world.now).clearing is None
    hold(world, job)
    assert job_card(world.shop, job, world.now).clearing == one(world)
    places.move(world.shop, world.by("FOR"), job=job, place="Y", lift=False)
    assert job_card(world.shop, job, world.now).clearing is None


def test_the_rest_is_what_the_forecaster_draws_of_the_same_hold(tmp_path: Path) -> None:
    """Against the law from which the learner's own draws come, 200,000 of them."""
    world = idle_shop(tmp_path)
    learner(world).keep_up()
    with world.shop.reading() as db:
        known = ShopForecaster(parts(db, VERSIONS, whole=True))
        here = moment(db, ["1002"], world.now)
    standing = standing_of(here, known.dates)
    assert standing is not None
    held = next(each for each in here.spans if each.kind == "held")
    reading = standing.hours.upto(world.now.timestamp())
    law = known.dates.learned.length_law("parts", reading)
    so_far = reading - standing.hours.upto(held.started)
    drawn = rest_of(law.m, law.wide, so_far, (np.arange(200_000) + 0.5) / 200_000)
    found = one(world, "2")
    assert found.rest_h == pytest.approx(float(np.minimum(drawn, 400).mean()), rel=0.02)
    assert found.worth is not None
    assert found.worth.high_h == pytest.approx(float(np.quantile(drawn, 0.9)), rel=0.02)
    world.shop.close()


def test_it_is_read_without_arrays_before_and_after_anything_was_learned(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    assert one(world, "2").worth is not None
    learner(world).keep_up()
    world.shop.close()
    code = (
        "import sys; from pathlib import Path; from datetime import datetime\n"
        "from store.file.shop import Shop\nfrom store.views.clearing import clearing\n"
        "found = clearing(Shop(Path(sys.argv[1])), datetime.fromisoformat(sys.argv[2]))\n"
        "print(len(found), [one for one in ('numpy', 'scipy') if one in sys.modules])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, str(world.shop.path), world.now.isoformat()],
        capture_output=True, text=True, check=True, cwd=Path(__file__).parents[3],
    )  # fmt: skip
    assert ran.stdout.strip() == "1 []"
