"""The scanner at the bay: a code is taken from any place, whole, and does nothing else."""

from __future__ import annotations

from datetime import timedelta
from random import Random

import pytest

from store.actions import clock, phases, steps
from store.file.shop import Shop
from store.file.verify import verify
from store.views.job import job_card
from store.views.ledger import ledger
from tests.tui.bay.test_screen import to_second_name
from tests.tui.driver import Terminal, terminal
from tests.tui.scanner import code, scan, send, stall
from tests.tui.shops import PIN, Pen, kinds, last
from tui.parts.where import BAY


def words(at: Terminal) -> str:
    return " ".join(at.said.split())


def done(shop: Shop, pen: Pen, job: str, phase: str, step: str) -> bool:
    card = job_card(shop, job, pen.now)
    line = next(one for one in card.phases if one.number == phase)
    return next(one for one in line.steps if one.step == step).state == "done"


# -- what each kind does


async def test_a_phase_takes_the_clock_and_a_second_scan_changes_nothing(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "1002.1 reception" in await scan(at, "phase 1002.1")
        assert "went over to 1002.1" in words(at)
        at.hands.turn(minutes=3)
        await scan(at, "phase 1002.1")
        assert "Your clock runs on 1002.1 reception since 07:46; it goes on." in words(at)
    assert kinds(shop, before) == ["clocked-off", "clocked-on"]


async def test_a_phase_clocks_on_where_no_clock_runs(shop: Shop, pen: Pen) -> None:
    clock.clock_off(shop, pen.by("B12"))
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "CLOCK RUNS" in await scan(at, "phase 1001.1")
    assert kinds(shop, before) == ["clocked-on"]


async def test_a_job_takes_the_clock_to_its_next_phase(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await scan(at, "job 1002")
        assert "went over to 1002.1" in words(at)
        await scan(at, "job 1001")
        assert "went over to 1001.1" in words(at), "what is under way comes first"
        before = last(shop)
        await scan(at, "job 1001")
        assert "it goes on" in words(at)
        await scan(at, "job 77")
        assert "77" in words(at)
        assert words(at).startswith("!")
    assert last(shop) == before


async def test_a_step_is_signed_and_said_and_once_more_is_harmless(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await scan(at, "step 1001.1.1")
        assert "1.1 done" in words(at)
        assert done(shop, pen, "1001", "1", "1")
        before = last(shop)
        at.hands.turn(minutes=25)
        await scan(at, "step 1001.1.1")
        assert "was signed at 07:46" in words(at)
        assert "nothing was written" in words(at)
        assert not words(at).startswith("!"), "nothing is wrong with it"
        assert last(shop) == before
        await scan(at, "step 1001.1.99")
        assert "1001.1 has no step 99" in words(at)
        await scan(at, "step 1001.77.1")
        assert "1001 has no phase 77" in words(at)
    assert last(shop) == before


def to_raised(shop: Shop, pen: Pen) -> None:
    """Reception of 1001 is done; Ines is on the check, whose first step is a hold point."""
    for step in range(1, 6):
        steps.sign(shop, pen.by("B12"), job="1001", phase="1", step=str(step))
    phases.finish(shop, pen.by("B12"), job="1001", phase="1")
    clock.clock_on(shop, pen.by("B12"), job="1001", phase="2")


async def test_no_code_gets_past_a_hold_point_and_its_reading_is_asked(
    shop: Shop, pen: Pen
) -> None:
    to_raised(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await scan(at, "step 1001.2.2")
        assert "waits for the hold point 1001.2.1" in words(at)
        assert last(shop) == before
        assert "500 to 4000 kg" in await scan(at, "step 1001.2.1")
        await at.keys("2100", "Enter")
        assert "2.1" in words(at)
    assert kinds(shop, before)[0] == "step-signed"


async def test_a_lift_and_a_kit_say_what_they_are(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await scan(at, "lift 2")
        assert words(at).startswith("Lift 2: 1002 estate, grey")
        await scan(at, "lift 3")
        assert words(at) == "Lift 3: free."
        await scan(at, "lift 9")
        assert "There is no lift 9" in words(at)
        await scan(at, "kit centring")
        assert words(at) == (
            "Kit centring: clutch centring set, ours, free; in it: mandrel, six cones."
        )
        await scan(at, "kit driver-large")
        assert words(at).startswith("Kit driver-large: seal driver, large diameters, not hired")
        await scan(at, "kit anvil")
        assert words(at).startswith("! The work book has no kit anvil.")
    assert last(shop) == before


async def test_a_badge_is_the_next_person_and_ones_own_is_said(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await scan(at, "badge B12")
        assert words(at) == "Ines is signed in already."
        text = await scan(at, "badge B13")
        assert "Tomas is signed in." in words(at)
        assert "NO CLOCK" in text
        await scan(at, "badge B99")
        assert "Nobody here has the badge B99" in words(at)
        await scan(at, "step 1001.1.1")
    assert kinds(shop, before) == ["step-signed"]
    assert list(ledger(shop))[-1].badge == "B13"


async def test_a_badge_signs_in_at_the_door_and_what_was_typed_goes(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now) as at:
        await scan(at, "step 1001.1.1")
        assert "Scan your badge first" in words(at)
        await at.keys("B9")
        assert "CLOCK RUNS" in await scan(at, "badge B12")
    assert not done(shop, pen, "1001", "1", "1")


# -- from any place


PLACES = {
    "home": (),
    "a menu": ("2",),
    "reasons to hold": ("4",),
    "a form's first question": ("5",),
    "a field by accident": ("5", "1", "stud bro"),
    "the next field": ("5", "1", "stud broken", "Enter", "1"),
    "bay work": ("6",),
    "all steps": ("7", "down"),
    "the help": ("9",),
    "the day sheet": ("-",),
    "a day's row": ("-", "3"),
    "somebody's badge": ("T",),
    "finding a job": ("F4", "10"),
    "all actions": ("F9", "cl"),
}


@pytest.mark.parametrize("place", PLACES)
async def test_a_step_is_taken_from_anywhere_and_nothing_else_happens(
    shop: Shop, pen: Pen, place: str
) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys(*PLACES[place])
        before = last(shop)
        await scan(at, "step 1001.1.2")
        assert "1.2 done" in words(at)
        assert at.screen.prompt is None
        assert kinds(shop, before) == ["step-signed"]
        assert "CLOCK RUNS" in at.text, "one is at home again"
        await at.keys("1")
        assert kinds(shop, before) == ["step-signed", "clocked-off"], "and every key is as ever"


@pytest.mark.parametrize("place", list(PLACES)[1::3])
async def test_the_next_person_comes_from_anywhere(shop: Shop, pen: Pen, place: str) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys(*PLACES[place])
        assert "Tomas" in await scan(at, "badge B13")
        assert "NO CLOCK" in at.text
    assert last(shop) == before


async def test_what_was_typed_in_a_field_is_there_on_the_next_visit(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("5", "1", "stud broken off")
        await scan(at, "step 1001.1.1")
        assert "stud" not in at.text
        assert "stud broken off" in await at.keys("5", "1")


async def test_answers_given_before_in_the_same_form_are_there_too(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("5", "1", "stud broken off", "Enter", "1.5")
        await scan(at, "step 1001.1.1")
        assert "stud broken off" in await at.keys("5", "1")
        assert "1.5" in await at.keys("Enter")
        before = last(shop)
        await at.keys("Enter")
        assert "found" in kinds(shop, before)
        await at.keys("5", "1")
        assert at.screen.prompt is not None
        assert at.screen.prompt.field is not None
        assert at.screen.prompt.field.text == "", "what was reported is no draft any more"


async def test_it_is_not_there_for_somebody_else(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("5", "1", "stud broken off")
        await scan(at, "badge B13", "phase 1002.1")
        assert "stud" not in await at.keys("5", "1")


async def test_a_badge_answers_where_a_second_name_is_asked(shop: Shop, pen: Pen) -> None:
    to_second_name(shop, pen)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "a second name" in await at.keys("3")
        before = last(shop)
        assert "Tomas's PIN" in await scan(at, "badge B13")
        assert "Tomas's PIN" in await scan(at, "badge B13"), "read twice by the scanner"
        await at.keys(PIN, "Enter")
        assert at.app.session.who is not None
        assert at.app.session.who.badge == "B12", "who stands by does not take the bay over"
    assert kinds(shop, before)[0] == "step-signed"
    assert next(line.badge for line in ledger(shop) if line.seq > before) == "B13"


async def test_another_code_where_a_second_name_is_asked_leaves_the_question(
    shop: Shop, pen: Pen
) -> None:
    to_second_name(shop, pen)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        assert "a second name" in await at.keys("3")
        before = last(shop)
        assert "a second name" not in await scan(at, "phase 1002.1")
        assert "went over to 1002.1" in words(at)
    assert kinds(shop, before) == ["clocked-off", "clocked-on"]


# -- rhythms


async def test_twenty_codes_at_once_are_twenty_scans(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    codes = ["phase 1002.1", "phase 1001.1"] * 10
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await scan(at, *codes)
    assert kinds(shop, before) == ["clocked-off", "clocked-on"] * 20
    assert verify(shop.path).ok


async def test_a_line_that_stalls_anywhere_inside_a_code(shop: Shop, pen: Pen) -> None:
    before, many = last(shop), 0
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        for after in range(1, len(code("phase", "1002.1"))):
            job = ("1002", "1001")[many % 2]
            sent = code("phase", f"{job}.1")
            await at.keys("5", "1")
            send(at, sent[:after])
            said = await stall(at)
            assert after == 1 or "Half a code read: scan again" in said
            assert last(shop) == before + 2 * many
            send(at, sent[after:])
            await at.settle()
            assert f"went over to {job}.1" in words(at)
            many += 1
    assert kinds(shop, before) == ["clocked-off", "clocked-on"] * many


async def test_half_a_code_leaves_the_pad_alone(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        send(at, code("step", "1001.1.3")[:7])
        assert "Half a code read" in await stall(at)
        assert last(shop) == before
        text = await at.keys("1")
        assert "NO CLOCK" in text
        assert "Half a code" not in text
        send(at, code("step", "1001.1.3")[:7])
        await stall(at)
        assert "The half code is forgotten" in await at.keys("Esc")
        assert "NO CLOCK" in at.text, "Esc signed nobody off"
    assert kinds(shop, before) == ["clocked-off"]


async def test_a_wrong_check_digit_does_nothing_and_is_said(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("5", "1", "stud")
        send(at, code("step", "1001.1.3")[:-2] + "X\r")
        await at.settle()
        assert "was not read rightly: scan again" in words(at)
        assert "stud" in at.text
        assert at.screen.prompt is not None
        assert at.screen.prompt.field is not None
        assert at.screen.prompt.field.text == "stud"
    assert last(shop) == before


async def test_letters_without_their_mark_are_a_code_too(shop: Shop, pen: Pen) -> None:
    """A scanner that may not send the mark, and a person who types from the sheet."""
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        send(at, code("step", "1001.1.1")[1:])
        await at.settle()
        assert "1.1 done" in words(at)
        await at.keys("5", "1", "stud")
        send(at, code("step", "1001.1.2")[1:])
        await at.settle()
        assert "1.2 done" in words(at)
        assert "stud" in await at.keys("5", "1")
        send(at, code("badge", "B13")[1:])
        await at.settle()
        assert "Tomas" in at.text
    assert kinds(shop, before) == ["step-signed"] * 2


async def test_badges_of_digits_and_letters_are_still_typed_by_hand(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now) as at:
        await at.keys("b12", "Enter")
        assert "CLOCK RUNS" in at.text
        await at.keys("B13", "Enter")
        assert "Tomas" in at.text


async def test_keys_of_the_keyboard_itself_reach_the_catcher(shop: Shop, pen: Pen) -> None:
    """Through Textual's own events, where Tab would move the focus."""
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        for letter in code("step", "1001.1.1"):
            at.app.simulate_key({"\t": "tab", "\r": "enter"}.get(letter, letter))
        await at.pilot.pause()
        await at.settle()
        assert "1.1 done" in words(at)
    assert kinds(shop, before) == ["step-signed"]


async def test_a_clock_left_running_is_asked_for_before_a_scan_moves_it(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now + timedelta(days=1), first=BAY, badge="B12") as at:
        assert "When did you stop?" in at.text
        await scan(at, "phase 1002.1")
        assert "When did you stop?" in at.text, "asked again: the clock cannot be moved without"
        assert last(shop) == before
        await at.keys("1")
        assert "CLOCK RUNS" in at.text
        assert "1002.1" in at.text


HANDS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", "-", "Enter", "Esc", "up", "down",
         "F1", "F3", "F2", "B", "x", "backspace"]  # fmt: skip
CODES = ["phase 1001.1", "phase 1002.1", "job 1001", "step 1001.1.2", "step 1002.1.1", "lift 1",
         "kit locks", "badge B12", "badge B13", "badge F01"]  # fmt: skip


async def test_hands_and_a_scanner_at_the_same_time(shop: Shop, pen: Pen) -> None:
    """A hundred turns of keys, scans, half and broken codes; then one scans a badge and works."""
    dice = Random(20261014)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        for _ in range(100):
            kind, name = dice.choice(CODES).split()
            sent = code(kind, name)
            match dice.randrange(5):
                case 0:
                    send(at, sent)
                case 1:
                    send(at, sent[: dice.randrange(1, len(sent))])
                case 2:
                    at.app.line.silent()
                case 3:
                    send(at, sent.replace(dice.choice(sent), dice.choice("BX1 "), 1))
                case _:
                    await at.keys(dice.choice(HANDS))
            if not at.app.is_running:
                break
            await at.settle()
        send(at, code("badge", "B13") * 2)
        await at.settle()
        assert "Tomas" in at.text
        assert await scan(at, "phase 1002.1")
        assert "1002.1" in words(at)
    assert verify(shop.path).ok
