"""Whose name counts under a hold point, and what a reading outside its limits does."""

from __future__ import annotations

from datetime import date

from store.actions import clock, holding, jobs, people, phases, places, steps
from store.actions.steps import AlreadySigned
from store.actions.trouble import MayNot, NoSuch, PinNeeded
from tests.store.actions.made import World

GOOD = {"a": 0.1, "b": 0.12}
BAD = {"a": 0.1, "b": 0.42}


def _raised(w: World) -> str:
    w.to(8)
    job = w.take()
    w.do("T2", job, "1")
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    return job


def _at_phase(w: World, phase: str) -> str:
    """A job whose phases before that one are left out or done."""
    job = _raised(w)
    w.sign("T2", job, "LK", readings=GOOD)
    w.sign("FOR", job, "LK")
    w.finish("T2", job, "2")
    w.on("T2", job, "3")
    w.sign("T2", job, "BU", answer="A")
    w.finish("T2", job, "3")
    w.do("T2", job, "4")
    w.on("T2", job, "5")
    w.sign("T2", job, "GR", readings={"grams": 300})
    w.finish("T2", job, "5")
    if phase > "6":
        w.on("T2", job, "6")
        w.sign("FOR", job, "SEEN")
        w.finish("T2", job, "6")
        w.finish("T2", job, "7")
    w.on("T2", job, phase)
    return job


def test_two_names_are_two_people(world: World) -> None:
    job = _raised(world)
    world.sign("T1", job, "LK", readings=GOOD)
    world.refused(lambda: world.sign("T1", job, "LK"), "takes a second person's")
    world.refused(lambda: world.sign("T1", job, "LK", readings=GOOD), "takes a second person's")
    world.sign("T2", job, "LK")
    world.refused(lambda: world.sign("FOR", job, "LK"), "was signed at", kind=AlreadySigned)


def test_a_measure_out_of_limits_between_makes_no_third_name_of_one(world: World) -> None:
    job = _raised(world)
    world.sign("T1", job, "LK", readings=GOOD)
    world.sign("T2", job, "LK", readings=BAD)
    assert world.step(job, "LK").state == "out"
    world.sign("T2", job, "LK", readings=GOOD)
    assert world.step(job, "LK").state == "half"
    world.refused(lambda: world.sign("T2", job, "LK"), "takes a second person's")
    world.sign("T1", job, "LK")
    assert world.step(job, "LK").state == "done"


def test_the_owners_list_lets_one_person_sign_twice(world: World) -> None:
    job = _raised(world)
    world.sign("T1", job, "LK", readings=GOOD)
    people.allow_alone(world.shop, world.by("OWN"), codes=["LK"], reason="shop of one")
    world.sign("T1", job, "LK")
    assert world.step(job, "LK").state == "done"
    payload = world.one("select payload from ledger where kind = 'setting-changed'")
    assert "shop of one" in str(payload)
    world.refused(
        lambda: people.allow_alone(world.shop, world.by("OWN"), codes=["XX"], reason="r"),
        "no hold point XX",
    )


def test_an_apprentice_signs_first_but_never_alone_and_never_second(world: World) -> None:
    job = world.take()
    world.do("T2", job, "1")
    world.on("APP", job, "2")
    world.refused(lambda: world.sign("APP", job, "HL", readings={"gross": 2000}), kind=MayNot)
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "LK", readings=GOOD)
    world.refused(lambda: world.sign("APP", job, "LK"), "apprentice", kind=MayNot)
    world.sign("FOR", job, "LK")


def test_a_second_name_takes_the_pin(world: World) -> None:
    job = _raised(world)
    world.sign("T2", job, "LK", readings=GOOD)
    step = world.step(job, "LK")
    world.shop.proven.clear()
    world.refused(
        lambda: steps.sign(
            world.shop, world.by("T1", pin=None), job=job, phase="2", step=step.step
        ),
        kind=PinNeeded,
    )


