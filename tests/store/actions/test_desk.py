"""From the first call to the vehicle in the yard."""

from __future__ import annotations

from datetime import date

import pytest

from store.actions import places
from store.actions.desk import acts as desk
from store.actions.trouble import MayNot
from tests.store.actions.made import World
from tests.store.made_desk import FAMILY, KIM, agreed, arrived, enquiry, passed, with_checks


@pytest.fixture(autouse=True)
def _checked(world: World) -> None:
    with_checks(world)


def state(world: World, job: str) -> object:
    return world.one("select state from job where job = ?", job)


def phases_of(world: World, job: str) -> list[tuple[object, ...]]:
    return world.all("select phase, code, state from phase where job = ? order by position", job)


# -- the call


def test_an_enquiry_needs_no_more_than_how_the_vehicle_is_called(world: World) -> None:
    job = enquiry(world)
    assert world.all("select state, operations, family from job where job = ?", job) == [
        ("enquiry", "[]", "")
    ]
    assert phases_of(world, job) == []


def test_numbers_go_on_from_those_of_other_jobs(world: World) -> None:
    first = world.take("SE", lift=None)
    assert enquiry(world) == str(int(first) + 1)


def test_a_known_plate_is_the_vehicle_again(world: World) -> None:
    job = arrived(world)
    desk.identify(world.shop, world.by("T1"), job=job, plate="ab-12")
    desk.turn_away(world.shop, world.by("FOR"), job=job, why="not ours")
    again = enquiry(world, vehicle="AB-12")
    vehicles = world.all("select distinct vehicle from job where job in (?, ?)", job, again)
    assert len(vehicles) == 1


def test_an_apprentice_may_pick_up_the_telephone(world: World) -> None:
    assert desk.enquire(world.shop, world.by("APP"), vehicle="van").job


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"vehicle": " "}, "which vehicle"),
        ({"vehicle": "van", "operations": ["XX"]}, "no operation 'XX'"),
        ({"vehicle": "van", "family": "B4"}, "no family"),
        ({"vehicle": "van", "operations": ["SE"], "options": {"seat": "gone"}}, "cannot be"),
        ({"vehicle": "van", "grade": 5}, "1 clean"),
        ({"vehicle": "van", "customer": (" ", "1")}, "name"),
        ({"vehicle": "van", "customer": ("a\nb" * 90, "1")}, "200 signs"),
        ({"vehicle": "Kim's van", "customer": KIM}, "the customer"),
        ({"vehicle": "van", "complaint": "Invented says: noise", "customer": KIM}, "the customer"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_leaves_no_trace(
    world: World, said: dict[str, object], words: str
) -> None:
    world.refused(lambda: desk.enquire(world.shop, world.by("T1"), **said), words)  # type: ignore[arg-type]  # what was typed


def test_work_is_chosen_before_anything_is_agreed(world: World) -> None:
    job = enquiry(world)
    done = desk.choose_work(
        world.shop, world.by("T1"), job=job, operations=["PU", "SE"], family=FAMILY,
        options={"seat": "worn"}, complaint="drips", grade=3,
    )  # fmt: skip
    assert "seal + pump" in done.says
    assert world.all(
        "select work, operations, family, options, complaint, grade from job where job = ?", job
    ) == [("seal + pump", '["SE", "PU"]', FAMILY, '{"seat":"worn"}', "drips", 3)]
    assert world.one("select vehicle.family from vehicle join job using (vehicle)") == FAMILY


def test_what_is_said_of_the_vehicle_holds_while_the_work_is_the_same(world: World) -> None:
    job = enquiry(world, "SE")
    choose = desk.choose_work
    choose(world.shop, world.by("T1"), job=job, operations=["SE"], options={"seat": "worn"})
    choose(world.shop, world.by("T1"), job=job, operations=["SE"], complaint="more oil")
    assert world.one("select options from job where job = ?", job) == '{"seat":"worn"}'
    choose(world.shop, world.by("T1"), job=job, operations=["PU"])
    assert world.one("select options from job where job = ?", job) == "{}"


def test_agreed_work_is_not_chosen_anew(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    agreed(world, job)
    world.refused(
        lambda: desk.choose_work(world.shop, world.by("T1"), job=job, operations=["PU"]),
        "agreed already",
    )


# -- the day


def test_a_day_is_booked_and_booked_anew(world: World) -> None:
    job = enquiry(world, "SE")
    desk.book(world.shop, world.by("T1"), job=job, day=date(2026, 10, 14), deposit=50)
    desk.book(world.shop, world.by("T1"), job=job, day=date(2026, 10, 15), note="spare key")
    assert world.all("select state, arrives from job where job = ?", job) == [
        ("booked", "2026-10-15")
    ]
    assert world.one("select count(*) from booking where job = ?", job) == 2


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (date(2026, 10, 17), "Mon 2026-10-19"),
        (date(2026, 10, 9), "Mon 2026-10-12"),
        (date(2036, 10, 9), "years ahead"),
    ],
)
def test_a_day_on_which_nobody_works_is_refused_with_the_next(
    world: World, day: date, words: str
) -> None:
    job = enquiry(world)
    world.refused(lambda: desk.book(world.shop, world.by("T1"), job=job, day=day), words)


