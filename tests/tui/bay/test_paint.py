from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from store.views.values import Bay, Span
from tests.tui.made import NOW, ZONE, on, person
from tests.tui.made_card import CHOICES, bay, clock, no_clock, phase, signed, step, van_card
from tui.bay.choosing import choice_words, over_title
from tui.bay.pad import pad_of
from tui.bay.paint import bay_canvas, bay_lines
from tui.bay.state import PAD, BayState, PadKey
from tui.colours import Paint
from tui.signs import ASCII, UNICODE, Signs

SIZES = [(60, 20), (80, 24), (112, 30), (120, 40), (200, 50)]
LONG = "変速機 é́ 👩‍🔧 a name as long as nobody has one " * 6


def left_running() -> Bay:
    return replace(
        bay(),
        clock=replace(clock(), left_running=True, since=on("Tue 14:10"), shift_end=on("Tue 16:30")),
    )


def stranger() -> Bay:
    """Somebody new: no clock, no job, nothing to choose."""
    return Bay(person("Mia"), None, "", NOW, ZONE)


def awkward() -> Bay:
    made = bay()
    steps = tuple(
        replace(
            each, text=LONG, detail=LONG, caution=LONG, step=f"4.{n}" + "変" * 20,
            limits=(LONG,), waits_for=LONG,
        )
        for n, each in enumerate(van_card().phases[1].steps)
    )  # fmt: skip
    busy = replace(van_card().phases[1], steps=steps, cautions=(LONG,))
    running = replace(clock(), name=LONG, vehicle=LONG, work=LONG, others=(LONG, LONG))
    return replace(
        made, clock=running, lift=LONG, lift_says=LONG, person=replace(made.person, name=LONG),
        card=replace(van_card(), phases=(busy,), open_conditions=(LONG,)), blocks=(LONG, LONG),
        choices=tuple(replace(each, name=LONG, vehicle=LONG) for each in CHOICES), said=LONG,
    )  # fmt: skip


def text(of: Bay, size: tuple[int, int] = (80, 24), state: BayState | None = None) -> str:
    return "\n".join(bay_canvas(of, size, UNICODE, state or BayState()).text())


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", [(30, 10), *SIZES])
def test_a_bay_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    states = (BayState(), BayState(pad={"1": PadKey(LONG, True)}, said=LONG, scan=LONG, step=99))
    for each in (bay(), no_clock(), left_running(), stranger(), awkward()):
        for state in states:
            canvas = bay_canvas(each, size, signs, state)
            assert [cell_len(line) for line in canvas.text()] == [size[0]] * size[1]


def test_the_ascii_bay_is_ascii_and_writes_the_clock_plainly() -> None:
    rows = bay_canvas(bay(), (80, 24), ASCII, BayState()).text()
    assert "".join(rows).isascii()
    assert "[1:12]" in rows[3]


def test_a_running_clock_is_a_filled_field_and_none_is_an_empty_frame() -> None:
    running = bay_canvas(bay(), (80, 24), UNICODE, BayState())
    assert all(ink.ground == "field" for row in running.inks[1:6] for ink in row)
    stopped = bay_canvas(no_clock(), (80, 24), UNICODE, BayState())
    assert not any(ink.ground == "field" for row in stopped.inks for ink in row)
    assert stopped.text()[1].startswith("┌")


def test_the_running_clock_says_what_since_when_and_how_far() -> None:
    shown = text(bay())
    for said in (
        "▸ CLOCK RUNS  since 09:28", "2417.4  gearbox in", "panel van, long   clutch and flywheel",
        "2.6 h of 3.8 h", "cautious 4.6 h", "1.2 h left",
    ):  # fmt: skip
        assert said in shown


def test_without_a_clock_the_screen_says_so_and_what_one_key_starts() -> None:
    shown = text(no_clock())
    assert "! NO CLOCK" in shown
    assert "1 starts" in shown
    assert "2417.4  gearbox in" in shown
    assert "last on Tue 16:10" in shown
    fresh = text(replace(no_clock(), last=None))
    assert "2417.5  road test" in fresh
    assert "no phase waits for you" in text(stranger())