def test_a_qualification_holds_to_the_end_of_its_last_day(world: World) -> None:
    job = _raised(world)
    world.sign("T2", job, "LK", readings=GOOD)
    world.sign("FOR", job, "LK")
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    world.sign("T2", job, "BU", answer="A")
    world.finish("T2", job, "3")
    world.do("T2", job, "4")
    world.refused(lambda: world.on("T1", job, "5"), "qualified for refrigerant", "Ask T2")
    people.qualify(
        world.shop, world.by("OWN"), badge="T1", what="refrigerant", until=date(2026, 10, 12)
    )
    world.on("T1", job, "5")
    world.to(8, 0, 1)
    world.refused(lambda: world.sign("T1", job, "GR", readings={"grams": 300}), "is not today")
    world.sign("T2", job, "GR", readings={"grams": 300})


def test_a_helper_needs_none_while_somebody_qualified_leads(world: World) -> None:
    job = _raised(world)
    world.sign("T2", job, "LK", readings=GOOD)
    world.sign("FOR", job, "LK")
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    world.sign("T2", job, "BU", answer="A")
    world.finish("T2", job, "3")
    world.do("T2", job, "4")
    world.refused(
        lambda: clock.clock_on(world.shop, world.by("APP"), job=job, phase="5", part="learner"),
        "takes somebody qualified for refrigerant in the lead",
    )
    world.on("T2", job, "5")
    clock.clock_on(world.shop, world.by("APP"), job=job, phase="5", part="learner")


def test_a_fitter_does_not_pass_the_own_work_where_somebody_else_can(world: World) -> None:
    job = _at_phase(world, "8")
    steps.type_limits(
        world.shop, world.by("T2"), job=job, phase="8", step="1", reading="nm", low=80, high=120,
        source="data sheet 4",
    )  # fmt: skip
    says = world.refused(
        lambda: world.sign("T2", job, "TQ", readings={"nm": 100}), "did not work on", "Ask"
    )
    assert "App" not in says
    world.on("FOR", job, "8")
    world.refused(lambda: world.sign("FOR", job, "TQ", readings={"nm": 200}), "did not work on")
    world.sign("OWN", job, "TQ", readings={"nm": 200})
    world.refused(lambda: world.sign("FOR", job, "TQ", as_is="tight enough"), "did not work on")
    world.sign("T1", job, "TQ", readings={"nm": 100})


def test_where_nobody_else_is_left_the_fitter_signs(world: World) -> None:
    job = _at_phase(world, "8")
    steps.type_limits(
        world.shop, world.by("T2"), job=job, phase="8", step="1", reading="nm", low=80, high=120,
        source="data sheet 4",
    )  # fmt: skip
    for badge in ("T1", "FOR", "OWN"):
        world.on(badge, job, "8")
        world.off(badge)
    assert world.step(job, "TQ").state == "open"
    world.sign("T2", job, "TQ", readings={"nm": 100})
    assert world.step(job, "TQ").state == "done"


def test_out_of_limits_is_kept_holds_and_stops_the_clocks(world: World) -> None:
    job = _raised(world)
    world.on("T1", job, "2")
    done = world.sign("T2", job, "LK", readings=BAD)
    assert "0.42" in done.says
    assert "0.05 to 0.30" in done.says
    assert "Stopped: the clock of T2, T1" in done.says
    assert world.all("select reason, phase from hold where until is null") == [("reading", "2")]
    world.refused(lambda: holding.release(world.shop, world.by("FOR"), job=job, phase="2"))
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.35})
    world.sign("T2", job, "LK", readings=GOOD)
    assert world.one("select count(*) from signature where step = '3' and not void") == 3
    assert world.one("select count(*) from hold where until is null") == 0


