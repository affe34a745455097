"""Whatever is typed: it is taken as one line of signs, or refused in one line and not written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from store.actions import (
    day_sheet,
    holding,
    jobs,
    people,
    phases,
    places,
    settings,
    steps,
)
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.actions.typed import BadText
from store.edges.events.shop import WeekSpan
from store.file.change import By
from store.trouble import Refused, Trouble
from tests.store.actions.made import MONDAY, PIN, World

Act = Callable[[World, str, str], object]

TEXTS: dict[str, Act] = {
    "job": lambda w, j, x: w.on("T1", x, "1"),
    "phase": lambda w, j, x: w.on("T1", j, x),
    "step": lambda w, j, x: steps.sign(w.shop, w.by("T1"), job=j, phase="1", step=x),
    "badge": lambda w, j, x: w.on(x, j, "1"),
    "pin": lambda w, j, x: people.qualify(
        w.shop, replace(w.by("OWN"), pin=x), badge="T1", what="x", until=date(2027, 1, 1)
    ),
    "new pin": lambda w, j, x: people.set_pin(w.shop, w.by("OWN"), badge="T1", pin=x),
    "answer": lambda w, j, x: steps.sign(
        w.shop, w.by("T1"), job=j, phase="1", step="1", answer=x
    ),
    "reading": lambda w, j, x: steps.sign(
        w.shop, w.by("T1"), job=j, phase="1", step="1", readings={x: 1.0}
    ),
    "reason of time": lambda w, j, x: day_sheet.enter_clock(
        w.shop, w.by("T1"), where=day_sheet.Where(reason=x), since=w.at(6), until=w.at(6, 30)
    ),
    "place": lambda w, j, x: places.move(w.shop, w.by("T1"), job=j, place=x, lift=False),
    "new place": lambda w, j, x: places.add_place(w.shop, w.by("OWN"), code=x, kind="yard"),
    "operation": lambda w, j, x: jobs.take(
        w.shop, w.by("FOR"), operations=[x], family="B4-M-F", vehicle="v"
    ),
    "option": lambda w, j, x: jobs.take(
        w.shop, w.by("FOR"), operations=["TC"], family="B4-M-F", vehicle="v", options={x: "A"}
    ),
    "option's value": lambda w, j, x: jobs.take(
        w.shop, w.by("FOR"), operations=["TC"], family="B4-M-F", vehicle="v", options={"build": x}
    ),
    "family": lambda w, j, x: jobs.take(
        w.shop, w.by("FOR"), operations=["TC"], family=x, vehicle="v"
    ),
    "new badge": lambda w, j, x: people.add_person(
        w.shop, w.by("OWN"), badge=x, name="N", role="technician"
    ),
    "setting": lambda w, j, x: settings.change_setting(w.shop, w.by("OWN"), name=x, value=1),
    "customer": lambda w, j, x: settings.erase_customer(w.shop, w.by("FOR"), customer=x),
    "hold point": lambda w, j, x: people.allow_alone(
        w.shop, w.by("OWN"), codes=[x], reason="alone"
    ),
    "reading to limit": lambda w, j, x: steps.type_limits(
        w.shop, w.by("T1"), job=j, phase="8", step="1", reading=x, low=1, high=2, source="s"
    ),
}  # fmt: skip
"""What names something: nonsense names nothing."""

FREE: dict[str, Act] = {
    "vehicle": lambda w, j, x: jobs.take_small(w.shop, w.by("T1"), text="t", vehicle=x),
    "work": lambda w, j, x: jobs.take_small(w.shop, w.by("T1"), text=x, vehicle="v"),
    "complaint": lambda w, j, x: jobs.take(
        w.shop, w.by("FOR"), operations=["TC"], family="B4-M-F", vehicle="v", complaint=x
    ),
    "hold": lambda w, j, x: holding.hold(
        w.shop, w.by("T1"), job=j, phase="1", reason="parts", text=x
    ),
    "next move": lambda w, j, x: holding.hold(
        w.shop, w.by("T1"), job=j, phase="1", reason="parts", next_move=x
    ),
    "finding": lambda w, j, x: holding.find(
        w.shop, w.by("T1"), job=j, phase="1", kind="surprise", text=x, hours=1
    ),
    "skip": lambda w, j, x: phases.skip(w.shop, w.by("FOR"), job=j, phase="1", reason=x),
    "why a clock is put right": lambda w, j, x: day_sheet.enter_clock(
        w.shop, w.by("T1"), where=day_sheet.Where(j, "1"), since=w.at(7), until=w.at(7, 30), why=x
    ),
    "not teaching": lambda w, j, x: jobs.mark_not_teaching(
        w.shop, w.by("FOR"), job=j, phase=None, why=x
    ),
    "lift": lambda w, j, x: places.withdraw_lift(w.shop, w.by("T1"), code="3", reason=x),
    "look-over": lambda w, j, x: places.look_over(w.shop, w.by("T1"), code="3", note=x),
    "inspector": lambda w, j, x: places.inspect_lift(
        w.shop, w.by("FOR"), code="3", day=date(2026, 10, 1), months=12, source="s", inspector=x
    ),
    "source of limits": lambda w, j, x: steps.type_limits(
        w.shop, w.by("T1"), job=j, phase="8", step="1", reading="nm", low=1, high=2, source=x
    ),
    "name": lambda w, j, x: people.add_person(
        w.shop, w.by("OWN"), badge="NEW", name=x, role="technician"
    ),
    "qualification": lambda w, j, x: people.qualify(
        w.shop, w.by("OWN"), badge="T1", what=x, until=date(2027, 1, 1)
    ),
    "absence": lambda w, j, x: people.set_absence(
        w.shop, w.by("FOR"), badge="T1", since=w.at(8), until=w.at(9), why=x
    ),
    "holiday": lambda w, j, x: settings.set_holiday(
        w.shop, w.by("OWN"), day=date(2026, 12, 25), name=x
    ),
}  # fmt: skip
"""What is free text."""

NONSENSE = {
    "empty": "",
    "blank": "   ",
    "long": "x" * 200,
    "endless": "x" * 100_000,
    "wide": "修理" * 40,
    "line": "one\ntwo",
    "bell": "a\x07b",
    "nul": "a\x00b",
    "escape": "\x1b[2J",
    "half": "a\ud800b",
    "turned": "ab\u202ecd",
    "separator": "a\u2028b",
    "quotes": "'; drop table job; --",
    "brackets": "[bold]{x}%s",
}


@pytest.mark.parametrize("text", sorted(NONSENSE))
@pytest.mark.parametrize("field", sorted(TEXTS))
def test_what_names_nothing_is_refused(world: World, field: str, text: str) -> None:
    world.to(9)
    job = world.take()
    world.refused(lambda: TEXTS[field](world, job, NONSENSE[text]))


SAFE = ("long", "wide", "quotes", "brackets")


@pytest.mark.parametrize("text", sorted(set(NONSENSE) - {*SAFE, "empty"}))
@pytest.mark.parametrize("field", sorted(FREE))
def test_a_text_that_is_not_one_line_of_signs_is_refused(
    world: World, field: str, text: str
) -> None:
    world.to(9)
    job = world.take()
    world.refused(lambda: FREE[field](world, job, NONSENSE[text]))


@pytest.mark.parametrize("text", SAFE)
@pytest.mark.parametrize("field", sorted(FREE))
def test_long_wide_and_odd_texts_are_kept_as_they_are(world: World, field: str, text: str) -> None:
    world.to(9)
    job = world.take()
    before = world.events()
    done = FREE[field](world, job, NONSENSE[text])
    assert done
    written = "".join(
        str(row[0]) for row in world.all("select payload from ledger where seq > ?", before)
    )
    assert NONSENSE[text] in written


NUMBERS = [float("nan"), float("inf"), float("-inf"), -1.0]


@pytest.mark.parametrize("number", NUMBERS)
def test_numbers_that_cannot_be_are_refused(world: World, number: float) -> None:
    world.to(9)
    job = world.take()
    acts: list[Callable[[], object]] = [
        lambda: world.take(lift=None, mass=number),
        lambda: jobs.take(
            world.shop, world.by("FOR"), operations=["TC"], family="B4-M-F", vehicle="v",
            basis="ceiling", ceiling=number,
        ),
        lambda: jobs.promise(
            world.shop, world.by("FOR"), job=job, at=world.at(9, 0, 5), chance=number
        ),
        lambda: holding.find(
            world.shop, world.by("T1"), job=job, phase="1", kind="surprise", text="x", hours=number
        ),
        lambda: places.add_place(
            world.shop, world.by("OWN"), code="9", kind="lift", lift_kind="x", rated_kg=number
        ),
        lambda: settings.set_rate(world.shop, world.by("OWN"), per_hour=number),
    ]  # fmt: skip
    for act in acts:
        world.refused(act)


@pytest.mark.parametrize("number", [-1, 0, 10**30, -(10**30)])
def test_numbers_of_clocks_lines_and_months_that_are_none(world: World, number: int) -> None:
    world.to(9)
    job = world.take()
    holding.find(world.shop, world.by("T1"), job=job, phase="1", kind="surprise", text="x", hours=1)
    world.refused(lambda: day_sheet.remove_clock(world.shop, world.by("T1"), clock=number))
    world.refused(
        lambda: holding.answer_supplement(
            world.shop, world.by("FOR"), job=job, approve=True, lines=[number]
        )
    )
    world.refused(
        lambda: places.inspect_lift(
            world.shop, world.by("FOR"), code="1", day=date(2026, 1, 1), months=number, source="s",
            inspector="i",
        )
    )  # fmt: skip


@pytest.mark.parametrize("grade", [0, 5, -1, 10**20])
def test_grades_that_are_none(world: World, grade: int) -> None:
    world.refused(
        lambda: jobs.take(
            world.shop, world.by("FOR"), operations=["TC"], family="B4-M-F", vehicle="v",
            grade=grade,
        )
    )  # fmt: skip


def _plan(**more: object) -> ShopPlan:
    facts: dict[str, object] = {
        "name": "Made", "zone": "Europe/Amsterdam", "currency": "EUR",
        "shifts": [WeekSpan(days=[1], start="08:00", end="16:00")], "breaks": [],
        "lifts": [LiftPlan("1", "two-post", 4000)], "owner_badge": "OWN", "owner_name": "Olga",
        "owner_pin": PIN, "rate_per_hour": 90.0, **more,
    }  # fmt: skip
    return ShopPlan(**facts)  # type: ignore[arg-type]  # wrong on purpose


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": ""}, {"name": "a\nb"}, {"name": "a\ud800"}, {"zone": "Europe/Nowhere"},
        {"currency": "euro"}, {"shifts": []}, {"lifts": [LiftPlan("", "x", 1)]},
        {"lifts": [LiftPlan("1", "x", 1), LiftPlan("1", "x", 1)]},
        {"lifts": [LiftPlan("1", "x", float("nan"))]}, {"owner_badge": ""},
        {"owner_badge": "a b"}, {"owner_name": ""}, {"owner_name": "\x1b"}, {"owner_pin": "12"},
        {"owner_pin": "abcd"}, {"owner_pin": "١٢٣٤"}, {"rate_per_hour": -1.0},
        {"rate_per_hour": float("nan")},
    ],
    ids=repr,
)  # fmt: skip
def test_a_shop_that_cannot_be_is_not_made_at_all(tmp_path: Path, wrong: dict[str, object]) -> None:
    path = tmp_path / "new.shop"
    with pytest.raises(Trouble) as caught:
        found_shop(path, By("OWN", "t", MONDAY, pin=PIN), _plan(**wrong))
    assert str(caught.value).isprintable()
    assert list(tmp_path.iterdir()) == []


def test_the_refusal_names_the_field(world: World) -> None:
    world.refused(
        lambda: places.withdraw_lift(world.shop, world.by("T1"), code="3", reason="a\nb"),
        "The reason holds a line break", kind=BadText,
    )  # fmt: skip
    world.refused(
        lambda: places.withdraw_lift(world.shop, world.by("T1"), code="3", reason=""),
        "The reason cannot be that", kind=Refused,
    )  # fmt: skip


def test_times_far_away_are_refused(world: World) -> None:
    world.to(9)
    job = world.take()
    world.refused(
        lambda: jobs.promise(
            world.shop, world.by("FOR"), job=job, at=MONDAY - timedelta(days=4000)
        ),
        "past",
    )
