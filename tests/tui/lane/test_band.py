from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from store.views.values import Finish, Job
from tests.tui.made import CALENDAR, NOW, label, on
from tests.tui.made_floor import floor
from tests.tui.made_jobs import camper, estate, pickup, saloon, van
from tui.colours import Ink
from tui.lane.axis import axis
from tui.lane.band import Band, lay_out, paint_band
from tui.lane.captions import paint_captions, paint_mark, paint_short_promise
from tui.lane.labels import paint_axis, paint_labels, paint_lines
from tui.lane.outlook import outlook
from tui.lane.taper import GONE, taper
from tui.parts.canvas import Canvas
from tui.signs import ASCII, UNICODE, Signs

HEIGHTS = " ▁▂▃▄▅▆▇█"
WIDTHS = [24, 32, 57, 90, 162, 200]
JOBS = [van, estate, pickup, saloon, camper]


def band(job: Job, width: int = 90) -> Band:
    return lay_out(axis(CALENDAR, NOW, width), job, outlook(job))


def painted(job: Job, signs: Signs = UNICODE, width: int = 90, thick: int = 1) -> Canvas:
    """Labels, band and captions over nights and now, as a lane shows them."""
    laid = band(job, width)
    canvas = Canvas(width, thick + 2)
    paint_lines(canvas, (0, 0), thick + 2, laid.axis, signs)
    paint_labels(canvas, (0, 0), laid, signs)
    paint_band(canvas, (0, 1), laid, signs, thick)
    paint_captions(canvas, (0, 1 + thick), laid, signs)
    return canvas


@pytest.mark.parametrize("thick", [1, 2])
@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("width", WIDTHS)
def test_a_lane_has_exactly_its_size(width: int, signs: Signs, thick: int) -> None:
    for make in JOBS:
        job = replace(
            make(), vehicle="変速" * 100,
            labels=tuple(replace(each, name="é́変速機 👩‍🔧" * 40) for each in make().labels),
        )  # fmt: skip
        lines = painted(job, signs, width, thick).text()
        assert [cell_len(line) for line in lines] == [width] * (thick + 2)


@pytest.mark.parametrize("width", WIDTHS)
def test_now_is_never_crossed(width: int) -> None:
    for make in JOBS:
        for signs in (UNICODE, ASCII):
            now = axis(CALENDAR, NOW, width).now
            lines = painted(make(), signs, width).text()
            assert {line[now] for line in lines} == {signs.now}


def test_the_ascii_lane_is_ascii() -> None:
    for make in JOBS:
        assert all(line.isascii() for line in painted(make(), ASCII, 162, 2).text())


def test_the_height_over_the_mark_is_the_chance_that_the_promise_breaks() -> None:
    for make in (estate, pickup, camper):
        job = make()
        canvas = painted(job)
        mark = band(job).mark
        assert mark is not None
        assert job.promise_chance is not None
        eighths = HEIGHTS.index(canvas.text()[1][mark])
        assert abs(eighths / 8 - (1 - job.promise_chance)) <= 1 / 8
        tenth = painted(job, ASCII).text()[1][mark]
        in_ten = 10 if tenth == "-" else int(tenth)
        assert abs(in_ten / 10 - (1 - job.promise_chance)) <= 0.1


@given(st.sampled_from(JOBS), st.floats(0, 60), st.floats(0, 60))
@settings(max_examples=60)
def test_the_taper_only_falls(make: Callable[[], Job], one: float, other: float) -> None:
    falls = taper(axis(CALENDAR, NOW, 90), make())
    assert falls is not None
    low, high = sorted((one, other))
    assert 1 >= falls.unfinished(low) >= falls.unfinished(high) >= 0


@pytest.mark.parametrize("make", JOBS)
def test_the_taper_goes_through_the_quantiles(make: Callable[[], Job]) -> None:
    job: Job = make()
    along = axis(CALENDAR, NOW, 90)
    falls = taper(along, job)
    assert falls is not None
    for n, instant in enumerate(job.finish_quantiles, start=1):
        assert falls.unfinished(along.working_h(instant)) == pytest.approx(1 - n / 20, abs=1e-6)


