"""Lists of work as they are read: in one look, with what each line waits for and its hours."""

from __future__ import annotations

import sqlite3
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import clock, holding, people, phases, steps
from store.actions.assigning import assign, unassign
from store.file.roster import free_people, on_roll
from store.file.shop import Shop
from store.trouble import Refused
from store.views.assigned import assigned, list_of
from store.views.assigned_values import WorkList
from store.views.bay import bay
from store.views.floor import floor
from store.views.job import job_card
from tests.tui.shops import Pen, worked_on


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Shop:
    return worked_on(tmp_path / "made.shop", pen)


def give(shop: Shop, pen: Pen, badge: str, work: str, *, front: bool = False) -> None:
    """Give `1001` or `1001.2` to somebody, whatever speaks against it."""
    job, _, phase = work.partition(".")
    assign(
        shop, pen.by("F01"), job=job, phase=phase or None, badge=badge, at_front=front,
        all_the_same=True,
    )  # fmt: skip


def mine(shop: Shop, pen: Pen, badge: str) -> WorkList:
    """A person's list."""
    return list_of(assigned(shop, pen.now), badge)


def test_a_line_says_whether_it_can_begin_or_what_it_waits_for(shop: Shop, pen: Pen) -> None:
    for work in ("1001.1", "1001.3", "1002.1", "1003"):
        give(shop, pen, "B12", work)
    lines = {one.where: (one.begins, one.waits_for) for one in mine(shop, pen, "B12").works}
    assert list(lines) == ["1001.1", "1001.3", "1002.1", "1003"]
    assert lines["1001.1"] == ("1", "")
    assert lines["1001.3"][0] is None
    assert lines["1001.3"][1].startswith("after 2 ")
    assert lines["1002.1"] == ("1", "")
    assert lines["1003"] == ("1", "")
    holding.hold(shop, pen.by("F01"), job="1002", phase="1", reason="parts")
    assert mine(shop, pen, "B12").works[2].waits_for == "held: parts"


def test_lines_are_likely_one_after_another_behind_the_running_clock(shop: Shop, pen: Pen) -> None:
    give(shop, pen, "B12", "1002.1")
    give(shop, pen, "B12", "1003.1")
    first, second = (one.likely for one in mine(shop, pen, "B12").works)
    assert first
    assert second
    running = bay(shop, "B12", pen.now).clock
    assert running
    assert running.remaining
    calendar = assigned(shop, pen.now).calendar
    assert first[0] == pytest.approx(
        calendar.after(pen.now, running.remaining.middle), abs=timedelta(seconds=1)
    )
    assert first[1] == second[0] < second[1]


def test_a_whole_job_leaves_what_was_given_apart_to_others(shop: Shop, pen: Pen) -> None:
    give(shop, pen, "B12", "1002")
    whole = mine(shop, pen, "B12").works[0].left_h
    give(shop, pen, "B13", "1002.1")
    (line,) = mine(shop, pen, "B12").works
    assert line.left_h < whole
    assert line.begins is None
    assert line.waits_for.startswith("after 1 ")
    assert [one.where for one in mine(shop, pen, "B13").works] == ["1002.1"]


def test_what_could_go_on_and_is_nobodys_is_listed_those_on_lifts_first(
    shop: Shop, pen: Pen
) -> None:
    def nobodys() -> list[str]:
        return [one.where for one in assigned(shop, pen.now).nobodys]

    assert nobodys() == ["1002.1", "1003.1"], "Ines is on 1001.1"
    give(shop, pen, "B13", "1002")
    assert nobodys() == ["1003.1"]
    clock.clock_off(shop, pen.by("B12"))
    assert nobodys() == ["1001.1", "1003.1"]
    give(shop, pen, "B12", "1001.1")
    assert nobodys() == ["1003.1"]
    people.change_person(shop, pen.by(), badge="B13", until_day=pen.now.date())
    tomorrow = pen.now + timedelta(days=1)
    found = [one.where for one in assigned(shop, tomorrow).nobodys]
    assert "1002.1" in found, "whoever left has no work any more"


def test_who_is_called_but_is_not_here_is_refused(shop: Shop, pen: Pen) -> None:
    with pytest.raises(Refused, match="Nobody here has the badge X99"):
        list_of(assigned(shop, pen.now), "x99")


def queries(shop: Shop, pen: Pen) -> int:
    """How many statements one look takes."""
    seen: list[str] = []
    with shop.reading() as db:
        db.set_trace_callback(seen.append)
        assigned_in(db, shop, pen)
        db.set_trace_callback(None)
    return len(seen)


def assigned_in(db: sqlite3.Connection, shop: Shop, pen: Pen) -> None:
    """The look itself, on a connection that is watched."""

    class Watched:
        def reading(self) -> object:
            from contextlib import nullcontext

            return nullcontext(db)

    assigned(Watched(), pen.now)  # type: ignore[arg-type]  # all that the view asks of a shop


def test_the_number_of_queries_does_not_grow_with_lists(shop: Shop, pen: Pen) -> None:
    before = queries(shop, pen)
    for badge, work in (("B12", "1001"), ("B13", "1002"), ("B12", "1003"), ("B13", "1001.3")):
        give(shop, pen, badge, work)
    assert queries(shop, pen) == before


