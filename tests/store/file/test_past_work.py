"""What the shop file teaches: which phases, whose hours, and what goes beside them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from store.actions import books, clock, day_sheet, history, holding, jobs, phases
from store.file.facts import calendar_of
from store.file.past_work import open_spans, past_work, people, spans
from store.learn.dates.spans import Span
from store.learn.records import Record
from tests.store.actions.made import World, make
from tests.store.made_past import finished

BOOK = """
name = "Plain work"

[families.engine]
B4 = "petrol, four"

[families.gearbox]
M = "manual"

[families.axles]
F = "front"

[[phase]]
code = "E1"
name = "open"
place = "ground"
class = "strip"
hours = [0.4, 0.6, 1.0]
[[phase.step]]
code = "LOOK"
kind = "hold point"
text = "Looked at"
blocks = ["E2"]

[[phase]]
code = "E2"
name = "mend"
place = "ground"
hours = [1.0, 1.5, 3.0]

[[phase]]
code = "E3"
name = "dry"
kind = "standing"
place = "outside"
hours = 1.0

[[phase]]
code = "E4"
name = "shut"
place = "ground"
class = "refit"
hours = 0.5

[[operation]]
code = "EZ"
name = "easy"
route = ["E1", "E2", "E3", "E4"]
"""


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    """A small shop whose work book holds one plain operation."""
    made = make(tmp_path)
    books.load_workbook(made.shop, made.by("FOR"), source=BOOK)
    yield made
    made.shop.close()


def past(world: World, *, running: bool = False) -> dict[str, Record]:
    """Records by the phase's code."""
    with world.shop.reading() as db:
        return {one.phase: one for one in past_work(db, running=running)}


def closed_job(world: World, at: tuple[int, int] = (8, 0), day: int = 0) -> str:
    """A plain job done by T1 and closed; the third phase is a standing one."""
    world.to(*at, day=day)
    job = world.take("EZ", lift=None)
    for phase in ("1", "2"):
        work(world, job, phase, 30)
    phases.finish(world.shop, world.by("T1", minutes=70), job=job, phase="3")
    work(world, job, "4", 30)
    jobs.close(world.shop, world.by("FOR"), job=job)
    return job


def work(world: World, job: str, phase: str, minutes: float, badge: str = "T1") -> None:
    """Clock on, sign whatever is open, and finish."""
    world.on(badge, job, phase)
    if world.one("select 1 from step where job = ? and phase = ?", job, phase):
        world.sign(badge, job, "LOOK")
    clock.clock_off(world.shop, world.by(badge, minutes=minutes))
    phases.finish(world.shop, world.by(badge), job=job, phase=phase)


def test_hours_of_a_closed_job_teach(world: World) -> None:
    job = closed_job(world)
    found = past(world)
    rows = world.all(
        "select code, book_h, class, begun_at, finished_at from phase where job = ? "
        "and kind = 'labour' order by position", job,
    )  # fmt: skip
    assert list(found) == [row[0] for row in rows] == ["E1", "E2", "E4"]
    for seq, minutes, row in zip((1, 2, 4), (31, 30, 30), rows, strict=True):
        code, book_h, phase_class, begun_at, finished_at = row
        one = found[str(code)]
        assert (one.job, one.template, one.variant, one.seq) == (job, "EZ", "B4-M-F", seq)
        assert (one.technician, one.people, one.book_h) == ("T1", 1, book_h)
        assert (one.phase_class, one.grade, one.serves) == (phase_class, 2, ("EZ",))
        assert round(one.actual_h * 60, 6) == minutes
        assert one.started == datetime.fromisoformat(str(begun_at)).timestamp()
        assert one.closed == datetime.fromisoformat(str(finished_at)).timestamp()
        assert one.surprise_h is None


def test_only_closed_jobs_and_confirmed_clocks_teach(world: World) -> None:
    world.to(8)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 30)
    assert past(world) == {}
    assert past(world, running=True) == {}
    world.to(17)
    day_sheet.confirm_day(world.shop, world.by("T1"), day=world.now.date())
    assert past(world) == {}
    assert [one.seq for one in past(world, running=True).values()] == [1]


def test_small_jobs_and_what_is_marked_teach_nothing(world: World) -> None:
    job = closed_job(world)
    done = jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="car", hours=0.5)
    assert done.job
    work(world, done.job, "1", 20)
    jobs.close(world.shop, world.by("FOR"), job=done.job)
    before = past(world)
    assert {one.job for one in before.values()} == {job}
    first = next(iter(before.values()))
    jobs.mark_not_teaching(world.shop, world.by("FOR"), job=job, phase=str(first.seq), why="new")
    assert list(past(world)) == list(before)[1:]
    jobs.mark_not_teaching(world.shop, world.by("FOR"), job=job, phase=None, why="training")
    assert past(world) == {}


def test_lead_and_helper_count_and_a_learner_is_only_seen(world: World) -> None:
    world.to(8)
    job = world.take("EZ", lift=None)
    world.on("T1", job, "1")
    clock.clock_on(world.shop, world.by("T2", minutes=0), job=job, phase="1", part="helper")
    clock.clock_on(world.shop, world.by("APP", minutes=0), job=job, phase="1", part="learner")
    clock.clock_off(world.shop, world.by("T1", minutes=30))
    clock.clock_off(world.shop, world.by("T2", minutes=30))
    clock.clock_off(world.shop, world.by("APP", minutes=0))
    world.sign("T1", job, "LOOK")
    phases.finish(world.shop, world.by("T1"), job=job, phase="1")
    world.to(17)
    for badge in ("T1", "T2", "APP"):
        day_sheet.confirm_day(world.shop, world.by(badge), day=world.now.date())
    one = next(iter(past(world, running=True).values()))
    assert round(one.actual_h * 60, 6) == 30 + 60
    assert (one.technician, one.people) == ("T2", 3)


