"""Special tools as they are painted: exact widths, answers first, nothing told by colour alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import get_args

import pytest
from rich.cells import cell_len

from store.views.tools.values import Advice, DayCost, Verb, Way
from tests.tui.made import CALENDAR, NOW, on
from tests.tui.tools.made import (
    ALL,
    AWKWARD,
    CALM,
    CENTRING,
    EMPTY,
    GAUGES,
    LOCKING,
    LONG,
    MANY,
    OVERDUE,
    PILOT,
    PULLER,
    SOME,
    SPRING,
    shown,
)
from tui.colours import ANSI, DARK, Ink, Paint
from tui.lane.axis import axis
from tui.parts.legend import KIT_MEANINGS
from tui.signs import ASCII, KIT_LOUD, UNICODE, Signs
from tui.tools.days import around, best_of, step_words, tenths
from tui.tools.paint import tools_canvas, tools_lines
from tui.tools.ramp import band_of, needed_at
from tui.tools.state import FOLD, GROUPS, Shown, ToolsState, rows_of
from tui.tools.words import back_in_time, in_time, short_day, state_words

SIZES = [(60, 20), (71, 24), (72, 24), (80, 24), (111, 30), (112, 30), (120, 40), (160, 45),
         (200, 50)]  # fmt: skip
STATE = ToolsState("LS", who="Ruth, foreman")
AXIS = axis(CALENDAR, NOW, 60, 60)


def text(of: Shown, size: tuple[int, int] = (80, 24), state: ToolsState = STATE) -> str:
    return "\n".join(tools_canvas(of, size, UNICODE, state).text())


@pytest.mark.parametrize("signs", [UNICODE, ASCII], ids=["unicode", "ascii"])
@pytest.mark.parametrize("size", [(20, 5), (60, 19), (59, 40), *SIZES])
def test_the_screen_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    for each in (SOME, ALL, CALM, MANY, AWKWARD, EMPTY):
        for cursor in ("LS", "CC", FOLD, "back h-old", None):
            state = replace(STATE, cursor=cursor, who=LONG, said=LONG, stale="10:41", open=True)
            canvas = tools_canvas(each, size, signs, state)
            assert [cell_len(line) for line in canvas.text()] == [size[0]] * size[1]


@pytest.mark.parametrize("size", SIZES)
def test_in_ascii_every_letter_is_ascii(size: tuple[int, int]) -> None:
    for cursor in ("LS", "CC"):
        state = replace(STATE, cursor=cursor)
        assert "\n".join(tools_canvas(ALL, size, ASCII, state).text()).isascii()


@pytest.mark.parametrize("size", SIZES)
def test_the_three_questions_are_answered_first_each_at_its_place(size: tuple[int, int]) -> None:
    lines = tools_canvas(SOME, size, UNICODE, STATE).text()
    assert lines[1].startswith(" send back  bearing puller today 16:00")
    assert lines[2].startswith(" extend     engine locking set to Mon")
    assert lines[3].startswith(" order      pilot puller for Thu")
    assert lines[4].startswith(" look at    two want centring kit")


def test_on_a_calm_day_nothing_is_loud_and_the_questions_stand_all_the_same() -> None:
    canvas = tools_canvas(CALM, (120, 40), UNICODE, STATE)
    assert not any(ink.loud for row in canvas.inks for ink in row)
    assert "send back  nothing today" in canvas.text()[1]
    assert "order      nothing for the week to come" in canvas.text()[3]


def test_what_is_ordered_later_stands_there_quietly() -> None:
    later = replace(PILOT, verb=None, says="", advice=None, by=on("Fri 12:00"))
    line = tools_canvas(shown(later), (120, 40), UNICODE, STATE).text()[3]
    assert "pilot puller for Thu, ask by Fri" in line


def test_answers_that_do_not_fit_are_counted() -> None:
    line = tools_canvas(MANY, (80, 24), UNICODE, STATE).text()[1]
    assert "kit 0 today 16:00" in line
    assert line.rstrip().endswith("more")


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50)])
def test_kits_with_nothing_to_do_are_one_line_until_they_are_opened(size: tuple[int, int]) -> None:
    shut = text(SOME, size)
    assert "◦ 24 at rest" in shut
    assert "clutch press" not in [line.strip() for line in shut.splitlines()]
    rows = rows_of(SOME, replace(STATE, open=True), 0)
    assert len(rows) == 5 + 24 + 1
    assert len(rows_of(SOME, STATE, 0)) == 5 + 1 + 1


def test_every_verb_is_shouted_with_its_sign_before_its_line() -> None:
    state = replace(STATE, cursor="IN")
    seen = "\n".join(tools_canvas(ALL, (120, 60), UNICODE, state).text())
    for word in ("OVERDUE", "OUT OF DATE", "SEND BACK", "EXTEND", "ASK", "CLASH"):
        assert f"{UNICODE.of(KIT_LOUD[word].state)} {word} " in seen


def test_every_verb_has_its_word_its_meaning_and_its_question() -> None:
    verbs = set(get_args(Verb))
    assert verbs == set(KIT_LOUD) == set(KIT_MEANINGS)
    assert sorted(verbs) == sorted(verb for _, asked in GROUPS for verb in asked)


def test_the_recommended_day_is_filled_and_a_day_more_or_less_is_said() -> None:
    canvas = tools_canvas(SOME, (80, 24), UNICODE, STATE)
    filled = [
        "".join(letter for letter, ink in zip(row, inks, strict=True) if ink == Ink(loud=True))
        for row, inks in zip(canvas.text(), canvas.inks, strict=True)
    ]
    assert [one.strip() for one in filled if one.strip()] == ["Mon 19", "118"]
    said = text(SOME)
    assert "Mon 19 costs 118: 60 more a day sooner, 22 more a day later, 178 as it is." in said


def test_parts_of_the_table_add_up_and_stand_under_their_day() -> None:
    lines = text(SOME, (120, 40)).splitlines()
    label = {line[2:17].strip(): line[17:].split() for line in lines if line[2:17].strip()}
    parts = [label[one] for one in ("hire", "carriage", "late fee", "lift that waits")]
    for n, total in enumerate(label["together"][:6]):
        assert abs(sum(int(one[n]) for one in parts) - int(total)) <= 2, "rounded to the unit"


def test_without_terms_there_is_no_money_only_until_when_it_is_needed() -> None:
    assert LOCKING.advice is not None
    days = tuple(DayCost(one.day, one.back_by, one.needed) for one in LOCKING.advice.days)
    kit = replace(LOCKING, advice=replace(LOCKING.advice, days=days, instead_of=None))
    seen = text(shown(kit), (120, 40))
    assert "until when it is needed" in seen
    assert "still needed" in seen
    assert "together" not in seen
    assert step_words(kit.advice or LOCKING.advice, CALENDAR.zone, NOW) == ""


def test_a_clash_shows_its_ways_out_with_money_and_chance() -> None:
    seen = " ".join(text(SOME, (120, 40), replace(STATE, cursor="CC")).split())
    assert "2417 and 2433 want it today 13:00 to 14:00, 7 in 10." in seen
    assert "2433 waits for it half an hour: costs 6; 2417 safe, 2433 likely 8 in 10" in seen
    assert "hire a second one for 3 days: costs 96" in seen


def test_the_height_right_of_now_is_the_chance_that_it_is_still_needed() -> None:
    cells = dict(band_of(AXIS, PULLER, UNICODE))
    right = [cells[n].letter for n in sorted(cells) if n > AXIS.now]
    ramp = [one for one in right if one != UNICODE.quiet]
    steps = [8 - UNICODE.taper.index(one) for one in ramp]
    assert steps == sorted(steps, reverse=True)
    assert steps[0] >= 7
    assert {cells[n].role for n in cells if n < AXIS.now} == {"past"}


def test_beyond_the_due_day_what_is_still_needed_is_coloured() -> None:
    due = AXIS.column(on("Fri 12:00"))
    cells = dict(band_of(AXIS, LOCKING, UNICODE))
    after = {cell.role for n, cell in cells.items() if n > due}
    before = {cell.role for n, cell in cells.items() if AXIS.now < n < due}
    assert after == {"behind"}
    assert before == {"next"}


def test_idle_days_of_a_hire_are_a_thin_line_to_its_due_day() -> None:
    cells = dict(band_of(AXIS, SPRING, UNICODE))
    right = {n: cell for n, cell in cells.items() if n > AXIS.now}
    assert {cell.letter for cell in right.values()} == {UNICODE.quiet}
    assert max(right) <= AXIS.column(on("Mon+ 8:00"))


def test_what_is_needed_before_it_comes_is_a_lift_that_waits() -> None:
    wide = axis(CALENDAR, NOW, 120, 60)
    cells = dict(band_of(wide, GAUGES, UNICODE))
    comes = wide.column(on("Fri 8:00"))
    held = [n for n, cell in cells.items() if cell.letter == UNICODE.held]
    assert held
    assert max(held) < comes


def test_two_that_want_one_kit_are_hatched_while_they_do() -> None:
    cells = dict(band_of(AXIS, CENTRING, UNICODE))
    hatched = [n for n, cell in cells.items() if cell.letter == UNICODE.beyond]
    assert hatched == [n for n, _ in AXIS.between(on("Wed 13:00"), on("Wed 14:00"))]


def test_past_its_day_a_hire_is_hatched_up_to_now() -> None:
    cells = dict(band_of(AXIS, OVERDUE, UNICODE))
    late = [n for n, cell in cells.items() if cell.letter == UNICODE.beyond]
    assert min(late) == AXIS.column(on("Tue 12:45"))
    assert max(late) == AXIS.now - 1


def test_between_two_known_instants_the_chance_is_the_earlier_one() -> None:
    points = ((on("Wed 12:00"), 1.0), (on("Wed 14:00"), 0.25), (on("Wed 16:00"), 0.0))
    seen = [needed_at(points, on(f"Wed {clock}")) for clock in ("11:59", "12:00", "15:00", "16:00")]
    assert seen == [0.0, 1.0, 0.25, 0.0]
    assert needed_at((), NOW) is None


def test_a_due_day_has_the_chance_of_its_row_of_the_table() -> None:
    likely = in_time(LOCKING, LOCKING.hires[0], CALENDAR.zone)
    assert likely is not None
    assert back_in_time(likely) == "leans good 6 in 10"


def test_a_kit_that_goes_back_too_early_will_be_late_and_breaks_nothing() -> None:
    early = replace(LOCKING.hires[0], due=on("Thu 15:30"))
    likely = in_time(replace(LOCKING, hires=(early,)), early, CALENDAR.zone)
    assert likely is not None
    assert back_in_time(likely) == "will be late under 1 in 10"


def test_of_two_hires_of_a_kit_only_the_one_that_was_worked_out_has_a_chance() -> None:
    other = replace(LOCKING.hires[0], hire="h-other", job="2433")
    two = replace(LOCKING, hires=(*LOCKING.hires, other))
    assert in_time(two, other, CALENDAR.zone) is None
    assert in_time(two, two.hires[0], CALENDAR.zone) is not None


def test_days_shown_lie_round_the_recommended_one() -> None:
    assert LOCKING.advice is not None
    assert best_of(LOCKING.advice, CALENDAR.zone) == 2
    assert list(around(5, 9, 4)) == [3, 4, 5, 6]
    assert list(around(0, 9, 4)) == [0, 1, 2, 3]
    assert list(around(8, 9, 4)) == [5, 6, 7, 8]
    assert [tenths(one) for one in (1.0, 0.44, 0.02)] == ["surely", "4 in 10", "hardly"]


def test_a_day_of_another_week_has_its_month() -> None:
    seen = [
        short_day(date(2026, *day), date(2026, 10, 14)) for day in ((10, 14), (10, 20), (11, 4))
    ]
    assert seen == ["Wed 14", "20 Oct", "4 Nov"]


def test_what_goes_back_early_stands_with_that_day() -> None:
    best = Way("send back", "today 15:30, saves 8", 48, on("Wed 15:30"))
    early = replace(PULLER, hires=(replace(PULLER.hires[0], due=on("Fri 16:00")),),
                    advice=Advice("BP", best, 56, ""))  # fmt: skip
    assert "bearing puller today 15:30" in text(shown(early)).splitlines()[1]


def test_a_kit_says_whose_it_is_where_and_for_whom() -> None:
    assert state_words(PULLER, UNICODE) == "24 a day, here › 2420"
    assert state_words(LOCKING, UNICODE) == "31 a day, fixed on 2409.3"
    assert state_words(CENTRING, UNICODE) == "ours, in use on 2417.4 › 2433"
    assert state_words(PILOT, UNICODE) == "not asked for › 2433"


def test_a_long_list_keeps_the_chosen_line_in_sight_and_says_what_is_beyond() -> None:
    seen = text(MANY, state=replace(STATE, cursor="K30"))
    assert "▸ kit 30" in seen
    assert "above" in seen
    assert "more below" in seen


def test_a_shop_without_kits_says_what_stands_here_and_where_they_come_from() -> None:
    seen = text(EMPTY)
    assert "where each is, who needs it when" in seen
    assert "Kits come with the work book: b on the floor" in seen


def test_where_no_supplier_is_known_it_is_said_which_keys_begin() -> None:
    seen = text(replace(SOME, suppliers=False), (80, 24), replace(STATE, cursor="PP"))
    assert "No supplier is known yet: t says how one counts, p what a kit costs" in seen
    assert "No supplier" not in text(SOME, (80, 24), replace(STATE, cursor="PP"))


def test_without_colour_the_same_words_are_there() -> None:
    colour = tools_lines(SOME, (80, 24), Paint(DARK), UNICODE, STATE)
    for look in (Paint(ANSI), Paint(DARK, monochrome=True)):
        lines = tools_lines(SOME, (80, 24), look, UNICODE.without_colour(), STATE)
        words = ["".join(one.text for one in line).replace("░", "█") for line in lines]
        assert words == ["".join(one.text for one in line) for line in colour]