def test_a_vehicle_that_is_here_is_not_booked(world: World) -> None:
    job = arrived(world)
    world.refused(
        lambda: desk.book(world.shop, world.by("T1"), job=job, day=date(2026, 10, 14)), "is here"
    )


# -- the arrival


def test_a_vehicle_is_received_with_all_that_is_seen_of_it(world: World) -> None:
    job = enquiry(world, "SE")
    desk.arrive(
        world.shop, world.by("T1"), job=job, odometer=98_000, unit="km", grade=3, place="Y",
        lamps="oil", photographs="card 4",
        identity=desk.Identity("1" * 17, "ab-12", "E1", "G1", 1800),
    )  # fmt: skip
    assert state(world, job) == "arrived"
    assert world.all("select lamps, photographs from arrival where job = ?", job) == [
        ("oil", "card 4")
    ]
    assert world.all("select value, unit from odometer") == [(98_000, "km")]
    assert world.all(
        "select vin, plate, engine, gearbox, mass_kg, grade, code from job "
        "join vehicle using (vehicle) join job_place using (job) join place using (place) "
        "where job = ?",
        job,
    ) == [("1" * 17, "AB-12", "E1", "G1", 1800, 3, "Y")]


def test_one_that_nobody_announced_is_asked_and_received_in_one_act(world: World) -> None:
    done = desk.arrive(
        world.shop, world.by("T1"), vehicle="grey car", complaint="noise", customer=KIM,
        operations=["SE"], family=FAMILY, odometer=10, unit="miles",
    )  # fmt: skip
    assert done.job is not None
    assert state(world, done.job) == "arrived"
    assert [one[1] for one in phases_of(world, done.job)] == ["R0", "SQ"]
    assert world.one("select count(*) from entry where job = ?", done.job) == 1


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (97_999, "km", ("97,999 km", "98,000 km")),
        (60_893, "miles", ("60,893 miles", "60,894 miles")),
        (-1, "km", ("0 to",)),
        (10, "leagues", ("km or miles",)),
    ],
)
def test_an_odometer_does_not_run_backwards(
    world: World, value: float, unit: str, words: tuple[str, ...]
) -> None:
    job = arrived(world)
    desk.turn_away(world.shop, world.by("FOR"), job=job, why="no time")
    again = enquiry(world, "SE")
    world.refused(
        lambda: desk.arrive(world.shop, world.by("T1"), job=again, odometer=value, unit=unit),
        *words,
    )
    desk.arrive(world.shop, world.by("T1"), job=again, odometer=60_894, unit="miles")


def test_a_vehicle_arrives_once(world: World) -> None:
    job = arrived(world)
    world.refused(lambda: desk.arrive(world.shop, world.by("T1"), job=job), job, "here already")
    other = enquiry(world, "SE")
    world.refused(lambda: desk.arrive(world.shop, world.by("T1"), job=other), job, "blue van")
    world.refused(
        lambda: desk.arrive(world.shop, world.by("T1"), vehicle="blue van", family=FAMILY), job
    )