def test_a_finding_takes_over_from_the_reading(world: World) -> None:
    job = _raised(world)
    world.sign("T2", job, "LK", readings=BAD)
    holding.find(
        world.shop, world.by("T2"), job=job, phase="2", kind="surprise", text="pin worn", hours=2
    )
    assert world.all("select reason from hold where until is null") == [("approval",)]
    world.refused(lambda: world.sign("T2", job, "LK", readings=GOOD), "customer's word")
    holding.answer_supplement(world.shop, world.by("FOR"), job=job, approve=True)
    world.refused(lambda: world.finish("T2", job, "2"), "not finished before")
    world.sign("T2", job, "LK", readings=GOOD)


def test_a_reading_is_let_stand_by_a_foreman_with_a_reason_only(world: World) -> None:
    job = _raised(world)
    world.refused(lambda: world.sign("FOR", job, "LK", as_is="why not"), "no reading outside")
    world.sign("T2", job, "LK", readings=BAD)
    world.refused(lambda: world.sign("T1", job, "LK", as_is="fine"), kind=MayNot)
    world.refused(lambda: world.sign("FOR", job, "LK", as_is=""), "reason")
    world.refused(lambda: world.sign("FOR", job, "LK", readings=GOOD, as_is="x"), "inside")
    world.sign("FOR", job, "LK", as_is="engine scrapped")
    row = world.all("select as_is, badge from signature join person on as_is_by = person.person")
    assert row == [("engine scrapped", "FOR")]
    assert world.one("select count(*) from hold where until is null") == 0


def test_a_lifts_capacity_is_never_let_stand(world: World) -> None:
    job = world.take()
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.refused(
        lambda: world.sign("FOR", job, "HL", readings={"gross": 4200}, as_is="short lift"),
        "never let stand",
    )
    steps.type_limits(
        world.shop, world.by("T2"), job=job, phase="2", step="1", reading="gross", low=0,
        high=9000, source="guess",
    )  # fmt: skip
    world.sign("T2", job, "HL", readings={"gross": 4200})
    assert world.step(job, "HL").state == "out"
    world.refused(lambda: world.sign("OWN", job, "HL", as_is="only once"), "never let stand")


def test_limits_are_typed_with_their_source_before_and_widened_by_a_foreman_only(
    world: World,
) -> None:
    job = _at_phase(world, "8")
    world.refused(lambda: world.sign("T1", job, "TQ", readings={"nm": 100}), "Type them first")

    def widen(badge: str, low: float | None, high: float | None, reading: str = "nm") -> object:
        return steps.type_limits(
            world.shop, world.by(badge), job=job, phase="8", step="1", reading=reading, low=low,
            high=high, source="data sheet 4",
        )  # fmt: skip

    world.refused(lambda: widen("T2", None, None), "low or a high")
    world.refused(lambda: widen("T2", 5, 4), "lies above")
    world.refused(lambda: widen("T2", float("nan"), 4), "low cannot be that")
    world.refused(lambda: widen("T2", 1, 2, "x"), "nm", kind=NoSuch)
    widen("T2", 80, 90)
    world.sign("T1", job, "TQ", readings={"nm": 100})
    world.refused(lambda: widen("T2", 80, 120), kind=MayNot)
    widen("FOR", 80, 120)
    world.sign("T1", job, "TQ", readings={"nm": 100})
    world.refused(lambda: widen("FOR", 1, 2), "signed already")
    assert world.all("select low, high, source from step_limit") == [(80, 120, "data sheet 4")]


def test_readings_that_are_none_or_too_many_are_refused(world: World) -> None:
    job = _raised(world)
    nan, huge = float("nan"), float("inf")
    world.refused(lambda: world.sign("T2", job, "LK"), "takes a reading")
    world.refused(lambda: world.sign("T2", job, "LK", readings={"a": 0.1}), "takes a reading")
    world.refused(lambda: world.sign("T2", job, "LK", readings={"a": nan, "b": 0.1}))
    world.refused(lambda: world.sign("T2", job, "LK", readings={"a": 0.1, "b": huge}))
    world.refused(lambda: world.sign("T2", job, "LK", readings={**GOOD, "c": 1}), "no reading c")
    world.refused(lambda: world.sign("T2", job, "GB-off:1", readings={"a": 1}), "takes no reading")
    world.refused(lambda: world.sign("T2", job, "LK", readings=GOOD, answer="A"), "no decision")