def test_without_quantiles_the_middle_finish_is_the_taper_half_way() -> None:
    job = replace(van(), finish_quantiles=(), promise_chance=None)
    along = axis(CALENDAR, NOW, 90)
    falls = taper(along, job)
    assert falls is not None
    assert job.finish is not None
    assert falls.unfinished(along.working_h(job.finish.middle)) == pytest.approx(0.5, abs=1e-6)
    assert falls.unfinished(along.working_h(job.finish.cautious)) == pytest.approx(0.2, abs=1e-6)


def test_nothing_is_drawn_ahead_of_a_job_that_is_done() -> None:
    job = replace(van(), finish=None, finish_quantiles=(), ahead=())
    laid = band(job)
    assert laid.taper is None
    assert painted(job).text()[1][laid.axis.now + 1 :].strip(" ╎╏") == ""


def test_a_sure_finish_at_one_instant_is_a_steep_end() -> None:
    at = on("Thu 10:00")
    job = replace(van(), finish=Finish(at, at), finish_quantiles=(at,) * 19)
    laid = band(job)
    row = painted(job).text()[1]
    end = laid.axis.column(at)
    assert set(row[laid.axis.now + 1 : end - 1]) <= {"█", "╎"}
    assert row[end + 1 :].strip(" ╎╏") == ""


def test_nothing_of_the_taper_is_drawn_under_two_in_a_hundred() -> None:
    laid = band(van())
    assert laid.taper is not None
    last = laid.axis.working_h(on("Thu 16:00"))
    assert laid.taper.unfinished(last) < GONE
    assert painted(van()).text()[1][laid.axis.column(on("Thu 16:00"))] == " "


def test_beyond_the_estimate_is_hatched_from_the_instant_on() -> None:
    laid, row = band(pickup()), painted(pickup()).text()[1]
    assert row[laid.axis.column(on("Tue 15:20"))] == "█"
    assert row[laid.axis.column(on("Tue 16:10"))] == "▒"
    assert row[laid.axis.column(on("Wed 09:30"))] == "▒"


def test_hatching_is_quiet_once_the_phase_is_done_and_the_promise_is_safe() -> None:
    def hatched(job: Job) -> set[Ink]:
        canvas = painted(job)
        row = zip(canvas.text()[1], canvas.inks[1], strict=True)
        return {ink for letter, ink in row if letter == "▒"}

    assert hatched(van()) == {Ink("past")}
    assert hatched(estate()) == {Ink("behind")}
    assert hatched(pickup()) == {Ink("behind")}


def test_held_and_outwork_are_told_apart_and_drawn_ahead_too() -> None:
    held, away = painted(estate()).text()[1], painted(saloon()).text()[1]
    now = band(estate()).axis.now
    assert held[now - 1] == held[now + 1] == "╍"
    assert away[now - 1] == away[now + 1] == "╌"


def test_what_stands_beyond_the_promise_is_painted_by_its_chance() -> None:
    def beyond(job: Job) -> set[str]:
        laid, canvas = band(job), painted(job)
        assert laid.mark is not None
        return {
            ink.role
            for letter, ink in list(zip(canvas.text()[1], canvas.inks[1], strict=True))[
                laid.mark + 1 :
            ]
            if letter in HEIGHTS[1:]
        }

    assert beyond(estate()) == {"blocked"}
    assert beyond(pickup()) == {"behind"}
    assert beyond(camper()) == {"behind"}
    assert beyond(replace(camper(), promise_chance=0.8)) == {"next"}


