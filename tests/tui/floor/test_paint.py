from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from rich.cells import cell_len

from store.views.values import Finish, Floor
from tests.tui.made import CALENDAR, NOW, job, on, person
from tests.tui.made_floor import calm_floor, floor, lane, many_lifts, unlearned
from tui.colours import ANSI, DARK, HIGH, LIGHT, Look, Paint
from tui.floor.paint import LIFT, floor_canvas, floor_lines
from tui.floor.plan import page_of, plan
from tui.floor.state import FloorState
from tui.parts.canvas import Canvas
from tui.signs import ASCII, UNICODE, Signs
from tui.words import chance

SIZES = [(60, 20), (79, 24), (80, 24), (111, 30), (112, 32), (120, 40), (180, 44), (200, 50)]
STATE = FloorState(who="Ruth, foreman")
HOUR = timedelta(hours=1)
LONG = "変速機 é́ 👩‍🔧 a name as long as nobody has one " * 6


def awkward() -> Floor:
    """A floor whose people, vehicles and sentences are long, wide and combining."""
    busy = floor()
    lanes = tuple(
        replace(
            each, lift=each.lift + LONG[:12], kind=LONG, warnings=(LONG,),
            job=replace(each.job, number=LONG[:20], vehicle=LONG, held=LONG) if each.job else None,
        )
        for each in busy.lanes
    )  # fmt: skip
    return replace(
        busy, shop=LONG, lanes=lanes, last=LONG,
        wants=tuple(replace(want, says=LONG, lift=LONG) for want in busy.wants),
        waiting=tuple(replace(each, vehicle=LONG, lacks=(LONG, LONG)) for each in busy.waiting),
        people=tuple(replace(each, name=LONG, initials="変速") for each in busy.people),
    )  # fmt: skip


def text(of: Floor, size: tuple[int, int], state: FloorState = STATE) -> str:
    return "\n".join(floor_canvas(of, size, UNICODE, state).text())


def loud(canvas: Canvas) -> int:
    return sum(ink.loud for row in canvas.inks for ink in row)


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", [(20, 5), (60, 19), (59, 40), *SIZES])
def test_a_floor_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    state = replace(STATE, who=LONG, said=LONG, cursor="2", stale="10:41")
    floors = [floor(), awkward(), calm_floor(), unlearned(floor()), many_lifts(23)]
    for each in [*floors, replace(floor(), lanes=(), people=(), waiting=())]:
        for shown in (state, replace(state, wall=True, page=3, zoom=120)):
            canvas = floor_canvas(each, size, signs, shown)
            assert [cell_len(line) for line in canvas.text()] == [size[0]] * size[1]


@pytest.mark.parametrize("look", [DARK, LIGHT, HIGH, ANSI])
def test_colours_change_no_letter(look: Look) -> None:
    plain = floor_canvas(floor(), (120, 40), UNICODE, STATE).text()
    lines = floor_lines(floor(), (120, 40), Paint(look), UNICODE, STATE)
    assert ["".join(segment.text for segment in line) for line in lines] == plain


def test_the_ascii_floor_is_ascii() -> None:
    for size in SIZES:
        for each in (floor(), calm_floor()):
            assert not text(each, size).isascii()
            assert "".join(floor_canvas(each, size, ASCII, STATE).text()).isascii()


@pytest.mark.parametrize("size", SIZES)
def test_a_calm_floor_has_no_loud_word(size: tuple[int, int]) -> None:
    canvas = floor_canvas(calm_floor(), size, UNICODE, STATE)
    assert loud(canvas) == 0
    assert "Nothing needs anybody." in "\n".join(canvas.text())


@pytest.mark.parametrize("size", SIZES)
def test_whatever_wants_somebody_is_loud_with_its_word(size: tuple[int, int]) -> None:
    canvas = floor_canvas(floor(), size, UNICODE, STATE)
    shown = "\n".join(canvas.text())
    assert all(word in shown for word in (" ? ANSWER ", " ◊ SIGN ", " ! OVER "))
    assert loud(canvas) > 0