def test_a_clock_left_running_is_asked_about() -> None:
    shown = text(left_running())
    assert "? LEFT RUNNING" in shown
    assert "since Tue 14:10; shift ended 16:30" in shown
    assert "CLOCK RUNS" not in shown


def test_over_the_estimate_is_said_in_the_field_and_hatched_on_its_bar() -> None:
    over = replace(clock(), labour_h=4.4, remaining=Span(0.4, 0.9))
    rows = text(replace(bay(), clock=over)).splitlines()
    assert "! OVER by 0.6 h" in rows[4]
    assert "▒" in rows[5]


def test_two_on_a_phase_and_a_helper_are_named() -> None:
    two = replace(clock(), others=("Tomas",), part="helper")
    assert "2417.4  gearbox in  with Tomas  as helper" in text(replace(bay(), clock=two))


def test_other_bay_work_and_being_called_away_have_their_words() -> None:
    sweeping = replace(clock(), job=None, phase=None, reason="sweeping", estimate=None)
    assert "▸ BAY WORK  since 09:28" in text(replace(bay(), clock=sweeping))
    away = text(replace(bay(), clock=replace(sweeping, reason="yard"), away_from="2417.4"))
    assert "▸ AWAY  since 09:28" in away
    assert "brings you back to 2417.4" in away


def test_the_step_and_its_caution_come_second_then_what_follows() -> None:
    rows = text(bay()).splitlines()
    assert "NOW    ▸ 4.3   Torque the bell-housing bolts" in rows[7]
    assert "45 Nm, then 80 Nm" in rows[8]
    assert " ! " in rows[9]
    assert "Gearbox stays on the jack" in rows[9]
    assert "◊ 4.4   sign: reading of the second stage" in rows[11]
    assert "76 to 84 Nm" in rows[11]
    assert "two people" in rows[14]
    assert "stops  ◔" in rows[15]


def test_one_can_stand_on_a_later_step() -> None:
    assert "NOW    ▫ 4.5" not in text(bay(), state=BayState(step=2))
    assert "NOW    ▸ 4.5   Connect selector cables" in text(bay(), state=BayState(step=2))


def test_a_caution_is_loud_and_stands_with_its_step() -> None:
    canvas = bay_canvas(bay(), (80, 24), UNICODE, BayState())
    row = next(n for n, line in enumerate(canvas.text()) if "Gearbox stays" in line)
    assert canvas.inks[row][9].loud
    assert canvas.inks[row][17].role == "behind"


def test_half_a_signature_says_whose_name_is_there() -> None:
    half = step(
        "4.3 seated", kind="hold point", state="half", signs=2,
        signed=(signed("Per", "Wed 10:00"),), waits_for="a second name",
    )  # fmt: skip
    at = replace(van_card(), phases=(phase("4 gearbox in", "under way", "1 1 1 1", steps=(half,)),))
    shown = text(replace(bay(), card=at))
    assert "◊ 4.3   sign: seated" in shown
    assert "signed by Per; wants one more name" in shown
    assert "waits: a second name" in shown


def test_a_phase_without_steps_says_how_it_ends() -> None:
    at = replace(van_card(), phases=(phase("4 gearbox in", "under way", "1 1 1 0.4"),))
    shown = text(replace(bay(), card=at))
    assert "4 gearbox in" in shown
    assert "Enter finishes the phase" in shown


def test_steps_that_do_not_fit_are_counted() -> None:
    many = tuple(step(f"4.{n} something") for n in range(1, 30))
    at = replace(van_card(), phases=(phase("4 gearbox in", "under way", "1 1 1 0.4", steps=many),))
    shown = text(replace(bay(), card=at))
    assert "steps more" in shown
    counted = sum(f" 4.{n} " in shown for n in range(1, 30))
    assert f"and {29 - counted} steps more" in shown


def test_open_conditions_are_always_there() -> None:
    at = replace(van_card(), open_conditions=("wheels not tightened", "no oil"))
    shown = text(replace(bay(), card=at))
    assert "open   ! " in shown
    assert "wheels not tightened" in shown
    assert "no oil" in shown