def test_before_anything_was_learned_the_finish_decides() -> None:
    fine = replace(van(), promise_chance=None, finish_quantiles=())
    late = replace(fine, promise=on("Wed 12:00"))
    cautious = replace(fine, promise=on("Wed 13:40"))
    said = [outlook(job) for job in (fine, late, cautious, replace(fine, promise=None))]
    assert [look and (look.word, look.role) for look in said] == [
        ("", "text"), ("will be late", "blocked"), ("late at the cautious figure", "behind"), None,
    ]  # fmt: skip


def test_labels_are_cut_word_by_word_and_stay_apart() -> None:
    row = painted(van()).text()[0]
    assert "1 2 gearb 3" in row
    row = painted(van(), width=162).text()[0]
    assert "2 gearbox" in row


def test_figures_shrink_to_what_is_over_and_then_to_nothing() -> None:
    row = painted(van()).text()[2]
    assert "4.4/3.5 +0.1" in row
    assert "0.5/0.5" not in row


def test_the_caption_stands_where_it_fits() -> None:
    assert "▴ promised Thu 12:00 safe" in painted(van()).text()[2]
    assert "promised Mon 10:00 safe ▴" in painted(saloon()).text()[2]
    far = replace(saloon(), promise=on("Tue+ 15:00"))
    assert painted(far).text()[2].rstrip().endswith("›")
    gone = replace(van(), promise=on("Fri- 10:00"), promise_chance=0.0)
    assert painted(gone).text()[2].startswith("‹ ")


def test_a_promise_that_passed_leaves_no_figure_under_its_caption() -> None:
    passed = replace(van(), promise=on("Tue 12:00"), promise_chance=0.0)
    row = painted(passed).text()[2]
    assert "▴" in row
    assert "4.4/3.5" not in row


def test_a_narrow_lane_says_the_date_beside_the_mark() -> None:
    for make, said in ((van, "Thu 12:00▴"), (saloon, "Mon 10:00 ›")):
        canvas = Canvas(24, 1)
        paint_short_promise(canvas, (0, 0), band(make(), 24), UNICODE)
        assert said in canvas.text()[0]


def test_in_two_rows_the_mark_stands_on_the_band_and_a_bad_word_over_it() -> None:
    canvas = Canvas(90, 2)
    laid = band(pickup())
    paint_band(canvas, (0, 1), laid, UNICODE, 1)
    paint_mark(canvas, (0, 0), laid, UNICODE)
    assert "coin toss" in canvas.text()[0]
    assert laid.mark is not None
    assert canvas.text()[1][laid.mark] == "▴"


def test_two_cells_thick_has_sixteen_heights() -> None:
    upper, lower = painted(estate(), width=162, thick=2).text()[1:3]
    heights = {
        HEIGHTS.index(high) + HEIGHTS.index(low)
        for high, low in zip(upper, lower, strict=True)
        if high in HEIGHTS and low in HEIGHTS
    }
    assert len(heights - {0}) > 8
    assert all(low == "█" for high, low in zip(upper, lower, strict=True) if high in HEIGHTS[1:])


@pytest.mark.parametrize("width", WIDTHS)
def test_days_and_hours_never_touch_now(width: int) -> None:
    along = axis(CALENDAR, NOW, width)
    canvas = Canvas(width, 1)
    paint_axis(canvas, (0, 0), along)
    row = canvas.text()[0]
    assert cell_len(row) == width
    assert row[along.now] == " "
    assert row[along.now - 1] == " "


def test_today_is_bold_and_the_other_days_are_not() -> None:
    along = axis(CALENDAR, NOW, 90)
    canvas = Canvas(90, 1)
    paint_axis(canvas, (0, 0), along)
    row = canvas.text()[0]
    assert canvas.inks[0][row.index("Wed")].bold
    assert not canvas.inks[0][row.index("Thu 15")].bold
    assert "12h  15h" in row


def test_a_lane_of_a_job_without_past_or_future_is_empty() -> None:
    bare = replace(
        floor().waiting[0], labels=(label("1 check", "to come"),), finish=None, promise=None
    )
    assert painted(bare).text()[1].strip(" ╎╏┃") == ""