def test_the_first_want_is_the_sentence_and_bad_promises_stand_under_it() -> None:
    rows = text(floor(), (120, 40)).splitlines()
    assert rows[1].startswith("  ? ANSWER   lift 2: 2409 customer's word")
    assert "2409 will break" in rows[2]
    assert "2420 a coin toss 5 in 10" in rows[2]


def test_before_anything_was_learned_lateness_is_said_by_the_finish() -> None:
    shown = text(unlearned(floor()), (120, 40))
    assert "will be late" in shown
    assert "late at the cautious figure" in shown
    assert "in 10" not in shown
    assert "promised Thu 12:00 " in shown


@pytest.mark.parametrize("size", SIZES)
def test_every_lift_keeps_its_line(size: tuple[int, int]) -> None:
    busy, calm = (floor_canvas(of, size, UNICODE, STATE).text() for of in (floor(), calm_floor()))
    names = [each.job.vehicle[:8] for each in floor().lanes if each.job is not None]
    places = [
        [n for n, row in enumerate(rows) for name in names if name in row] for rows in (busy, calm)
    ]
    assert places[0] == places[1]
    assert len(places[0]) >= 4


def test_a_narrow_terminal_says_the_same_of_a_lift() -> None:
    shown = text(floor(), (66, 24))
    for said in ("gearbox in", "2.6/3.8 IN", "out Wed 13:25, by 14:00", "customer, 5.8 h", "TO+OL"):
        assert said in shown
    assert "coin toss 5 in 10" in shown


@pytest.mark.parametrize(
    "size, lifts, rows", [
        ((120, 40), 6, 4), ((120, 36), 6, 3), ((120, 28), 6, 2), ((200, 50), 6, 5),
        ((200, 60), 6, 6), ((200, 50), 8, 4), ((80, 24), 7, 2),
    ],
)  # fmt: skip
def test_short_of_height_a_lift_loses_rows_before_lifts_turn_pages(
    size: tuple[int, int], lifts: int, rows: int
) -> None:
    laid = plan(many_lifts(lifts), size, STATE)
    assert laid.pages == 1
    assert (laid.lane_rows, len(laid.shown)) == (rows, lifts)


@pytest.mark.parametrize("size", SIZES)
def test_pages_show_every_lift_once_in_order(size: tuple[int, int]) -> None:
    busy = many_lifts(31)
    pages = plan(busy, size, STATE).pages
    assert pages > 1
    shown = [
        lane.lift
        for page in range(pages)
        for lane in plan(busy, size, replace(STATE, page=page)).shown
    ]
    assert shown == [lane.lift for lane in busy.lanes]
    assert f"of {len(busy.lanes)}" in text(busy, size) or size[0] < 80


def test_a_cursor_finds_its_page_and_the_mouse_its_lift() -> None:
    busy, size = many_lifts(31), (80, 24)
    page = page_of(busy, size, STATE, "31")
    laid = plan(busy, size, replace(STATE, page=page))
    assert "31" in [lane.lift for lane in laid.shown]
    top = laid.lanes_top
    canvas = floor_canvas(busy, size, UNICODE, replace(STATE, page=page))
    assert canvas.key_at(5, top) == f"{LIFT}{laid.shown[0].lift}"
    assert canvas.key_at(79, top + 3) == f"{LIFT}{laid.shown[1].lift}"
    assert canvas.key_at(5, top - 1) is None
    assert canvas.key_at(5, top + 2 * len(laid.shown)) is None


@pytest.mark.parametrize("size", SIZES)
def test_the_cursor_is_marked_by_sign_and_ground(size: tuple[int, int]) -> None:
    canvas = floor_canvas(floor(), size, UNICODE, replace(STATE, cursor="3"))
    row = next(n for n, line in enumerate(canvas.text()) if "2420 farm" in line)
    assert canvas.text()[row][0] == "▸"
    assert canvas.inks[row][1].ground == "pick"
    assert all(ink.ground != "pick" for ink in canvas.inks[row - 2])


