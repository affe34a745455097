"""Invented floors: in trouble, calm, before anything was learned, with many lifts."""

from __future__ import annotations

from dataclasses import replace

from store.views.values import Ahead, Floor, Job, KitDue, Lane, Want
from tests.tui.made import (
    CALENDAR,
    INES,
    NOW,
    OLU,
    PER,
    RUTH,
    TOMAS,
    forecast,
    job,
    label,
    on,
    person,
    phase,
    worked,
)
from tests.tui.made_jobs import camper, estate, pickup, saloon, van


def lane(lift: str, of: Job | None, **more: object) -> Lane:
    made = Lane(lift, "two-post", 4000.0, True, None, (), of)
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself


WANTS = (
    Want(
        "ANSWER",
        "2",
        "2409",
        "2409 customer's word on the broken stud, 5.3 h; holds up 2431",
        on("Tue 13:35"),
    ),
    Want("SIGN", "5", "2426", "2426 gearbox supported; Ines or Tomas, 1 min", on("Wed 10:25")),
    Want("OVER", "3", "2420", "2420 bearings 6.3 h of 4.0"),
    Want("DUE", "3", "2420", "bearing puller back 16:00"),
    Want("CLOCK", None, None, "Per: left running since Tue 16:45 on 2411.5"),
)


def floor() -> Floor:
    """Wednesday, 10:40: five jobs, most of them in some trouble."""
    lanes = (
        lane("1", van()),
        lane("2", estate()),
        lane("3", pickup()),
        lane("4", saloon()),
        lane("5", camper(), warnings=("inspection in 6 days",)),
        lane(
            "6",
            None,
            kind="scissor",
            rated_kg=3000.0,
            free_since=on("Tue 16:00"),
            takes=("2436",),
            too_heavy=("2431",),
        ),
    )
    waiting = (
        job("2433", "old saloon", state="waiting", lacks=("centring kit",)),
        job("2431", "tipper", state="waiting", lacks=("a lift for 3.4 t",), mass_kg=3400.0),
        job("2436", "small van", state="waiting"),
    )
    return Floor(
        "Marsh Lane Works",
        NOW,
        CALENDAR,
        lanes,
        waiting,
        (),
        (
            KitDue("bearing puller", on("Wed 16:00"), False, "2420"),
            KitDue("engine locking set", on("Fri 12:00"), False, "2409"),
        ),
        WANTS,
        (INES, TOMAS, OLU, RUTH, PER, person("Mia")),
        "10:31  2433 taken in by Ruth.",
    )