def test_a_finding_is_known_by_its_own_hours(world: World) -> None:
    world.to(8)
    job = world.take("EZ", lift=None)
    world.on("T1", job, "1")
    for hours, approve in ((0.7, True), (2.5, False)):
        holding.find(
            world.shop, world.by("T1"), job=job, phase="1", kind="surprise", text="stud",
            hours=hours,
        )  # fmt: skip
        holding.answer_supplement(
            world.shop, world.by("FOR"), job=job, approve=approve, told_by="them"
        )
    world.on("T1", job, "1")
    world.sign("T1", job, "LOOK")
    phases.finish(world.shop, world.by("T1"), job=job, phase="1")
    work(world, job, "2", 30)
    world.to(17)
    day_sheet.confirm_day(world.shop, world.by("T1"), day=world.now.date())
    found = list(past(world, running=True).values())
    assert [one.surprise_h for one in found] == [0.7, 0.0]


def test_a_phase_that_ended_half_way_says_at_least_so_much(world: World) -> None:
    world.to(8)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 30)
    world.on("T1", job, "2")
    clock.clock_off(world.shop, world.by("T1", minutes=45))
    phases.skip(world.shop, world.by("FOR"), job=job, phase="2", reason="another way")
    phases.finish(world.shop, world.by("T1", minutes=70), job=job, phase="3")
    work(world, job, "4", 30)
    jobs.close(world.shop, world.by("FOR"), job=job)
    found = past(world)
    assert [(code, one.cut_off) for code, one in found.items()] == [
        ("E1", False), ("E2", True), ("E4", False),
    ]  # fmt: skip
    assert round(found["E2"].actual_h * 60, 6) == 45
    assert found["E2"].closed - found["E2"].started == 45 * 60


def test_a_clock_that_ran_on_over_two_phases_is_seen(world: World) -> None:
    world.to(8)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 70)
    work(world, job, "2", 5)
    phases.finish(world.shop, world.by("T1", minutes=70), job=job, phase="3")
    work(world, job, "4", 30)
    jobs.close(world.shop, world.by("FOR"), job=job)
    assert {code: one.lumped_with for code, one in past(world).items()} == {
        "E1": 2, "E2": 1, "E4": None,
    }  # fmt: skip


def test_imported_work_stands_behind_ones_own(world: World) -> None:
    job = closed_job(world)
    old = [finished("88", 1), finished("88", 2)]
    history.import_history(world.shop, world.by("FOR"), records=old, source="o.csv")
    with world.shop.reading() as db:
        found = past_work(db)
    assert [one.job for one in found[:-2]] == [job] * (len(found) - 2)
    assert found[-2:] == old


def test_the_number_of_queries_does_not_grow(world: World) -> None:
    def queries() -> int:
        seen: list[str] = []
        with world.shop.reading() as db:
            db.set_trace_callback(seen.append)
            past_work(db, running=True)
            spans(db, running=True)
            people(db)
            db.set_trace_callback(None)
        return len(seen)

    before = queries()
    closed_job(world)
    world.to(15)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 20)
    assert queries() == before


def test_spans_are_clocks_holds_and_what_goes_without_labour(world: World) -> None:
    world.to(8)
    job = world.take("EZ", lift=None)
    world.on("T1", job, "1")
    holding.hold(
        world.shop, world.by("T1", minutes=29), job=job, phase="1", reason="parts",
        until=world.at(10),
    )  # fmt: skip
    holding.release(world.shop, world.by("T1", minutes=60), job=job, phase="1")
    world.on("T1", job, "1")
    with world.shop.reading() as db:
        assert spans(db) == []
        found = spans(db, running=True)
    kinds = [(one.kind, one.seq, one.reason, one.badge) for one in found]
    assert kinds == [
        ("labour", 1, "", "T1"), ("held", 1, "parts", ""), ("labour", 1, "", "T1"),
    ]  # fmt: skip
    assert found[1].expected == world.at(10).timestamp()
    assert found[1].ended is not None
    assert found[2].ended is None


def test_a_hold_of_the_whole_job_belongs_to_what_comes_next(world: World) -> None:
    world.to(8)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 30)
    holding.hold(world.shop, world.by("FOR"), job=job, phase=None, reason="approval")
    holding.release(world.shop, world.by("FOR", minutes=30), job=job, phase=None)
    world.on("T1", job, "2")
    with world.shop.reading() as db:
        held = [one for one in spans(db, running=True) if one.kind == "held"]
    assert held == [Span(job, 2, "held", "approval", "", held[0].started, held[0].started + 1800)]


def test_people_and_open_time(world: World) -> None:
    with world.shop.reading() as db:
        found = people(db)
        calendar = calendar_of(db)
    assert found.experience["APP"] == "apprentice 2"
    (since, until), *_ = found.employed["T1"]
    assert until is None
    assert since <= world.now.timestamp()
    day = open_spans(calendar, world.at(0).timestamp(), world.at(23).timestamp())
    assert day == [
        (world.at(7, 30).timestamp(), world.at(12).timestamp()),
        (world.at(12, 45).timestamp(), world.at(16, 30).timestamp()),
    ]