def test_a_hold_for_makers_data_sought_is_released_and_stops_no_measuring(world: World) -> None:
    job = _raised(world)
    holding.hold(world.shop, world.by("T1"), job=job, phase="2", reason="reading", text="data")
    holding.release(world.shop, world.by("T1"), job=job, phase="2")
    holding.hold(world.shop, world.by("T1"), job=job, phase="2", reason="reading", text="data")
    before = world.one("select count(*) from signature where not void")
    world.sign("T2", job, "LK", readings=GOOD)
    assert world.one("select count(*) from signature where not void") == before + 1  # type: ignore[operator]  # a count
    holding.hold(world.shop, world.by("T1"), job=job, phase=None, reason="reading", text="data")
    holding.release(world.shop, world.by("T1"), job=job)
    assert world.one("select count(*) from hold where phase is null and until is null") == 0


def test_a_void_reading_can_be_taken_again_while_its_hold_still_runs(world: World) -> None:
    job = _at_phase(world, "8")
    steps.type_limits(
        world.shop, world.by("T2"), job=job, phase="8", step="1", reading="nm", low=80, high=90,
        source="data",
    )  # fmt: skip
    world.sign("T1", job, "TQ", readings={"nm": 100})
    phases.reopen(world.shop, world.by("T1"), job=job, phase="6")
    assert world.step(job, "TQ").state == "open"
    world.sign("FOR", job, "SEEN")
    world.finish("T2", job, "6")
    world.finish("T2", job, "7")
    world.sign("T1", job, "TQ", readings={"nm": 85})
    assert world.one("select count(*) from hold where until is null") == 0


def test_conditions_open_and_end_with_their_steps_and_forbid_their_deeds(world: World) -> None:
    world.to(8)
    job = world.take("WP")
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "W1:1")
    held = "select code from condition order by code"
    assert world.all(held) == [("no-coolant",), ("wheels-loose",)]
    world.refused(
        lambda: places.move(world.shop, world.by("T1"), job=job, place="2", lift=True),
        "wheels not tightened", "moving",
    )  # fmt: skip
    world.refused(lambda: jobs.close(world.shop, world.by("FOR"), job=job), "cannot be closed")
    world.finish("T2", job, "2")
    world.refused(
        lambda: phases.skip(world.shop, world.by("FOR"), job=job, phase="5", reason="no"),
    )
    world.do("T2", job, "3")
    world.finish("T2", job, "4")
    world.on("T2", job, "5")
    world.refused(lambda: world.sign("T2", job, "fire"), "waits for the hold point")
    world.sign("T2", job, "HF", readings={"litres": 0})
    world.sign("T1", job, "HF")
    assert world.all(held) == [("wheels-loose",)]
    world.sign("T2", job, "fire")
    world.finish("T2", job, "5")
    world.on("T2", job, "6")
    world.refused(lambda: world.sign("T2", job, "Z2:1"), "wheels not tightened")
    phases.reopen(world.shop, world.by("T1"), job=job, phase="5")
    assert world.all(held) == [("no-coolant",), ("wheels-loose",)]


def test_a_vehicle_that_sits_fixed_or_out_of_balance_stays(world: World) -> None:
    job = _raised(world)
    world.refused(
        lambda: places.move(world.shop, world.by("T1"), job=job, place="2", lift=True), "sits fixed"
    )


def test_a_left_running_clock_of_a_colleague_does_not_stop_a_reading(world: World) -> None:
    job = _raised(world)
    world.on("T1", job, "2")
    world.off("T2")
    world.to(8, 0, 1)
    done = world.sign("T2", job, "LK", readings=BAD)
    assert "is held" in done.says
    assert world.one("select count(*) from clock where until is null") == 1
    world.refused(lambda: world.off("T1"), "left running")