def test_an_old_look_says_so_where_the_clock_was() -> None:
    shown = text(floor(), (120, 40), replace(STATE, stale="10:41"))
    assert "! AS OF 10:41" in shown
    assert "Wed 14 Oct" not in shown.splitlines()[0]


def test_a_wall_has_no_keys_and_no_lists_but_one() -> None:
    shown = text(floor(), (200, 50), replace(STATE, wall=True))
    assert "wants somebody" in shown
    for absent in ("Enter", "who is on what", "waiting to come in"):
        assert absent not in shown


def test_an_empty_shop_says_what_starts_it() -> None:
    empty = Floor("Marsh Lane Works", NOW, CALENDAR)
    for size in SIZES:
        assert 'No lift yet.  F9, "lift", adds the first.' in text(empty, size)


def test_a_lift_out_of_service_says_why() -> None:
    out = lane("1", None, in_service=False, out_reason="lock does not engage")
    for size in SIZES:
        shown = text(replace(floor(), lanes=(out,), wants=()), size)
        assert "⊗ out of service" in shown
        assert "lock does not engage" in shown


@pytest.mark.parametrize("size", SIZES)
def test_a_warning_about_a_lift_is_marked_beside_its_number(size: tuple[int, int]) -> None:
    canvas = floor_canvas(floor(), size, UNICODE, STATE)
    if size[0] < 180:
        assert any(row.startswith(" 5!2426") for row in canvas.text())
    assert size[0] < 112 or size[1] < 40 or any("! inspection in" in r for r in canvas.text())


def test_people_on_one_phase_stand_together_and_others_say_why_not() -> None:
    people = (
        *floor().people,
        person("Ada", since="Wed 10:00", reason="sweeping"),
    )
    row = next(
        line for line in text(replace(floor(), people=people), (200, 50)).splitlines()
        if line.startswith(" Ines")
    )  # fmt: skip
    assert "Ines 2417.4  1:12" in row
    assert "Tomas and Olu 2420.2  2:40" in row
    assert "Per left running on 2411.5" in row
    assert "Mia no clock" in row
    assert "Ada sweeping  0:40" in row


def test_what_waits_says_what_it_lacks_or_that_it_can_come_in() -> None:
    shown = text(floor(), (120, 40))
    assert "2433 old saloon   centring kit" in shown
    assert "2436 small van    can come in" in shown
    away = job("2440", "tractor", state="off-lift", place="yard", held="parts")
    assert "2440 tractor" in text(replace(floor(), elsewhere=(away,)), (200, 60))
    assert "yard, held: parts" in text(replace(floor(), elsewhere=(away,)), (200, 60))


def test_a_live_screen_keeps_the_word_it_holds() -> None:
    held = replace(STATE, settled={"2420": chance(0.6)})
    assert "more likely than not 6 in 10" in text(floor(), (200, 50), held)


def test_more_wants_than_rows_are_counted() -> None:
    busy = floor()
    many = replace(busy, wants=busy.wants * 6)
    assert "more; n goes through them" in text(many, (80, 24))


def test_hours_held_are_working_hours() -> None:
    assert CALENDAR.working_h(on("Tue 13:35"), NOW) == pytest.approx(5.83, abs=0.01)
    assert "customer, 5.8 h" in text(floor(), (120, 40))


def test_a_floor_with_a_late_promise_does_not_say_that_nothing_needs_anybody() -> None:
    late = replace(
        job("2440", "tractor"),
        promise=NOW + HOUR,
        finish=Finish(NOW + 2 * HOUR, NOW + 3 * HOUR),
        promise_chance=None,
    )
    shown = text(replace(floor(), wants=(), lanes=(), waiting=(), elsewhere=(late,)), (120, 40))
    assert "A promise is in trouble." in shown
    assert "Nothing needs anybody." not in shown
