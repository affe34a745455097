"""Papers as HTML, read as strictly as the standard lets: HTML Living Standard, 13.2, parse errors
(html5lib in its strict mode raises each of them)."""

from __future__ import annotations

import re
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import pytest

from tests.store.actions.made import World
from tests.tui.papers.made import EVIL, evil, papers
from tests.tui.test_colours import contrast
from tui.cli.codes_list import job_sheet, shop_sheet
from tui.cli.html_codes import page
from tui.papers import html
from tui.papers.html import html_of
from tui.words import plain


def parsed(text: str) -> Element:
    """The tree of a page; any parse error of the standard fails."""
    parser: Any = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    found: Element = parser.parse(text)
    return found


def test_the_parser_is_strict() -> None:
    with pytest.raises(html5lib.html5parser.ParseError):
        parsed("<!DOCTYPE html><title>x</title><p>a</div>")


def test_every_paper_is_valid(busy: World) -> None:
    for name, paper in papers(busy).items():
        tree = parsed(html_of(paper))
        assert tree.get("lang") == "en", name
        assert tree.findtext("head/title"), name
        assert len(tree.findall(".//h1")) == 1, name
        assert tree.find(".//main") is not None, name


def test_tables_have_heads_and_each_row_a_name(busy: World) -> None:
    seen = 0
    for paper in papers(busy).values():
        for table in parsed(html_of(paper)).iter("table"):
            seen += 1
            heads = table.findall("thead/tr/th")
            assert heads
            assert all(one.get("scope") == "col" for one in heads)
            assert all("".join(one.itertext()).strip() for one in heads), "no empty head"
            for row in table.findall("tbody/tr"):
                assert [one.tag for one in row] == ["th", *["td"] * (len(heads) - 1)]
                assert row[0].get("scope") == "row"
    assert seen > 10


def test_sections_have_headings_and_what_they_say_stands_in_them(busy: World) -> None:
    for paper in papers(busy).values():
        for section in parsed(html_of(paper)).iter("section"):
            assert section[0].tag == "h2"


def test_text_of_people_is_text_and_nothing_else() -> None:
    tree = parsed(html_of(evil()))
    assert [one.tag for one in tree.iter() if one.tag in ("script", "b", "img")] == []
    assert plain(EVIL) in "".join(tree.find(".//h1").itertext())  # type: ignore[union-attr]  # it is there
    assert "\x1b" not in html_of(evil())


def test_nothing_is_asked_from_anywhere_else(busy: World) -> None:
    for paper in papers(busy).values():
        text = html_of(paper)
        assert not re.search(r"\b(src|href|action|srcset)=|url\(|@import|https?:", text)


def test_every_colour_on_its_ground_meets_the_guidelines() -> None:
    # WCAG 2.2, success criterion 1.4.3 (AA): 4.5:1 for text; 1.4.11: 3:1 for what is no text.
    for ground in (html.GROUND, html.SHADE):
        assert contrast(html.INK, ground) >= 7
        assert contrast(html.DIM, ground) >= 4.5
    assert contrast(html.RULE, html.GROUND) >= 3
    colours = set(re.findall(r"#[0-9a-f]{6}", html.STYLE))
    assert colours == {html.INK, html.DIM, html.RULE, html.SHADE, html.GROUND}


def test_the_sheets_of_codes_are_valid_too(busy: World) -> None:
    from store.views.door import door, places
    from store.views.job import job_card

    sheets = [
        shop_sheet(door(busy.shop, busy.now), places(busy.shop)),
        job_sheet(job_card(busy.shop, "1001", busy.now)),
    ]
    for sheet in sheets:
        tree = parsed(page(sheet, "Wed 14 Oct"))
        assert tree.get("lang") == "en"
