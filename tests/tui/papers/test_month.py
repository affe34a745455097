"""The owner's month as a paper: every figure leads to its rows, every row to its entries; and the
page is valid by the standard (HTML Living Standard, 13.2; html5lib in its strict mode)."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from rich.cells import cell_len

from store.views.month.page import Month
from store.views.month.way import Figure
from tests.store.actions.made import World
from tests.tui.papers.made import EVIL
from tests.tui.papers.made_month import MENDS, full, month_shop, october
from tests.tui.papers.test_html import parsed
from tests.tui.test_colours import contrast
from tui.papers.month import month_paper
from tui.papers.month_html import DARK, LIGHT, MARKS, STYLE, month_html
from tui.papers.month_spent import MADE_OF, hours_named, money_named
from tui.papers.text import text_of
from tui.signs import ASCII
from tui.words import plain


@pytest.fixture(name="world", scope="module")
def world_fixture(tmp_path_factory: pytest.TempPathFactory) -> Iterator[World]:
    made = month_shop(Path(tmp_path_factory.mktemp("month")))
    yield made
    made.shop.close()


def links(tree: Element) -> list[str]:
    """Where links lead."""
    return [found for one in tree.iter() if (found := one.get("href"))]


def words(one: Element) -> str:
    return " ".join("".join(one.itertext()).split())


def page(found: Month) -> Element:
    return parsed(month_html(found))


# -- valid, whole, alone


def test_the_page_is_valid_with_everything_that_it_may_hold(world: World) -> None:
    for found in (october(world), full(world), october(world, by="T1")):
        tree = page(found)
        assert tree.get("lang") == "en"
        assert tree.findtext("head/title")
        assert len(tree.findall(".//h1")) == 1
        for section in tree.iter("section"):
            assert section[0].tag == "h2"


def test_text_of_people_is_text_and_nothing_else(world: World) -> None:
    tree = page(full(world))
    assert [one.tag for one in tree.findall(".//main//script")] == []
    assert "\x1b" not in month_html(full(world))
    assert plain(EVIL) in "".join(tree.itertext())


def test_nothing_is_asked_from_anywhere_else(world: World) -> None:
    text = month_html(full(world))
    assert not re.search(r"\b(src|action|srcset)=|url\(|@import|https?:(?!//www\.w3\.org)", text)
    assert all(one.startswith("#") for one in links(parsed(text)))


def test_every_link_leads_somewhere_and_no_place_is_there_twice(world: World) -> None:
    for found in (october(world), full(world), october(world, by="T1")):
        tree = page(found)
        ids = Counter(one.get("id") for one in tree.iter() if one.get("id"))
        assert max(ids.values()) == 1
        assert {one[1:] for one in links(tree)} <= set(ids)


def test_what_people_see_first_is_said_first(world: World) -> None:
    tree = page(october(world))
    first = tree.find(".//main/p")
    assert first is not None
    assert first.get("class") == "first"
    assert words(first).startswith(october(world).said[0])


# -- from a figure to its entries


def figures(found: Month) -> list[tuple[str, Figure]]:
    every = (*hours_named(found.hours), *money_named(found.money))
    return [(key, one) for key, _, one in every]


def test_every_figure_that_is_made_of_something_leads_to_it(world: World) -> None:
    found = october(world)
    tree = page(found)
    seen = 0
    for key, one in figures(found):
        if one.ways:
            seen += 1
            assert f"#rows-{key}" in links(tree), key
    assert seen >= 4
    assert all(one in dict(figures(found)) for pair in MADE_OF.items() for one in pair)


def test_the_rows_of_a_figure_have_every_entry_that_it_is_made_of(world: World) -> None:
    found = october(world)
    table = page(found).find(".//table[@id='rows-on_jobs']")
    assert table is not None
    told = set(re.findall(r"\d+", " ".join(words(row[-1]) for row in table.iter("tr"))))
    clocks = {str(one.seq) for job in found.jobs for phase in job.phases for one in phase.clocks}
    assert clocks <= told
    assert len(clocks) == 3 * len(MENDS)


def test_every_job_and_phase_has_its_row(world: World) -> None:
    found = october(world)
    ids = {one.get("id") for one in page(found).iter()}
    for job in found.jobs:
        assert f"job-{job.job}" in ids
        assert {f"phase-{job.job}-{one.phase}" for one in job.phases} <= ids


def test_there_is_one_mark_a_job_and_it_leads_to_its_row(world: World) -> None:
    found = october(world)
    strip = page(found).find(".//figure/*")
    assert strip is not None
    marks = [one for one in strip.iter() if one.get("href", "").startswith("#job-")]
    assert {one.get("href") for one in marks} == {f"#job-{one.job}" for one in found.jobs}
    assert len(marks) == len(MENDS)


# -- who sees what


def test_no_customer_and_no_vehicle_is_named(world: World) -> None:
    text = month_html(full(world))
    labels = [one.vehicle for one in october(world).jobs]
    assert labels
    assert not [one for one in labels if one in text]


def test_a_technician_reads_nobody_elses_figures(world: World) -> None:
    mine, others = page(october(world, by="T2")), page(october(world, by="T1"))
    whole = words(mine)
    assert not re.search(r"\bT1\b", whole), "T1 did all of it, and T2 reads"
    assert re.search(r"\bT1\b", words(others))


# -- colours


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_every_colour_on_its_ground_meets_the_guidelines(look: dict[str, str]) -> None:
    # WCAG 2.2, success criteria 1.4.3 (AA): 4.5:1 for text; 1.4.11: 3:1 for what is no text.
    for ground in ("ground", "shade", "band"):
        for ink in ("ink", "dim", "link"):
            assert contrast(look[ink], look[ground]) >= 4.5, (ink, ground)
    for mark in MARKS:
        assert contrast(look[mark], look["ground"]) >= 3, mark
    assert contrast(look["rule"], look["ground"]) >= 3
    assert set(LIGHT) == set(DARK)


def test_the_style_uses_no_colour_of_its_own() -> None:
    values = {*LIGHT.values(), *DARK.values()}
    assert set(re.findall(r"#[0-9a-f]{3,8}\b", STYLE)) <= values
    assert set(re.findall(r"var\(--(\w+)\)", STYLE)) <= set(LIGHT)


# -- as text


@pytest.mark.parametrize("width", [60, 80, 120])
def test_as_text_no_line_is_wider_than_it_may_be(world: World, width: int) -> None:
    for found in (october(world), full(world)):
        lines = text_of(month_paper(found), width)
        assert max(map(cell_len, lines)) <= width


def test_in_plain_letters_the_pictures_are_plain_letters(world: World) -> None:
    found = replace(full(world), signals=october(world).signals, should_say=(), odds=())
    pictures = [
        line for line in text_of(month_paper(found), 80, ASCII) if not line.isascii()
    ]  # fmt: skip
    assert not [one for one in pictures if re.search(r"[█▪╌┃╎]", one)]


def test_a_month_without_jobs_says_so_and_has_no_marks(world: World) -> None:
    empty = replace(
        october(world), jobs=(), phases=(), said=("No job was closed.",), operations=(),
        by_phase=(), families=(), kinds=(), leads=(), before=(),
    )  # fmt: skip
    tree = page(empty)
    assert "No job was closed." in words(tree)
    assert not [one for one in links(tree) if one.startswith("#job-")]