def test_the_bays_choices_begin_with_the_persons_own_list(shop: Shop, pen: Pen) -> None:
    before = [(one.job, one.phase) for one in bay(shop, "B13", pen.now).choices]
    assert before[0] == ("1001", "1")
    give(shop, pen, "B13", "1003")
    give(shop, pen, "B13", "1002.1")
    found = bay(shop, "B13", pen.now)
    assert [(one.job, one.phase, one.yours) for one in found.choices][:3] == [
        ("1003", "1", True), ("1002", "1", True), ("1001", "1", False),
    ]  # fmt: skip
    assert len({(one.job, one.phase) for one in found.choices}) == len(found.choices)
    assert found.card
    assert (found.card.job.number, found.phase) == ("1003", "1"), "what key 1 starts"
    assert not any(one.yours for one in bay(shop, "B12", pen.now).choices)


def test_a_phase_left_in_the_middle_goes_before_a_list_made_before_it_was_left(
    shop: Shop, pen: Pen
) -> None:
    give(shop, pen, "B12", "1002.1")
    clock.clock_off(shop, pen.by("B12"))
    assert shown(shop, pen) == ("1001", "1"), "the noon break"
    give(shop, pen, "B12", "1003.1", front=True)
    assert shown(shop, pen) == ("1003", "1"), "the foreman has decided since"
    unassign(shop, pen.by("F01"), job="1003", phase="1")
    give(shop, pen, "B12", "1001.1")
    assert shown(shop, pen) == ("1002", "1"), "where it is on the list the list's order holds"
    holding.hold(shop, pen.by("F01"), job="1002", phase="1", reason="parts")
    assert shown(shop, pen) == ("1001", "1")


def shown(shop: Shop, pen: Pen) -> tuple[str, str | None]:
    """What key 1 would start for Ines."""
    found = bay(shop, "B12", pen.now)
    assert found.card
    return found.card.job.number, found.phase


def test_a_finished_phase_is_off_the_bays_list(shop: Shop, pen: Pen) -> None:
    give(shop, pen, "B12", "1001.1")
    give(shop, pen, "B12", "1002.1")
    for step in range(1, 6):
        steps.sign(shop, pen.by("B12"), job="1001", phase="1", step=str(step))
    phases.finish(shop, pen.by("B12"), job="1001", phase="1")
    found = [(one.job, one.phase) for one in bay(shop, "B12", pen.now).choices if one.yours]
    assert found == [("1002", "1")]


def test_job_and_floor_say_whose_what_comes_next_is(shop: Shop, pen: Pen) -> None:
    give(shop, pen, "B13", "1002")
    give(shop, pen, "B12", "1002.2")
    found = {
        (one.badge, one.phase): one.now for one in job_card(shop, "1002", pen.now).job.assigned
    }
    assert found == {("B13", None): True, ("B12", "2"): False}
    view = floor(shop, pen.now)
    assert view.idle == ("PE",), "Ines and Tomas have work"
    lane = next(lane for lane in view.lanes if lane.job and lane.job.number == "1002")
    assert lane.job
    assert [one.initials for one in lane.job.assigned if one.now] == ["TO"]


def test_nobody_is_without_work_where_no_lists_are_kept_or_they_are_away(
    shop: Shop, pen: Pen
) -> None:
    assert floor(shop, pen.now).idle == ()
    give(shop, pen, "B13", "1002")
    assert floor(shop, pen.now).idle == ("IN", "PE")
    people.set_absence(
        shop, pen.by("F01"), badge="B14", since=pen.now - timedelta(hours=1),
        until=pen.now + timedelta(hours=9), why="school",
    )  # fmt: skip
    assert floor(shop, pen.now).idle == ("IN",)


def test_who_is_free_says_what_they_hold_and_when_they_are_away(shop: Shop, pen: Pen) -> None:
    day = pen.now.date()
    people.qualify(shop, pen.by(), badge="B13", what="refrigerant", until=day + timedelta(days=9))
    people.qualify(shop, pen.by(), badge="B13", what="airbag", until=day - timedelta(days=1))
    people.set_absence(
        shop, pen.by("F01"), badge="B14", since=pen.now - timedelta(hours=1),
        until=pen.now + timedelta(hours=9), why="school",
    )  # fmt: skip
    with shop.reading() as db:
        everybody = {one.badge: one for one in on_roll(db, pen.now)}
        free = [one.badge for one in free_people(db, pen.now)]
    assert everybody["B13"].qualifications == {"refrigerant": f"{day + timedelta(days=9)}"}
    assert (everybody["B12"].job, everybody["B12"].phase) == ("1001", "1")
    away = everybody["B14"].away_at(pen.now)
    assert away
    assert away.why == "school"
    assert everybody["B14"].away_at(pen.now + timedelta(hours=9)) is None
    assert set(free) == {"OWN", "F01", "B13"}, "Ines has a clock, Per is at school"
    clock.clock_indirect(shop, pen.by("B13"), reason="tidying")
    with shop.reading() as db:
        assert "B13" in [one.badge for one in free_people(db, pen.now)]
    clock.clock_away(shop, pen.by("B13"))
    with shop.reading() as db:
        assert "B13" not in [one.badge for one in free_people(db, pen.now)]


def test_an_open_hold_point_of_a_phase_under_way_is_named(shop: Shop, pen: Pen) -> None:
    for step in range(1, 6):
        steps.sign(shop, pen.by("B12"), job="1001", phase="1", step=str(step))
    clock.clock_over(shop, pen.by("B12"), job="1001", phase="2")
    give(shop, pen, "B13", "1001.4")
    assert mine(shop, pen, "B13").works[0].waits_for == "2.1 to sign"
