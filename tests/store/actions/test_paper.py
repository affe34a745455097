"""A day from paper: every row by the rules of a clock entered alone, all of them or nothing."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from store.actions import clock, day_sheet, holding
from store.actions.clock_where import Where
from store.actions.paper import BadRows, PaperDay, PaperRow, check_days, enter_day, enter_days
from store.actions.trouble import MayNot, PinNeeded, UnknownBadge
from store.actions.undo import taking_back as undo
from store.file.verify import verify
from store.trouble import Refused
from tests.store.actions.made import World

DAY = date(2026, 10, 12)


def row(since: datetime, until: datetime, what: str = "tidying") -> PaperRow:
    """A row on a phase like `1001.1`, or on no job."""
    job, _, phase = what.partition(".")
    where = Where(job=job, phase=phase) if phase else Where(reason=what)
    return PaperRow(where, since, until)


def test_a_day_of_rows_is_written_in_one_act_and_taken_back_in_one(world: World) -> None:
    job = world.take()
    world.to(17)
    before = world.tables()
    done = enter_day(
        world.shop, world.by("T1"), badge=None, day=DAY,
        rows=[row(world.at(10), world.at(10, 15)), row(world.at(7, 30), world.at(10), f"{job}.1"),
              row(world.at(10, 15), world.at(13), f"{job}.1")],
    )  # fmt: skip
    assert done.says == "T1's 2026-10-12, 3 rows, 4.8 h entered from paper."
    assert len(done.recorded) == 3
    assert world.all("select job, since from clock order by since")[0][0] == job
    assert world.phase(job, "1").state == "under way"
    begun = world.one("select begun_at from phase where job = ? and phase = '1'", job)
    assert str(begun).startswith("2026-10-12T05:30"), "the earliest row begins it, wherever it is"
    assert done.can_undo
    undo.undo(world.shop, world.by("T1"))
    after = world.tables()
    assert after["clock"] == before["clock"]
    assert world.phase(job, "1").state == "to come"
    assert verify(world.shop.path).ok


def test_every_row_that_cannot_be_is_named_and_none_is_written(world: World) -> None:
    job = world.take()
    held = world.take("WP", lift="2")
    holding.hold(world.shop, world.by("T2"), job=held, phase="1", reason="parts")
    clock.clock_indirect(world.shop, world.by("T1"), reason="helping")
    world.to(8)
    clock.clock_off(world.shop, world.by("T1"))
    world.to(12)
    rows = [
        row(world.at(7, 30), world.at(8, 30)),
        row(world.at(9), world.at(9, 30), f"{job}.99"),
        row(world.at(9, 30), world.at(9)),
        row(world.at(10), world.at(10, 30), f"{job}.3"),
        row(world.at(10, 30), world.at(11), f"{held}.1"),
        row(world.at(11), world.at(13)),
        row(world.at(9), world.at(9, 10), "sleeping"),
        row(world.at(9, 40), world.at(9, 50)),
        row(world.at(9, 45), world.at(9, 55)),
    ]
    says = world.refused(
        lambda: enter_day(world.shop, world.by("T1"), badge=None, day=DAY, rows=rows), kind=BadRows
    )
    for n, word in {
        1: "overlaps helping", 2: f"{job}.99", 3: "end before it begins", 4: "waits for",
        5: "was held", 6: "has not come yet", 7: "no reason sleeping", 9: "overlaps tidying",
    }.items():  # fmt: skip
        assert f"Row {n}: " in says, (n, says)
        assert word in says.split(f"Row {n}: ")[1].split("  Row")[0], (n, word, says)
    assert "Row 8" not in says


def test_what_would_be_refused_can_be_asked_beforehand_without_a_trace(world: World) -> None:
    job = world.take()
    world.to(12)
    before = world.events()
    days = [PaperDay("T2", DAY, [row(world.at(8), world.at(9), f"{job}.1"),
                                 row(world.at(8, 30), world.at(9, 30))])]  # fmt: skip
    faults = check_days(world.shop, world.by("FOR", pin=None), days=days)
    assert [one.row for one in faults] == [2]
    assert "overlaps" in faults[0].says
    assert world.events() == before
    assert world.phase(job, "1").state == "to come"


def test_ones_own_day_takes_a_badge_and_anothers_a_foreman_with_a_pin(world: World) -> None:
    world.to(12)
    world.shop.proven.clear()
    rows = [row(world.at(8), world.at(9))]
    enter_day(world.shop, world.by("APP", pin=None), badge="app", day=DAY, rows=rows)
    world.refused(
        lambda: enter_day(world.shop, world.by("T1"), badge="T2", day=DAY, rows=rows), kind=MayNot
    )
    world.refused(
        lambda: enter_day(world.shop, world.by("FOR", pin=None), badge="T2", day=DAY, rows=rows),
        kind=PinNeeded,
    )
    world.refused(
        lambda: enter_day(world.shop, world.by("FOR"), badge="T9", day=DAY, rows=rows),
        kind=UnknownBadge,
    )
    enter_day(world.shop, world.by("FOR"), badge="T2", day=DAY, rows=rows)


def test_a_confirmed_day_takes_no_more_rows_and_one_can_be_confirmed_at_once(world: World) -> None:
    world.to(12)
    done = enter_day(
        world.shop, world.by("T1"), badge=None, day=DAY, rows=[row(world.at(8), world.at(9))],
        confirm=True,
    )  # fmt: skip
    assert "and confirmed" in done.says
    assert not done.can_undo
    assert world.one("select confirmed from clock") == 1
    more = [row(world.at(10), world.at(11))]
    for badge in ("T1", "FOR"):
        by = world.by(badge)
        with pytest.raises(Refused, match="confirmed already"):
            enter_day(world.shop, by, badge="T1", day=DAY, rows=more)


def test_days_of_several_people_are_one_act(world: World) -> None:
    world.to(12)
    good = PaperDay("T1", DAY, [row(world.at(8), world.at(9))])
    bad = PaperDay("T2", DAY, [row(world.at(9), world.at(8))])
    world.refused(
        lambda: enter_days(world.shop, world.by("FOR"), days=[good, bad]), "Row 1: ", kind=BadRows
    )
    done = enter_days(world.shop, world.by("FOR"), days=[good, PaperDay("T2", DAY, good.rows)])
    assert "T1's 2026-10-12" in done.says
    assert "T2's 2026-10-12" in done.says
    assert world.one("select count(*) from clock") == 2


def test_whoever_was_on_a_phase_that_another_led_helped(world: World) -> None:
    job = world.take()
    world.to(12)
    first = PaperDay("T1", DAY, [row(world.at(8), world.at(10), f"{job}.1")])
    second = PaperDay("T2", DAY, [row(world.at(9), world.at(9, 30), f"{job}.1"),
                                  row(world.at(10), world.at(11), f"{job}.1")])  # fmt: skip
    enter_days(world.shop, world.by("FOR"), days=[first, second])
    assert world.all("select part from clock order by since") == [("lead",), ("helper",), ("lead",)]


def test_no_row_and_another_day_are_refused(world: World) -> None:
    world.to(12)
    world.refused(
        lambda: enter_day(world.shop, world.by("T1"), badge=None, day=DAY, rows=[]), "No row"
    )
    world.refused(
        lambda: enter_day(
            world.shop, world.by("T1"), badge=None, day=date(2026, 10, 9),
            rows=[row(world.at(8), world.at(9))],
        ),
        "another day",
    )  # fmt: skip


def test_a_clock_left_running_does_not_stand_in_the_way_after_its_end(world: World) -> None:
    clock.clock_indirect(world.shop, world.by("T1"), reason="other")
    world.to(8, 0, day=1)
    with pytest.raises(BadRows, match="runs since"):
        enter_day(
            world.shop, world.by("T1"), badge=None, day=DAY,
            rows=[row(world.at(8), world.at(9))],
        )  # fmt: skip
    enter_day(
        world.shop, world.by("T1"), badge=None, day=DAY, rows=[row(world.at(16, 30), world.at(18))]
    )
    with pytest.raises(Refused, match="still runs"):
        day_sheet.confirm_day(world.shop, world.by("T1"), day=DAY)
