"""The intake as lines: exactly as wide and high as asked, and what it says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.tui.made import CALENDAR, NOW, ZONE, on
from tests.tui.made_intake import CALENDAR_FACTOR, FORM, ROUTE, found, here, state
from tui.colours import ANSI, DARK, HIGH, LIGHT, Look, Paint
from tui.intake.fields import begun
from tui.intake.paint import intake_canvas, intake_lines, shown_phases
from tui.intake.promise import offers
from tui.intake.rest import sections, shared_out
from tui.intake.state import Form, IntakeState, label_and_mass
from tui.intake.table import columns, known_from
from tui.intake.what_if import questions, what_if_canvas
from tui.parts.canvas import as_text
from tui.signs import ASCII, UNICODE, Signs
from tui.words import chance, day_time, hours, tenth, zone_of

SIZES = [(60, 20), (80, 24), (100, 30), (112, 30), (120, 40), (180, 45), (200, 50)]
LONG = "Ä" * 90 + "字" * 60 + "é‍👩‍👧 " * 10


def text(shown: IntakeState, size: tuple[int, int] = (80, 24), signs: Signs = UNICODE) -> str:
    return "\n".join(intake_canvas(here(), size, signs, shown).text())


def typing_states() -> list[IntakeState]:
    return [
        state(typing=begun(here(), FORM, "vehicle", LONG)),
        state(typing=begun(here(), FORM, "family", "b4")),
        state(form=Form(), found=None, stage="", typing=begun(here(), Form(), "work", LONG)),
        state(typing=begun(here(), FORM, "told", "leaks, and a noise")),
    ]


STATES = [
    state(),
    state(found=None, stage="", form=Form()),
    state(form=replace(FORM, vehicle=LONG, told=LONG, small=LONG, work=())),
    state(form=replace(FORM, day=on("Thu 16:00"), chance=None), day_chance=0.4, said="! " + LONG),
    state(wrong=LONG, found=None, stage=""),
    state(first=3, stale="10:41", note=LONG),
    *typing_states(),
]


@pytest.mark.parametrize("signs", [UNICODE, ASCII], ids=["unicode", "ascii"])
@pytest.mark.parametrize("size", [(1, 1), (59, 20), *SIZES], ids=str)
def test_every_size_is_filled_exactly(size: tuple[int, int], signs: Signs) -> None:
    for shown in STATES:
        lines = intake_lines(here(), size, Paint(), signs, shown)
        assert len(lines) == size[1]
        assert {sum(one.cell_length for one in line) for line in lines} == {size[0]}


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_ascii_set_is_ascii_but_for_what_people_typed(size: tuple[int, int]) -> None:
    assert text(state(), size, ASCII).isascii()
    for n in range(len(questions(found()))):
        page = what_if_canvas(here(), found(), n, size, ASCII).text()
        assert {len(line) for line in page} == {size[0]}
        assert "\n".join(page).isascii()


@pytest.mark.parametrize("look", [DARK, LIGHT, HIGH, ANSI], ids=lambda look: look.name)
def test_no_colour_says_more_than_the_words(look: Look) -> None:
    for size in SIZES:
        plain = intake_lines(here(), size, Paint(look, monochrome=True), UNICODE, state())
        coloured = intake_lines(here(), size, Paint(look), UNICODE, state())
        assert [as_text(one) for one in plain] == [as_text(one) for one in coloured]


def test_each_phase_says_its_hours_and_where_they_come_from() -> None:
    shown = text(state(), (120, 40))
    for line in ROUTE:
        row = next(one for one in shown.splitlines() if line.name in one)
        if line.kind == "labour":
            wanted = f"{tenth(line.book_h)} {tenth(line.figures.middle)}"
            assert wanted in " ".join(row.split())
    assert "41 jobs, 12 on this family" in shown
    assert "38 jobs, none on this family" in shown
    assert "6 jobs, thin" in shown
    assert "book only" in shown
    assert "stands, no labour" in shown


def test_words_of_a_base_are_short_where_there_is_little_room() -> None:
    few = columns(80).end - columns(80).source
    assert all(len(known_from(one, state(), brief=True)[0]) <= few for one in ROUTE)


def test_ranges_stand_on_one_scale_of_hours() -> None:
    shown = intake_canvas(here(), (120, 40), UNICODE, state()).text()
    at = columns(120)

    def marks(name: str) -> tuple[int, int, int]:
        row = next(line for line in shown if name in line)[at.bar : at.source]
        return row.index("━") if "━" in row else row.index("┃"), row.index("┃"), len(row.rstrip())

    out, road = marks("gearbox out"), marks("road test")
    assert out[0] <= out[1] <= out[2]
    scale = out[1] / 3.5
    assert abs(road[1] - 0.8 * scale) <= 1
    assert abs(marks("gearbox in")[1] - 3.8 * scale) <= 1


def test_together_says_the_range_and_what_is_shared() -> None:
    total = found().total
    low, high = total.quantiles[1], total.quantiles[17]
    assert f"8 in 10 between {tenth(low)} and {hours(high)}; sharing saves 6.8 h" in text(
        state(), (120, 40)
    )
    assert f"{tenth(low)} to {hours(high)}" in text(state())


def test_promises_stand_by_chance_and_the_chosen_one_is_filled() -> None:
    zone = zone_of(ZONE)
    for level in (0.5, 0.8, 0.9, 0.95):
        at = next(when for one, when in found().promise if one == level)
        assert day_time(at, zone, NOW) in text(state(), (120, 40))
    canvas = intake_canvas(here(), (120, 40), UNICODE, state())
    row = next(n for n, line in enumerate(canvas.text()) if line.startswith(" promise"))
    loud = "".join(
        letter
        for letter, ink in zip(canvas.letters[row], canvas.inks[row], strict=True)
        if ink.loud
    )
    chosen = next(when for one, when in found().promise if one == 0.8)
    assert loud.strip() == day_time(chosen, zone, NOW)


def test_a_typed_day_stands_at_its_place_with_its_chance_in_words() -> None:
    day = on("Thu 16:00")
    shown = state(form=replace(FORM, day=day, chance=None), day_chance=0.42)
    row = [one for one in offers(here(), shown) if one.at == day]
    assert [one.words for one in row] == ["a coin toss 4 in 10"]
    assert row[0].chosen
    dates = [one.at for one in offers(here(), shown) if one.at]
    assert dates == sorted(dates)
    assert "Thu 16:00" in text(shown)
    unknown = state(form=replace(FORM, day=day, chance=None), day_chance=None)
    assert "unknown" in text(unknown)


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_what_is_chosen_is_never_off_the_row(size: tuple[int, int]) -> None:
    zone = zone_of(ZONE)
    for level in (0.5, 0.8, 0.9, 0.95):
        shown = state(form=replace(FORM, chance=level, day=on("Fri 12:00")), day_chance=0.7)
        at = next(when for one, when in found().promise if one == level)
        assert day_time(at, zone, NOW) in text(shown, size)
    assert "not yet" in text(state(form=replace(FORM, chance=None)), size)


def test_what_if_says_odds_hours_date_and_tools() -> None:
    shown = " ".join(text(state(), (120, 50)).split())
    date = day_time(next(at for one, at in BUILD_TWO if one == 0.8), zone_of(ZONE), NOW)
    assert f"two-piece 2 in 10 +0.6 h {date} same chance needs pilot puller" in shown
    assert "seal large odds not known same hours" in shown
    assert "fail: not the clutch 1 in 10 then 0.6 h spent" in shown
    assert "timing chain, 3 in 10 now +4.6 h; later, alone, 14.5 h" in shown


BUILD_TWO = next(way.finish for line in found().forks for way in line.ways if way.code == "two")


def test_both_builds_stand_side_by_side() -> None:
    page = what_if_canvas(here(), found(), 0, (80, 24), UNICODE).text()
    row = next(line for line in page if "one-piece" in line and "two-piece" in line)
    at = row.index("2 two-piece")
    by_label = {line[:15].strip(): line for line in page[4:]}
    assert by_label["how likely"][at:].strip() == "2 in 10"
    assert by_label["hours"][at:].strip() == "11.3 h, +0.6"
    assert by_label["tools more"][at:].strip() == "pilot puller, hired"
    assert "8 in 10" in by_label["likely 8 in 10"]


def test_a_lift_that_cannot_carry_it_says_both_figures() -> None:
    shown = text(state(), (200, 50))
    assert "carries 1.4 t, not 1.5 t" in shown
    assert "out of service" in shown
    assert "3 too weak" in text(state())
    assert "6 free" in text(state())
    assert "its mass is not known" in text(state(form=replace(FORM, vehicle="saloon")), (200, 50))


def test_what_does_not_fit_is_left_out_by_its_weight_and_phases_scroll() -> None:
    many = replace(found(), route=ROUTE * 4)
    shown = state(found=many)
    fit = shown_phases(here(), (80, 24), UNICODE, shown)
    assert 4 <= fit < len(many.route)
    assert f"({len(many.route) - fit} more below)" in text(shown)
    assert "check" in text(shown)
    end = replace(shown, first=len(many.route) - fit)
    assert f"({len(many.route) - fit} above)" in text(end)
    assert "what if" in text(end)


def test_rows_are_shared_out_and_the_first_of_each_stays() -> None:
    made = sections(here(), state(), UNICODE)
    assert [one.label for one in made] == ["check", "what if", "while open", "tools", "lift"]
    for rows in range(12):
        given = shared_out(made, rows)
        assert sum(len(one.rows) for one in given) <= rows
        if rows >= len(made):
            assert len(given) == len(made)
    assert [one.label for one in shared_out(made, 3)] == ["what if", "while open", "lift"]


def test_an_empty_shop_is_told_what_to_do() -> None:
    empty = replace(here(), has_book=False, sold=(), families=(), lifts=(), kits=())
    shown = "\n".join(
        intake_canvas(empty, (80, 24), UNICODE, state(form=Form(), found=None, stage="")).text()
    )
    assert "There is no work book yet" in shown
    assert "hoistbook workbook load FILE.toml" in shown
    assert "No lift yet" in shown
    family = begun(empty, Form(), "family")
    assert "No family was here yet" in " ".join(family.facts)


def test_while_it_is_worked_out_the_book_is_shown_and_it_is_said() -> None:
    shown = text(state(stage="book", found=replace(found(), promise=(), forks=(), extras=())))
    assert "asking" in shown
    assert "dates are being worked out" in shown


@pytest.mark.parametrize(
    "typed, label, mass",
    [
        ("old saloon, 1.5 t", "old saloon", 1500.0),
        ("old saloon 1,5t", "old saloon", 1500.0),
        ("van 2100 kg", "van", 2100.0),
        ("AB-12-C", "AB-12-C", None),
        ("model 5 t", "model", 5000.0),
        ("dwarf 3 kg", "dwarf 3 kg", None),
        ("  ", "", None),
    ],
)
def test_mass_is_read_off_the_vehicle(typed: str, label: str, mass: float | None) -> None:
    assert label_and_mass(typed) == (label, mass)


def test_made_values_hang_together() -> None:
    """Dates of the made estimate lie at the quantiles that it says."""
    at = next(when for one, when in found().promise if one == 0.5)
    assert CALENDAR.working_h(NOW, at) == pytest.approx(10.7 * CALENDAR_FACTOR, abs=0.25)
    assert chance(0.42).word == "a coin toss"