def calm_floor() -> Floor:
    """The same shop on a good day."""
    estate_ = replace(
        estate(),
        held=None,
        hold=None,
        flags=(),
        phase=phase("3 covers off", 2.2, 3.0, ("B-Per",)),
        people=(person("Per", "2409.3", "Wed 09:45"),),
        past=(
            worked("2", "Tue 09:30", "Tue 14:00"),
            worked("3", "Tue 14:00", "Tue 16:30"),
            worked("3", "Wed 07:40", "Wed 10:40", going_on=True),
        ),
        ahead=(
            Ahead("labour", "3", NOW, on("Wed 11:10")),
            Ahead("labour", "4", on("Wed 11:10"), on("Wed 16:30")),
            Ahead("labour", "5", on("Thu 07:30"), on("Thu 14:35")),
        ),
        labels=(
            label("2 access", "finished", "4.1/4.0"),
            label("3 covers off", "under way", "2.2/3.0"),
            label("4 chain, guides", "to come"),
            label("5 refit", "to come"),
        ),
    )
    estate_ = forecast(estate_, "Thu 14:35", "Thu 16:25", "Fri 16:00")
    pickup_ = replace(
        pickup(),
        flags=(),
        phase=phase("2 bearings, seals", 2.6, 4.0, ("B-Tomas", "B-Olu")),
        past=(
            worked("1", "Tue 10:30", "Tue 14:00"),
            worked("2", "Tue 14:00", "Tue 16:30"),
            worked("2", "Wed 07:40", "Wed 10:40", going_on=True),
        ),
        labels=(
            label("1 strip", "finished", "3.0/3.2"),
            label("2 bearings, seals", "under way", "2.6/4.0"),
            label("3 set", "to come"),
            label("4 refit", "to come"),
        ),
    )
    pickup_ = forecast(pickup_, "Thu 09:50", "Thu 11:35", "Fri 08:00")
    camper_ = replace(
        camper(),
        flags=(),
        phase=phase("3 converter", 0.2, 2.1, ("B-Ruth",)),
        people=(person("Ruth", "2426.3", "Wed 10:28"),),
        past=(
            worked("1", "Tue 12:45", "Tue 14:00"),
            worked("2", "Tue 14:00", "Tue 16:20"),
            worked("2", "Wed 07:40", "Wed 10:28"),
            worked("3", "Wed 10:28", "Wed 10:40", going_on=True),
        ),
        ahead=(
            Ahead("labour", "3", NOW, on("Wed 12:00")),
            Ahead("labour", "4", on("Wed 12:45"), on("Thu 07:50")),
        ),
    )
    camper_ = forecast(camper_, "Thu 09:40", "Thu 13:05", "Fri 12:00")
    busy = floor()
    lanes = (
        busy.lanes[0],
        lane("2", estate_),
        lane("3", pickup_),
        lane("4", replace(saloon(), flags=())),
        lane("5", camper_),
        busy.lanes[5],
    )
    people = (
        INES,
        TOMAS,
        OLU,
        person("Ruth", "2426.3", "Wed 10:28"),
        person("Per", "2409.3", "Wed 09:45"),
    )
    return replace(busy, lanes=lanes, wants=(), people=people)


def unlearned(of: Floor) -> Floor:
    """The same floor before anything was learned: no quantiles, no chances."""
    lanes = tuple(
        replace(each, job=replace(each.job, promise_chance=None, finish_quantiles=()))
        if each.job
        else each
        for each in of.lanes
    )
    return replace(of, lanes=lanes)


def many_lifts(count: int) -> Floor:
    """A floor of that many lifts, the jobs of `floor` over and over."""
    busy = floor()
    lanes = tuple(replace(busy.lanes[n % 6], lift=str(n + 1)) for n in range(count))
    return replace(busy, lanes=lanes)


def full_house(lifts: int = 24, jobs: int = 200) -> Floor:
    """A large shop: every lift taken, many jobs outside, forty people."""
    busy = floor()
    on_lifts = [lane.job for lane in busy.lanes if lane.job is not None]
    lanes = tuple(
        lane(str(n + 1), replace(on_lifts[n % 5], number=str(3001 + n))) for n in range(lifts)
    )
    rest = range(jobs - lifts)
    outside = tuple(
        job(str(3101 + n), ("estate", "tipper", "small van")[n % 3], work="clutch and flywheel",
            state="waiting" if n % 2 else "off-lift", place=None if n % 2 else "yard",
            lacks=("a lift",) if n % 4 else ("parts", "a lift"))
        for n in rest
    )  # fmt: skip
    wants = tuple(
        replace(want, lift=each.lift, job=each.job.number, says=f"{each.job.number}{want.says[4:]}")
        for want in busy.wants[:3]
        for each in lanes[("ANSWER", "SIGN", "OVER").index(want.word) + 1 :: 5]
        if each.job is not None
    )
    people = tuple(
        person(f"{name} {n}", f"{3001 + (4 * n + nth) % lifts}.2", "Wed 09:50")
        for n in range(10)
        for nth, name in enumerate(("Ines", "Tomas", "Olu", "Per"))
    )
    return replace(
        busy, lanes=lanes, wants=wants, people=people,
        waiting=tuple(one for one in outside if one.state == "waiting"),
        elsewhere=tuple(one for one in outside if one.state != "waiting"),
    )  # fmt: skip