def test_a_vehicle_that_stands_on_a_lift_is_here_however_it_came(world: World) -> None:
    job = world.take("SE", "1")
    label = world.one("select label from job join vehicle using (vehicle) where job = ?", job)
    other = enquiry(world, "SE", vehicle=str(label))
    world.refused(lambda: desk.arrive(world.shop, world.by("T1"), job=other), job, "at 1")


def test_a_vehicle_that_was_given_back_may_come_again(world: World) -> None:
    job = arrived(world)
    desk.decline(world.shop, world.by("FOR"), job=job, why="too dear")
    assert arrived(world) != job


@pytest.mark.parametrize("vin", ["123", "I" * 17, "1" * 16 + "2"])
def test_a_number_that_is_none_is_refused(world: World, vin: str) -> None:
    job = enquiry(world, "SE")
    said = desk.Identity(vin=vin)
    world.refused(lambda: desk.arrive(world.shop, world.by("T1"), job=job, identity=said))
    world.refused(lambda: desk.identify(world.shop, world.by("T1"), job=job, vin=vin))


def test_a_check_digit_that_need_not_fit_is_only_said(world: World) -> None:
    job = enquiry(world, "SE")
    done = desk.identify(world.shop, world.by("T1"), job=job, vin="W" + "1" * 16)
    assert "check digit" in done.says


def test_a_number_that_is_known_is_that_vehicle(world: World) -> None:
    job = arrived(world, "SE")
    desk.identify(world.shop, world.by("T1"), job=job, vin="1" * 17)
    desk.turn_away(world.shop, world.by("FOR"), job=job, why="no time")
    again = enquiry(world, "SE", vehicle="some van")
    desk.identify(world.shop, world.by("T1"), job=again, vin="1" * 17)
    assert world.one("select count(distinct vehicle) from job where job in (?, ?)", job, again) == 1
    assert world.all("select work, state from job where job = ?", again) == [("seal", "enquiry")]


def test_the_number_of_another_vehicle_is_no_slip_that_goes_through(world: World) -> None:
    for vehicle, vin in (("one", "1" * 17), ("two", "1G4AH59H45G118341")):
        job = enquiry(world, "SE", vehicle=vehicle)
        desk.identify(world.shop, world.by("T1"), job=job, vin=vin)
    third = enquiry(world, "SE", vehicle="one")
    world.refused(
        lambda: desk.identify(world.shop, world.by("T1"), job=third, vin="1G4AH59H45G118341"),
        "two", "one",
    )  # fmt: skip


def test_what_is_known_already_is_not_written_twice(world: World) -> None:
    job = enquiry(world, "SE")
    desk.identify(world.shop, world.by("T1"), job=job, plate="AB-12")
    world.refused(
        lambda: desk.identify(world.shop, world.by("T1"), job=job, plate="ab-12"), "already"
    )


def test_an_apprentice_does_not_receive_a_vehicle_alone(world: World) -> None:
    job = enquiry(world, "SE")
    world.refused(lambda: desk.arrive(world.shop, world.by("APP"), job=job), kind=MayNot)


def test_a_taken_lift_takes_no_arrival(world: World) -> None:
    first = world.take("SE", "1")
    job = enquiry(world, "SE")
    world.refused(
        lambda: desk.arrive(world.shop, world.by("T1"), job=job, place="1"), "taken", first
    )
    desk.arrive(world.shop, world.by("T1"), job=job, place="2")
    assert state(world, job) == "arrived"
    places.move(world.shop, world.by("T1"), job=job, place="Y", lift=False)
    assert state(world, job) == "arrived"


def test_a_vehicle_is_received_before_its_work_is_known(world: World) -> None:
    job = enquiry(world)
    done = desk.arrive(world.shop, world.by("T1"), job=job)
    assert "First the check" not in done.says
    assert (state(world, job), phases_of(world, job)) == ("arrived", [])
