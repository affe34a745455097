"""Waiting and odds at a small shop: what was counted, what is said, and what needs no array."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import books, holding, jobs
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.views.learned import Learned, learned
from store.views.learned_odds import Odds, in_so_many
from store.views.learned_waits import long
from tests.store.actions.made import World
from tests.store.made_jobs import BOOK, closed_job, plain_shop, work
from tests.test_house import HEAVY, modules_after


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = plain_shop(tmp_path)
    yield made
    made.shop.close()


def told(world: World) -> Learned:
    """What the shop's own learner has to say."""
    Turns(world.shop, ShopLearner(), lambda: world.now).keep_up()
    return learned(world.shop, world.now)


def odds(found: Learned, code: str) -> Odds:
    """Those of one answer or surprise."""
    return next(one for one in found.odds if one.code == code)


def test_a_new_shop_knows_of_no_waiting(world: World) -> None:
    found = told(world)
    assert (found.waits.pace, found.waits.holds, found.waits.away) == (None, (), ())
    assert found.odds == ()
    assert math.isclose(found.waits.day_h, 8.25)  # 7:30 to 16:30 without the noon break


def test_holds_are_told_by_reason_with_what_was_said(world: World) -> None:
    for day in range(3):
        closed_job(world, day, parts_h=None if day == 1 else 3.0)
    found = told(world).waits
    assert [one.told.reason for one in found.holds] == ["parts"]
    hold = found.holds[0].told
    assert (hold.count, hold.said) == (2, 2)
    assert hold.times > 1.2  # 3 hours came of each hour that was said, before the trade's 1.2
    assert hold.apart_h is not None
    assert 1.5 < hold.apart_h < 3.0
    says = found.holds[0].says
    assert says.startswith("Held for parts: half are over within ")
    assert "(2 seen, one in 2 h of labour)" in says
    assert f"They take {hold.times:.1f} times as long as was said" in says
    assert found.pace is not None
    assert math.isclose(found.pace.labour_h, found.pace.told.labour_h * found.day_h)


def test_standing_is_told_by_the_clock_and_outwork_by_open_hours(world: World) -> None:
    for day in range(3):
        closed_job(world, day, worn=day > 0)
    found = {one.phase: one for one in told(world).waits.away}
    dry, away = found["E3"], found["EW"]
    assert (dry.kind, dry.count, dry.book_h) == ("standing", 3, 2.0)
    assert math.isclose(dry.middle_h, 2.5, rel_tol=0.02)
    assert dry.tenth_h is None
    assert (
        dry.says == "dry (E3, book 2.0 h): took 2.5 to 2.5 h, half no longer than 2.5 h (3 seen)."
    )
    assert (away.kind, away.count, away.book_h) == ("outwork", 2, 8.0)
    assert away.middle_h < 2.5  # the break at noon was cut out


def test_what_does_not_teach_is_not_told(world: World) -> None:
    job = closed_job(world, 0, worn=True)
    closed_job(world, 1, worn=True)
    jobs.mark_not_teaching(world.shop, world.by("FOR"), job=job, phase=None, why="training")
    found = told(world)
    assert [one.count for one in found.waits.away] == [1, 1]
    assert (odds(found, "worn").times, odds(found, "worn").of) == (1, 1)


def test_answers_stand_beside_the_books_odds(world: World) -> None:
    for day in range(4):
        closed_job(world, day, worn=day == 2)
    found = told(world)
    worn, sound = odds(found, "worn"), odds(found, "sound")
    assert (worn.phase, worn.step, worn.times, worn.of, worn.rare) == ("E1", "LOOK", 1, 4, True)
    assert (sound.times, sound.of, sound.rare) == (3, 4, False)
    assert worn.says == "worn (open): 1 of 4, the book says 1 in 10."
    # Dirichlet mean with four answers' worth of the book: (4 * .1 + 1) / (4 + 4)
    assert worn.chance == pytest.approx(1.4 / 8)
    assert math.isclose(worn.away, 0.15 / math.sqrt(0.1 * 0.9 / 4))


def test_surprises_are_counted_over_jobs_that_did_the_phase(world: World) -> None:
    closed_job(world, 0)
    world.to(8, 0, day=1)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 0.5, "sound")
    world.on("T1", job, "2")
    holding.find(
        world.shop, world.by("T1"), job=job, phase="2", kind="surprise", text="a stud", hours=None,
        code="stud",
    )  # fmt: skip
    assert odds(told(world), "stud").says == "A stud breaks (mend): 0 of 1, the book says 1 in 5."
    world.finish("T1", job, "2")
    stud = odds(told(world), "stud")
    assert (stud.step, stud.times, stud.of, stud.chance) == (None, 1, 2, None)


def test_a_surprise_that_not_every_job_can_have_is_not_compared(world: World) -> None:
    limited = BOOK + 'when = { option = { seat = "worn" } }\n'
    books.load_workbook(world.shop, world.by("FOR"), source=limited)
    closed_job(world, 0)
    assert {one.code for one in told(world).odds} == {"sound", "worn"}


@pytest.mark.parametrize(
    "chance, says",
    [(0.15, "3 in 20"), (0.1, "1 in 10"), (1 / 3, "1 in 3"), (0.125, "1 in 8"), (0.0, "0 in 1")],
)
def test_odds_are_said_as_one_says_them(chance: float, says: str) -> None:
    assert in_so_many(chance) == says


@pytest.mark.parametrize(
    "hours, says",
    [(4.5, "4.5 h"), (15.9, "15.9 h"), (16.0, "2.0 shop days"), (100.0, "12 shop days")],
)
def test_long_is_said_in_shop_days(hours: float, says: str) -> None:
    assert long(hours, 8.0) == says


def test_nobody_needs_arrays_to_read_it(world: World) -> None:
    closed_job(world, 0)
    told(world)
    loaded = modules_after(
        "from pathlib import Path\nfrom datetime import datetime, UTC\n"
        "from store.file.shop import Shop\nfrom store.views.learned import learned\n"
        f"found = learned(Shop(Path({str(world.shop.path)!r})), datetime(2026, 10, 13, tzinfo=UTC))"
        "\nassert found.finished and found.waits.pace, found"
    )
    assert loaded & (HEAVY - {"pydantic"}) == set()