@pytest.mark.parametrize("size", SIZES)
def test_the_pad_lies_as_under_the_glove_and_never_moves(size: tuple[int, int]) -> None:
    rows = [
        text(each, size).splitlines() for each in (bay(), no_clock(), left_running(), stranger())
    ]
    pads = [each[-7:-3] for each in rows]
    assert all(pad == pads[0] for pad in pads)
    for row, digits in zip(pads[0], ("789", "456", "123", "0.-"), strict=True):
        places = [row.index(f" {digit}  {PAD[digit].words[:8]}") for digit in digits]
        assert places == sorted(places)


def test_what_i_did_last_comes_with_the_way_back() -> None:
    assert "10:38  4.2 done: clutch centred.    0 takes it back" in text(bay())
    assert "takes it back" not in text(replace(bay(), can_undo=False))
    refused = text(bay(), state=BayState(said="! 4.6 waits for a second name."))
    assert " !  4.6 waits for a second name." in refused
    assert "10:38" not in refused


def test_tall_screens_show_what_could_be_done_next() -> None:
    shown = text(bay(), (120, 40))
    assert "could be done next" in shown
    assert "2417.5   road test  lift 1   panel van, long  after 4 gearbox in" in shown
    assert "2436.1   check               small van" in shown


def test_an_old_look_says_so() -> None:
    assert "! AS OF 10:41" in text(bay(), state=BayState(stale="10:41"))


def test_painted_lines_are_the_canvas() -> None:
    lines = bay_lines(bay(), (80, 24), Paint(), UNICODE, BayState())
    assert "\n".join("".join(s.text for s in line) for line in lines) == text(bay())


def test_a_phase_to_go_over_to_is_cut_with_the_sign_of_the_set() -> None:
    choice = replace(bay().choices[0], name="a long name of a phase" * 3)
    assert choice_words(choice, 60, ASCII.more).isascii()


def with_own(of: Bay, *places: int) -> Bay:
    """The same where some of the choices, by their places, are on the person's list."""
    own = [replace(of.choices[n], yours=True) for n in places]
    rest = [one for n, one in enumerate(of.choices) if n not in places]
    return replace(of, choices=(*own, *rest))


@pytest.mark.parametrize("size", SIZES[1:])
def test_what_is_theirs_next_is_on_the_pad_while_a_clock_runs(size: tuple[int, int]) -> None:
    made = with_own(bay(), 1)
    first = made.choices[0]
    pad = pad_of(made, None)
    assert pad["2"].words == f"over: {first.job}.{first.phase} next"
    shown = text(made, size, BayState(pad=pad))
    assert f"over: {first.job}.{first.phase} next" in shown
    assert pad_of(bay(), None)["2"] == PAD["2"]


def test_it_has_its_name_where_a_row_is_free() -> None:
    made, size = with_own(bay(), 1), (120, 40)
    first = made.choices[0]
    then = next(line for line in text(made, size).split("\n") if line.startswith("  then "))
    assert f"{first.job}.{first.phase}  {first.name}" in then
    assert "  then " not in text(bay(), size)


def test_without_a_clock_key_1_says_that_what_it_starts_is_theirs() -> None:
    made = no_clock()
    again = replace(made.choices[0], phase="4", name="gearbox in")
    made = replace(made, choices=(again, *made.choices[1:]))
    assert "1 starts, yours next" in text(with_own(made, 0))
    fresh = replace(made, last=None)
    assert "1 starts, yours next" in text(with_own(fresh, 0))
    assert "yours" not in text(made)
    assert "yours next" not in text(with_own(made, 1)), "another is theirs"


def test_the_title_of_over_to_says_which_are_theirs() -> None:
    none, one, two = bay(), with_own(bay(), 1), with_own(bay(), 0, 1)
    assert over_title(none.choices) == "over to"
    assert over_title(one.choices) == "over to (1 is yours)"
    assert over_title(two.choices) == "over to (1 to 2 are yours, in order)"
