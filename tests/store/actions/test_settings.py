"""What the owner sets holds from a day on: figures of the past never move."""

from __future__ import annotations

from datetime import date

import pytest

from store.actions import day_sheet, people, settings
from store.edges.events.shop import WeekSpan
from store.file.facts import calendar_of, rate_on
from store.file.labour import phase_labour_h
from tests.store.actions.made import World

TODAY = date(2026, 10, 12)
LONG = [WeekSpan(days=[1, 2, 3, 4, 5], start="06:00", end="20:00")]


def _labour(w: World, job: str) -> float:
    with w.shop.reading() as db:
        return phase_labour_h(db, calendar_of(db), job, "1", w.now)


def test_past_days_are_refused(world: World) -> None:
    past = date(2026, 10, 11)
    for act in (
        lambda: settings.set_calendar(
            world.shop, world.by("OWN"), shifts=LONG, breaks=[], from_day=past
        ),
        lambda: settings.set_holiday(world.shop, world.by("OWN"), day=past, name="fair"),
        lambda: settings.clear_holiday(world.shop, world.by("OWN"), day=past),
        lambda: settings.set_rate(world.shop, world.by("OWN"), per_hour=1, from_day=past),
        lambda: people.change_person(
            world.shop, world.by("OWN"), badge="T1", name="Tim", since=past
        ),
    ):
        world.refused(act, "past")


def test_labour_of_the_past_does_not_move_when_the_calendar_changes(world: World) -> None:
    world.to(8)
    job = world.take()
    world.on("T1", job, "1")
    world.to(15)
    world.off("T1")
    before = _labour(world, job)
    world.to(8, 0, 1)
    settings.set_calendar(world.shop, world.by("OWN"), shifts=LONG, breaks=[])
    settings.set_holiday(world.shop, world.by("OWN"), day=date(2026, 10, 14), name="fair")
    assert _labour(world, job) == before
    with world.shop.reading() as db:
        calendar = calendar_of(db)
    assert calendar.working_h(world.at(0), world.at(23)) == 8.25
    assert calendar.working_h(world.at(0, 0, 1), world.at(23, 0, 1)) == 14.0
    assert calendar.working_h(world.at(0, 0, 2), world.at(23, 0, 2)) == 0.0
    settings.clear_holiday(world.shop, world.by("OWN"), day=date(2026, 10, 14))
    world.refused(
        lambda: settings.clear_holiday(world.shop, world.by("OWN"), day=date(2026, 10, 14)),
        "no holiday",
    )


def test_a_rate_holds_from_its_day_on(world: World) -> None:
    settings.set_rate(world.shop, world.by("OWN"), per_hour=100, from_day=date(2026, 11, 1))
    with world.shop.reading() as db:
        rates = [rate_on(db, day) for day in (date(2019, 1, 1), TODAY, date(2026, 11, 1))]
    assert rates == [None, 90.0, 100.0]
    for price in (-1.0, float("nan"), float("inf"), 1e12):
        world.refused(
            lambda p=price: settings.set_rate(world.shop, world.by("OWN"), per_hour=p)  # type: ignore[misc]  # bound at once
        )


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("cautious", 0.4), ("cautious", 1.0), ("cautious", float("nan")), ("cautious", True),
        ("cautious", "0.8"), ("first job", 0), ("first job", 1.5), ("first job", float("nan")),
        ("first job", float("inf")), ("first job", 1e12), ("overdue lift refused", 1.0),
        ("small job hours", -1), ("signed alone", 1), ("colour", 1), ("", 1),
    ],
)  # fmt: skip
def test_settings_that_cannot_be(world: World, name: str, value: float | bool | str) -> None:
    world.refused(
        lambda: settings.change_setting(world.shop, world.by("OWN"), name=name, value=value)
    )


def test_the_first_job_number_is_a_setting(world: World) -> None:
    settings.change_setting(world.shop, world.by("OWN"), name="first job", value=5000.0)
    assert world.take() == "5000"
    assert world.take(lift="2") == "5001"


def test_attendance_and_absence(world: World) -> None:
    world.to(9)
    people.set_attendance(world.shop, world.by("T1"), badge="T1", day=TODAY, hours=4)
    world.refused(
        lambda: people.set_attendance(world.shop, world.by("T1"), badge="T2", day=TODAY, hours=4)
    )
    for hours in (-1.0, 25.0, float("nan")):
        world.refused(
            lambda h=hours: people.set_attendance(  # type: ignore[misc]  # bound at once
                world.shop, world.by("T1"), badge="T1", day=TODAY, hours=h
            )
        )
    world.refused(
        lambda: people.set_attendance(
            world.shop, world.by("T1"), badge="T1", day=date(2026, 10, 13), hours=1
        ),
        "not come yet",
    )
    world.refused(
        lambda: people.set_absence(
            world.shop, world.by("FOR"), badge="T1", since=world.at(9), until=world.at(8), why="x"
        ),
        "before it begins",
    )


def test_a_confirmed_day_of_another_takes_a_foreman(world: World) -> None:
    world.to(8)
    job = world.take()
    world.do("T1", job, "1")
    world.refused(lambda: day_sheet.confirm_day(world.shop, world.by("T2"), day=TODAY, badge="T1"))
    day_sheet.confirm_day(world.shop, world.by("FOR"), day=TODAY, badge="T1")
    assert world.all("select badge from day_confirmed join person on person.person = by") == [
        ("FOR",)
    ]
