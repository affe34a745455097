"""The desk by keys: from a call to a job that waits for a lift, and every way out of it."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from store.actions import calls, clock, jobs, phases
from store.actions.desk import acts as desk
from store.file.shop import Shop
from store.file.verify import verify
from store.views.job import job_card
from store.views.ledger import ledger
from tests.tui.desk.ready import JOB, OWNER, called, chosen, here, in_check, quoted
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import PIN, Pen, founded, kinds, last
from tui.desk.screen import DeskScreen
from tui.floor.screen import FloorScreen
from tui.intake.screen import IntakeScreen
from tui.job.screen import JobScreen
from tui.parts.where import BAY, DESK, FLOOR, Where

TALL = (120, 40)


def payload(shop: Shop, kind: str) -> dict[str, Any]:
    """What the newest entry of that kind says."""
    return [one.payload for one in ledger(shop) if one.kind == kind][-1]


def state(shop: Shop, pen: Pen, job: str = JOB) -> str:
    return job_card(shop, job, pen.now + timedelta(hours=2)).job.state


def cursor(at: Terminal) -> str | None:
    screen = at.screen
    assert isinstance(screen, DeskScreen)
    return screen.cursor


async def test_one_key_from_the_floor_and_esc_back(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        assert "desk  Marsh Lane Works" in await at.keys("d")
        await at.keys("Esc")
        assert isinstance(at.app.screen, FloorScreen)


async def test_everybody_finds_it_among_all_actions(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("F9", "desk calls", "Enter")
        assert isinstance(at.app.screen, DeskScreen)


async def test_a_call_in_few_keys(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("e", "AB-12-C", "Enter", "leaks oil", "Enter", OWNER[0], "Enter", OWNER[1],
                      "Enter", "Enter")  # fmt: skip
        assert f"{JOB} is an enquiry" in at.said
        assert cursor(at) == JOB
        await at.keys("up")
        assert f"{OWNER[0]}, {OWNER[1]}; says: leaks oil" in at.text
    opened = payload(shop, "job-opened")
    assert (opened["state"], opened["complaint"]) == ("enquiry", "leaks oil")
    told = "".join(str(one.payload) for one in ledger(shop) if one.seq > before)
    assert OWNER[0] not in told
    assert OWNER[1] not in told


async def test_a_call_that_says_only_the_vehicle(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=DESK, badge="B12") as at:
        await at.keys("e", "Enter")
        assert "Nothing was typed" in at.said
        await at.keys("van", "Enter", "Enter")
        assert "owner's name" not in at.text, "a technician is not asked for the owner's name"
        assert "zz is no operation" in (await at.keys("zz", "Enter")).lower()
        await at.keys("backspace", "backspace", "Enter")
        assert f"{JOB} is an enquiry" in at.said


async def test_work_and_family_may_come_with_the_call(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("e", "van", "Enter", "noise", "Enter", "Enter", "cl rs", "Enter")
        assert "is no family" in (await at.keys("b4m", "Enter"))
        await at.keys(*["backspace"] * 3, "b4-m-f", "Enter")
    opened = payload(shop, "job-opened")
    assert (opened["operations"], opened["family"]) == (["CL", "RS"], "B4-M-F")


async def test_a_vehicle_that_was_here_is_said_to_have_been(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        text = await at.keys("e", "panel van, long", "Enter")
        assert "here before: 1001 clutch and flywheel" in text


async def test_a_refused_call_keeps_what_was_typed(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("e", "van", "Enter", "Anna Berg rang", "Enter", "Anna Berg", "Enter",
                      "Enter", "Enter")  # fmt: skip
        assert "names the customer" in at.said
        assert last(shop) == before
        await at.keys("e", "Enter")
        assert "Anna Berg rang" in at.text
        await at.keys(*["backspace"] * 14, "judders", "Enter", "Enter", "Enter", "Enter")
        assert f"{JOB} is an enquiry" in at.said


async def test_a_day_is_booked_in_three_keys(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        assert "is no day" in await at.keys("b", "soon", "Enter") or "is no day" in at.said
        await at.keys(*["backspace"] * 4, "thu", "Enter")
        await at.keys("n", "spare key", "Enter", "d", "none", "Enter")
        assert "is no number" in at.said
        await at.keys("Esc", "Enter")
        assert "is to come on Thu 15 Oct" in at.said
        assert "comes tomorrow" in at.text
        assert f"Next: {JOB} old saloon comes tomorrow." in at.text
    booked = payload(shop, "arrival-booked")
    assert booked["note"] == "spare key"
    assert "deposit" not in booked


async def test_it_is_here_with_its_grade_by_one_key(shop: Shop, pen: Pen) -> None:
    chosen(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("a", "84,200", "Enter", "l", "oil lamp", "Enter")
        await at.keys("p", "ab-12-c", "Enter", "v", "1m8gdm9axkp042788", "Enter")
        await at.keys("m", "heavy", "Enter")
        assert "is no mass" in at.said
        await at.keys(*["backspace"] * 5, "1.5 t", "Enter", "s")
        assert at.screen.prompt is not None
        choose = next(one.key for one in at.screen.prompt.options if one.words == "yard")
        text = await at.keys(choose, "e", "B4X", "Enter")
        for words in (
            "1.5 t",
            "yard",
            "84,200 km",
            "oil lamp",
            "AB-12-C",
            "1M8GDM9AXKP042788",
            "B4X",
        ):
            assert words in text
        await at.keys("3")
        assert f"{JOB} is here." in at.said
    assert payload(shop, "arrived")["lamps"] == "oil lamp"
    assert payload(shop, "odometer-read")["value"] == 84_200
    assert payload(shop, "grade-set")["grade"] == 3
    known = payload(shop, "vehicle-known")
    assert (known["vin"], known["mass_kg"]) == ("1M8GDM9AXKP042788", 1500)
    assert job_card(shop, JOB, pen.now + timedelta(hours=1)).job.place == "yard"
    assert state(shop, pen) == "arrived"


async def test_a_wrong_vin_is_refused_and_all_that_was_filled_in_is_there(
    shop: Shop, pen: Pen
) -> None:
    chosen(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("a", "84200", "Enter", "v", "1M8GDM9A1KP042788", "Enter", "2")
        assert "check digit" in at.said
        assert last(shop) == before
        text = await at.keys("a")
        assert "1M8GDM9A1KP042788" in text
        assert "84,200 km" in text
        await at.keys("v", *["backspace"] * 17, "1M8GDM9AXKP042788", "Enter", "Enter")
        assert f"{JOB} is here." in at.said


async def test_an_odometer_that_runs_backwards_is_refused(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    desk.arrive(shop, pen.by("F01"), job=JOB, odometer=84_200, unit="km")
    desk.turn_away(shop, pen.by("F01"), job=JOB, why="no room")
    called(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("up", "up", "up")
        assert "The last that was read: 84,200 km" in await at.keys("a")
        await at.keys("8420", "Enter", "Enter")
        assert at.said.startswith("!")
        assert "84" in at.said
        text = await at.keys("a")
        assert "8,420 km" in text


async def test_a_check_that_is_done_wants_the_foreman_and_one_digit_judges_it(
    shop: Shop, pen: Pen
) -> None:
    in_check(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        assert f"SIGN   {JOB} old saloon: judge the check" in at.text
        assert "1 check to judge" in at.text
        text = await at.keys("k")
        assert "is it the clutch" in text or "pass" in text
        await at.keys("2")
        assert "Nothing was typed" in await at.keys("Enter") or "Nothing was typed" in at.said
        await at.keys("seal weeps", "Enter", PIN, "Enter")
        assert "pass with conditions, seal weeps" in at.said
        assert "SIGN" not in at.text
    judged = payload(shop, "check-judged")
    assert (judged["result"], judged["text"]) == ("pass with conditions", "seal weeps")


async def test_a_failed_check_says_what_is_spent_and_ends_the_job(shop: Shop, pen: Pen) -> None:
    in_check(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01", size=TALL) as at:
        await at.keys("k", "3", "not the clutch", "Enter", PIN, "Enter")
        assert "Spent so far" in at.said
        assert "This cannot be undone" in await at.keys("x", "6")
        await at.keys("Enter")
        assert "turned away: failed the qualifying check" in at.text
    assert state(shop, pen) == "turned-away"
    assert verify(shop.path).ok


async def test_a_check_that_is_not_whole_cannot_pass(shop: Shop, pen: Pen) -> None:
    here(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("k", "1", PIN, "Enter")
        assert "is not whole before" in at.said or "finish it first" in at.said
    assert last(shop) == before


async def test_agreed_in_whole_with_two_keys_and_a_pin(shop: Shop, pen: Pen) -> None:
    quoted(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01", size=TALL) as at:
        text = await at.keys("g")
        for words in (
            "all of it: clutch and flywheel + rear main seal", "the customer", "telephone",
            "fixed price", "nothing: we ask then", "none: we ask",
        ):  # fmt: skip
            assert words in text
        await at.keys("Enter", PIN, "Enter")
        assert f"{JOB} agreed" in at.said
    agreed = payload(shop, "estimate-agreed")
    assert (agreed["by"], agreed["means"], agreed["basis"], agreed["quote"]) == (
        "the customer", "telephone", "fixed price", 1,
    )  # fmt: skip
    assert state(shop, pen) == "on-lift", "it stands on the lift of its check"
    assert verify(shop.path).ok


async def test_agreed_in_part_by_somebody_with_a_ceiling_and_answers_ahead(
    shop: Shop, pen: Pen
) -> None:
    quoted(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01", size=TALL) as at:
        await at.keys("g", "1", "2")
        assert "▫ rear main seal" in at.text
        await at.keys("Enter")
        assert "in part: clutch and flywheel" in at.text
        await at.keys("2", *["backspace"] * 12, "her brother", "Enter", "3", "2")
        await at.keys("4", "2", "Enter")
        assert "Nothing was typed" in at.said
        await at.keys("1,200", "Enter", "6", "150", "Enter")
        text = " ".join(at.text.split())
        for words in ("her brother", "in person", "estimate with a ceiling of 1,200",
                      "up to 150"):  # fmt: skip
            assert words in text
        text = await at.keys("5")
        assert "Flywheel: reuse or renew?   we ask then" in text
        assert "Fit for this work" not in text, "the check asks that before"
        await at.keys("1", "2")
        assert "Flywheel: reuse or renew?   renew it: money, no hours" in at.text
        await at.keys("Enter")
        await at.keys("Enter", PIN, "Enter")
        assert f"{JOB} agreed" in at.said
    agreed = payload(shop, "estimate-agreed")
    assert agreed["left_out"] == ["rear main seal"]
    assert (agreed["basis"], agreed["ceiling"], agreed["free_hand"]) == ("ceiling", 1200, 150)
    assert agreed["means"] == "in person"
    assert "her brother" not in str(agreed), "a name is kept outside the ledger"
    assert agreed["ahead"] == [
        {"about": "Flywheel: reuse or renew?", "answer": "renew it: money, no hours"}
    ]


async def test_nothing_of_it_is_no_agreement_and_what_was_filled_in_stays(
    shop: Shop, pen: Pen
) -> None:
    quoted(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01", size=TALL) as at:
        await at.keys("g", "1", "1", "2", "Enter", "3", "3", "Enter")
        assert "Nothing of it was agreed" in at.said
        assert "in writing" in await at.keys("g")
        await at.keys("Esc")
    assert last(shop) == before


async def test_it_is_declined_with_its_reason(shop: Shop, pen: Pen) -> None:
    quoted(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01", size=TALL) as at:
        await at.keys("x", "1", "Enter", PIN, "Enter")
        assert "declined: the price" in at.text
    answered = payload(shop, "quote-answered")
    assert (answered["answer"], answered["why"]) == ("declined", "the price")


async def test_a_technician_may_not_agree_for_the_shop(shop: Shop, pen: Pen) -> None:
    quoted(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="B12") as at:
        assert OWNER[0] not in at.text
        await at.keys("g", "Enter")
        assert "takes the foreman or owner" in at.said
        await at.keys("o")
        assert "Names of customers are for foreman and owner" in at.said
    assert last(shop) == before


async def test_what_is_agreed_comes_in_onto_a_free_lift(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    desk.arrive(shop, pen.by("F01"), job=JOB)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        text = await at.keys("c")
        assert "onto which lift?" in text
        assert "lift 3" in text
        await at.keys("1")
        assert "all the same" in at.text
        await at.keys("Enter", PIN, "Enter")
        assert f"{JOB} is on lift 3" in at.said
    assert job_card(shop, JOB, pen.now + timedelta(hours=1)).job.place == "3"


async def test_what_lacks_is_said_before_it_comes_in(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        assert cursor(at) == "1003"
        assert "It is not ready: it lacks parts" in await at.keys("c")
        assert "all the same" in await at.keys("1")
        await at.keys("Esc")
        assert last(shop) == before
        await at.keys("c", "1", "Enter", PIN, "Enter")
        assert "It was not ready" in at.said
    assert "placed" in kinds(shop, before)


async def test_a_comeback_is_linked_to_the_job_before(shop: Shop, pen: Pen) -> None:
    jobs.take_small(shop, pen.by("F01"), text="wipers", vehicle="old saloon")
    clock.clock_on(shop, pen.by("B13"), job=JOB, phase="1")
    clock.clock_off(shop, pen.by("B13", 30))
    phases.finish(shop, pen.by("B13"), job=JOB, phase="1")
    jobs.close(shop, pen.by("F01"), job=JOB)
    desk.enquire(shop, pen.by("F01"), vehicle="old saloon", complaint="wipers again")
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("up", "up")
        await at.keys("m", "Enter", "1", "Enter", "1", "Enter", PIN, "Enter")
        assert f"1005 comes back from {JOB}.1: wipers again. shop pays" in at.said
    linked = payload(shop, "comeback-linked")
    assert (linked["of"], linked["fault"], linked["pays"]) == (JOB, "ours", "shop")


async def test_a_vehicle_never_here_cannot_come_back(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("m")
        assert "had no job here before" in at.said


async def test_a_try_to_reach_the_customer_is_due_again(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("t", "Enter", "Enter", "sometime", "Enter")
        assert "is no time" in at.said
        await at.keys(*["backspace"] * 8, "+1", "Enter")
        assert "ring again 0" in at.text
        assert "DUE" not in at.text
        at.hands.turn(hours=2)
        await at.look_again()
        assert "DUE" in at.text
        assert "1 call to return" in at.text


async def test_a_try_is_taken_back_by_its_author(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("t", "Enter", "Enter", "+1", "Enter")
        assert "u undoes it" in at.said
        assert "ring again" in at.text
        await at.keys("u")
        assert "ring again" not in at.text.split("undo")[0].split("taken back")[0]


async def test_names_and_identity_are_put_right(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("i", "p", "xy-99-z", "Enter", "Enter")
        assert "XY-99-Z" in at.text
        await at.keys("o", *["backspace"] * 9, "Bo Lind", "Enter", "Enter", PIN, "Enter")
        assert "Bo Lind" in await at.keys("up")


async def test_the_visits_of_its_vehicle_are_a_page(shop: Shop, pen: Pen) -> None:
    called(shop, pen, "estate, grey", "B4-M-F")
    async with terminal(shop, pen.now, first=DESK, badge="F01", size=TALL) as at:
        text = await at.keys("v")
        assert "estate, grey" in at.lines[0]
        assert "1002" in text
        await at.keys("down", " ", "Esc")
        assert at.lines[0].startswith(" desk")


async def test_one_moves_by_arrows_groups_wants_and_mouse(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    calls.note_call(shop, pen.by("F01"), job=JOB, means="telephone", reached=False,
                    again=pen.now + timedelta(minutes=5))  # fmt: skip
    async with terminal(shop, pen.now + timedelta(hours=1), first=DESK, badge="F01") as at:
        assert cursor(at) == JOB, "what wants somebody is where one begins"
        await at.keys("right")
        assert cursor(at) == "1003"
        await at.keys("n")
        assert cursor(at) == JOB
        await at.keys("down", "down", "page up", "page down")
        assert cursor(at) == "1003"
        row = next(n for n, line in enumerate(at.lines) if n > 3 and f" {JOB} old" in line)
        await at.pilot.click(offset=(20, row))
        await at.settle()
        assert cursor(at) == JOB
        await at.pilot.click(offset=(20, row))
        await at.settle()
        assert isinstance(at.app.screen, JobScreen)
        await at.keys("Esc")
        assert isinstance(at.app.screen, DeskScreen)


async def test_the_same_acts_from_the_card_by_a_digit(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    async with terminal(shop, pen.now, first=Where("job", JOB), badge="F01") as at:
        text = await at.keys("d")
        assert "book the day on which it comes" in text
        assert "call it in" not in text
        await at.keys("1", "thu", "Enter", "Enter")
        assert "is to come on Thu" in at.said
        text = await at.keys("d")
        assert "1  it is here" in text


@pytest.mark.parametrize("key", ["b", "a", "k", "q", "g", "x", "c", "i", "o", "v", "m", "w", "t"])
async def test_without_a_line_every_act_says_what_begins_one(
    tmp_path: Path, pen: Pen, key: str
) -> None:
    shop = founded(tmp_path / "new.shop", pen)
    try:
        async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
            await at.keys(key)
            assert "e takes a call down" in at.said
    finally:
        shop.close()


async def test_work_and_quote_lead_to_the_intake_of_that_job(shop: Shop, pen: Pen) -> None:
    chosen(shop, pen)
    async with terminal(shop, pen.now, first=DESK, badge="F01", size=(180, 44)) as at:
        text = await at.keys("q")
        screen = at.screen
        assert isinstance(screen, IntakeScreen)
        assert screen.job == JOB
        assert f" {JOB}  what it takes" in text
        assert "told: clutch judders" in text
        assert "q gives the quote" in at.said
        await at.keys("Esc")
        assert isinstance(at.app.screen, DeskScreen)
        await at.keys("F5")
        screen = at.screen
        assert isinstance(screen, IntakeScreen)
        assert screen.job == ""
        assert screen.form.is_empty


async def test_what_cannot_come_in_says_why_and_nothing_is_written(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("up", "up", "c")
        assert "has not arrived. a says that it is here." in at.said
        assert last(shop) == before
    desk.arrive(shop, pen.by("F01"), job=JOB)
    desk.identify(shop, pen.by("F01"), job=JOB, mass_kg=3400)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("up", "up", "c")
        assert "No lift is free that carries 3.4 t" in at.said
    assert last(shop) == before


async def test_a_second_arrival_of_a_vehicle_that_is_here_is_refused(shop: Shop, pen: Pen) -> None:
    here(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("up", "up", "a", "84300", "Enter", "2")
        assert "is here already" in at.said
        assert "hoistbook" not in at.said, "a screen names keys"
        assert "84,300 km" in await at.keys("a")
    assert last(shop) == before
