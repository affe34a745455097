"""What a waiting job lacks: told from its hold, its extra work and the lifts as they are."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.actions import jobs
from store.file.shop import Shop
from store.views.floor import floor
from store.views.lacking import lacks, with_lacks, with_takes
from store.views.values import AskedWork, Job, Lane
from tests.tui.made import job
from tests.tui.made_floor import lane
from tests.tui.shops import Pen, worked_on

WEAK, STRONG = lane("1", None, rated_kg=3000.0), lane("2", None, rated_kg=4000.0)
VAN, TIPPER = job("1", "van", mass_kg=2000.0), job("2", "tipper", mass_kg=3400.0)
ASKED = (AskedWork("stud", 2.0, datetime(2026, 10, 14, tzinfo=UTC)),)


def taken(of: Lane) -> Lane:
    return replace(of, job=job("9", "saloon"))


@pytest.mark.parametrize(
    ("of", "lanes", "found"),
    [
        (VAN, (WEAK, STRONG), ()),
        (TIPPER, (WEAK, STRONG), ()),
        (TIPPER, (WEAK, taken(STRONG)), ("a lift for 3.4 t",)),
        (TIPPER, (WEAK,), ("no lift here for 3.4 t",)),
        (VAN, (taken(WEAK), taken(STRONG)), ("a lift",)),
        (VAN, (replace(WEAK, raises=False), taken(STRONG)), ("a lift",)),
        (VAN, (), ("no lift here for 2.0 t",)),
        (replace(VAN, mass_kg=None), (WEAK,), ()),
        (replace(VAN, held="parts"), (WEAK,), ("parts",)),
        (replace(VAN, asked=ASKED), (taken(WEAK),), ("customer's word", "a lift")),
        (replace(VAN, held="approval", asked=ASKED), (WEAK,), ("customer's word",)),
    ],
)
def test_what_lacks_is_said_in_words(of: Job, lanes: tuple[Lane, ...], found: tuple[str]) -> None:
    assert lacks(of, lanes) == found


def test_a_free_lift_knows_which_waiting_jobs_it_takes_and_which_are_too_heavy() -> None:
    held = replace(VAN, number="8", held="parts")
    waiting = with_lacks((held, TIPPER, VAN), (WEAK, STRONG))
    weak, strong, full = with_takes((WEAK, STRONG, taken(STRONG)), waiting)
    assert (weak.takes, weak.too_heavy) == (("1",), ("2",))
    assert (strong.takes, strong.too_heavy) == (("2", "1"), ())
    assert (full.takes, full.too_heavy) == ((), ())
    out = with_takes((replace(WEAK, raises=False),), waiting)[0]
    assert out.takes == (), "nothing goes on a lift that is out of service"


def test_a_floor_is_read_in_as_many_queries_with_forty_jobs_as_with_three(tmp_path: Path) -> None:
    pen = Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    try:
        jobs.take_small(shop, pen.by(), text="lamp", vehicle="van")
        few = _queries(shop, pen)
        for n in range(39):
            jobs.take_small(shop, pen.by(), text=f"lamp {n}", vehicle=f"van {n}")
        view = floor(shop, pen.now)
        assert len(view.waiting) == 41
        assert _queries(shop, pen) == few
    finally:
        shop.close()


def _queries(shop: Shop, pen: Pen) -> int:
    """How many questions a look at the floor asks."""
    asked: list[str] = []
    with shop.reading() as db:
        db.set_trace_callback(asked.append)
    try:
        floor(shop, pen.now)
    finally:
        with shop.reading() as db:
            db.set_trace_callback(None)
    return sum(one.lstrip().lower().startswith("select") for one in asked)
