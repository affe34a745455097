"""Pictures of papers: where a ratio stands, how long a bar is, that nothing overflows, that what
is told by colour is told by shape too."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from store.sums.accuracy import Case, accuracy
from tests.tui.papers.made_month import CHANGED, by_month, days_late
from tui.papers.month_pictures import chart, charted, labelled
from tui.papers.pictures import NEAR, Bar, Bars, Mark, Piece, Point, Run, Stretch, Strip
from tui.papers.pictures_text import bars_lines, run_lines, strip_lines
from tui.papers.svg import EDGE, across, bars_svg, run_svg, strip_svg
from tui.signs import ASCII, UNICODE

ratios = st.floats(0.01, 50)
words = st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=30)


def strip(*found: float) -> Strip:
    return Strip(tuple(Mark(one, f"{one:g}", f"job-{n}") for n, one in enumerate(found)), "jobs")


def drawn(parts: Iterable[str]) -> Element:
    """An SVG as a tree; what follows it is left out."""
    text = "".join(parts)
    return ElementTree.fromstring(text[: text.rindex("</svg>") + 6])


def shares(tree: Element, tag: str, key: str) -> list[float]:
    """Per cent of all elements of a tag."""
    return [float(one.get(key, "0").rstrip("%")) for one in tree.iter(tag)]


# -- a strip


def test_twice_as_much_is_as_far_from_the_middle_as_half() -> None:
    assert across(1.0) == 50
    assert (across(0.5), across(2.0)) == (EDGE, 100 - EDGE)
    assert across(0.001) == EDGE
    assert across(99) == 100 - EDGE


@given(ratios, ratios)
def test_more_stands_further_right(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert across(low) <= across(high)


@given(ratios)
def test_a_mark_is_near_where_the_accuracy_says_so(ratio: float) -> None:
    judged = accuracy([Case(ratio, 1.0, 1.0)])
    assert judged.within is not None
    if min(abs(ratio - end) for end in NEAR) > 1e-6:
        assert Mark(ratio, "").near == bool(judged.within.held)


@given(st.lists(ratios, min_size=1, max_size=60))
def test_there_is_a_mark_a_job_and_those_to_look_at_have_another_shape(found: list[float]) -> None:
    picture = strip(*found)
    tree = drawn(strip_svg(picture))
    assert len([*tree.iter("a")]) == len(found)
    assert len([*tree.iter("circle")]) == sum(one.near for one in picture.marks)
    assert len([*tree.iter("path")]) == sum(not one.near for one in picture.marks)
    assert all(0 <= x <= 100 for x in shares(tree, "circle", "cx"))


@given(st.lists(ratios, min_size=1, max_size=80), st.integers(60, 130), st.booleans())
def test_in_letters_no_mark_is_lost_and_no_line_too_wide(
    found: list[float], width: int, plain: bool
) -> None:
    signs = ASCII if plain else UNICODE
    lines = [*strip_lines(strip(*found), width, signs)]
    assert max(map(cell_len, lines)) <= width
    marks = "".join(line[: width - 12] for line in lines[:-1])
    assert marks.count(signs.of("done")) == len(found)
    assert [one for one in ("half", "as told", "double") if one not in lines[-1]] == []


# -- bars


def bars(*values: float, legend: bool = False) -> Bars:
    return Bars(
        tuple(Bar(f"bar {n}", (Piece("one", value, "past"), Piece("two", value / 2, "behind")),
                  f"{value:.1f} h", "a note") for n, value in enumerate(values)),
        "bars", legend,
    )  # fmt: skip


def test_bars_are_on_one_scale() -> None:
    tree = drawn(bars_svg(bars(10, 5, 0)))
    pieces = [one for one in tree.iter("rect") if one.get("class") != "trough"]
    widths = [float(one.get("width", "").rstrip("%")) for one in pieces]
    assert widths == pytest.approx([200 / 3, 100 / 3, 100 / 3, 50 / 3, 0, 0], abs=0.01)


@given(st.lists(st.floats(-1, 1e6), max_size=8), st.integers(60, 130), st.booleans())
def test_bars_in_letters_are_no_wider_than_they_may_be(
    values: list[float], width: int, legend: bool
) -> None:
    lines = [*bars_lines(bars(*values, legend=legend), width, UNICODE)]
    assert all(cell_len(one) <= width for one in lines)
    assert len(lines) == len(values) + legend


def test_pieces_have_glyphs_of_their_own_and_are_named() -> None:
    *lines, legend = bars_lines(bars(10, legend=True), 80, UNICODE)
    one, two = re.findall(r"(\S) (?:one|two)", legend)
    assert one != two
    assert lines[0].count(one) == pytest.approx(2 * lines[0].count(two), abs=1)


# -- individual values


def test_a_change_is_a_dated_line_between_the_points_that_it_parts() -> None:
    run = chart(by_month())
    assert [(one.first, one.last, one.since) for one in run.stretches] == [
        (0, 5, None), (6, 11, CHANGED),
    ]  # fmt: skip
    tree = drawn(run_svg(run))
    (change,) = [one for one in tree.iter("line") if one.get("class") == "change"]
    x = float(change.get("x1", "").rstrip("%"))
    points = shares(tree, "circle", "cx")
    assert sum(one < x for one in points) == 5, "one of the six before is outside, and no circle"
    assert "4 May 2026" in ["".join(one.itertext()) for one in tree.iter("text")]


def test_what_lies_outside_has_another_shape_and_points_lie_as_high_as_they_are() -> None:
    run = chart(by_month())
    tree = drawn(run_svg(run))
    heights = [float(one.get("cy", "")) for one in tree.iter("circle")]
    values = [one.value for one in run.points if not one.loud]
    assert len([*tree.iter("path")]) == sum(one.loud for one in run.points) == 1
    ordered = sorted(range(len(values)), key=lambda n: -values[n])
    assert [heights[n] for n in ordered] == sorted(heights)


def test_a_chart_in_letters_has_every_point_and_the_day_of_its_change() -> None:
    lines = [*run_lines(chart(by_month()), 80, UNICODE)]
    assert max(map(cell_len, lines)) <= 80
    assert "".join(lines).count("▪") == 11
    assert "".join(lines).count("!") == 1
    assert lines[0].strip() == "4 May 2026"
    assert lines[-1].endswith("Oct 26")


@given(
    st.lists(st.tuples(st.floats(0.01, 30), st.booleans()), min_size=1, max_size=90),
    st.integers(60, 130), words,
)  # fmt: skip
def test_no_chart_is_wider_than_it_may_be(
    values: list[tuple[float, bool]], width: int, word: str
) -> None:
    points = tuple(Point(f"{n + 1} May 26", value, word, loud) for n, (value, loud) in
                   enumerate(values))  # fmt: skip
    cut = len(points) // 2
    stretches = (Stretch(0, max(0, cut - 1), 1.0, 0.5, 1.5),
                 Stretch(cut, len(points) - 1, 1.0, 0.5, 1.5, date(2026, 5, 4)))  # fmt: skip
    run = Run(word, points, stretches, (word, word), word, (1.0, word), ((1.5, word),))
    assert all(cell_len(one) <= width for one in run_lines(run, width, UNICODE))
    drawn(run_svg(run))


def test_deliveries_have_no_limits_and_a_height_to_read() -> None:
    run = chart(days_late())
    assert run.stretches == ()
    assert run.scale == ((1.0, "1 day late"),)
    assert run.target == (0.0, "in time")


def test_figures_of_charts_in_words() -> None:
    assert charted("shop", 1.07) == "7 % short"
    assert charted("phase", 1.33) == "33 % over the book"
    assert charted("person", 0.9) == "10 % under the book"
    assert charted("operation", 1.004) == "as the book"
    assert charted("held", 0.37) == "37 %"
    assert (charted("supplier", 0.0), charted("supplier", 1.5)) == ("in time", "1.5 days late")
    assert [labelled(one) for one in ("2026-09", "2026-09-04", "2417")] == [
        "Sep 26", "4 Sep 26", "2417",
    ]  # fmt: skip
