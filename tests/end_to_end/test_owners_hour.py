"""The owner's hour: what nobody told the shop is found by reading the month's page alone.

The demo's story (`demo.story`) stands in hours and dates only. Here the page is printed by the
program as JSON, and what it says is held against the story; another story, in a shorter past, is
found the same way, and where there is none nothing is said to have changed.
"""

from __future__ import annotations

import json
import shutil
from calendar import month_name
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from demo.making import make_demo
from demo.story import NO_STORY, STORY, Story, Tool
from tests.tui.cli.made import Line

Page = dict[str, Any]
Found = dict[tuple[str, str], Any]
MONTH = "2026-09"
NEAR_DAYS = 45
"""A change may be dated so far from its day."""
OTHER = Story(
    books={"CL": 1.6}, tools=(Tool("GB-off", date(2026, 6, 1), 0.5),), rust={"D4-M-R": 1.7},
    late={"Rietland tool hire": 0.5},
)  # fmt: skip


def read(path: Path) -> Page:
    """The month's page, whatever was finished taken in first."""
    page: Page = Line(path).does("month", MONTH, "--as", "A01")
    return page


def signals(page: Page) -> Found:
    """What is said to be no luck, by what it is about."""
    return {(one["what"], one["code"]): one for one in page["signals"]}


def told(story: Story) -> set[tuple[str, str]]:
    """What a reader should come upon."""
    return {
        *(("operation", code) for code in story.books),
        *(("phase", tool.phase) for tool in story.tools),
        *(("family", code) for code in story.rust),
        *(("person", one.badge) for one in story.learning),
        *(("supplier", name) for name in story.late),
    }


def worst_book(page: Page) -> str:
    """The operation whose own phases would cost most hours a year if the book stays as it is."""
    operations = {code for one in page["closed"] for code in one["operations"]}
    lost: Counter[str] = Counter()
    for one in page["book_should_say"]:
        if one["sure"] and one["operation"] in operations:
            lost[one["operation"]] += one["year_hours"]
    return max(lost, key=lambda code: lost[code])


@pytest.fixture(scope="module", name="shop")
def shop_fixture(taught_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    copy = tmp_path_factory.mktemp("hour") / "demo.shop"
    shutil.copyfile(taught_file, copy)
    yield copy
    copy.unlink()


@pytest.fixture(scope="module", name="page")
def page_fixture(shop: Path) -> Page:
    return read(shop)


def test_the_page_tells_the_whole_story_and_no_other(page: Page) -> None:
    assert set(signals(page)) == told(STORY)


def test_the_wrong_book_is_the_operation_that_the_page_would_change_first(page: Page) -> None:
    (wrong,) = STORY.books
    assert worst_book(page) == wrong
    signal = signals(page)["operation", wrong]
    assert signal["after"] / signal["before"] > 1.2
    phases = [
        one for one in page["book_should_say"]
        if one["operation"] == wrong and one["phase"] != wrong and one["family"] is None
    ]  # fmt: skip
    assert len(phases) >= 3
    assert all(one["should"] > 1.2 * one["book_hours"] for one in phases)


def test_the_faster_phase_has_its_month(page: Page) -> None:
    (tool,) = STORY.tools
    found_as_told(page, tool)


def found_as_told(page: Page, tool: Tool) -> None:
    """Dated near its first day, that month among the months named, about as much faster."""
    signal = signals(page)["phase", tool.phase]
    since = date.fromisoformat(signal["since"])
    assert abs((since - tool.since).days) <= NEAR_DAYS
    assert signal["after"] / signal["before"] == pytest.approx(tool.factor, abs=0.12)
    told_in = [n for n, name in enumerate(month_name) if name and name in signal["says"]]
    assert min(told_in) <= tool.since.month <= max(told_in), signal["says"]


def test_the_family_that_rusts_is_told_by_its_strip_work(page: Page) -> None:
    (family,) = STORY.rust
    signal = signals(page)["family", family]
    assert signal["says"].startswith(f"Strip work on {family}"), signal["says"]
    assert signal["after"] > 1.2 * signal["before"]


def test_the_apprentice_gets_faster(page: Page) -> None:
    (learning,) = STORY.learning
    signal = signals(page)["person", learning.badge]
    assert signal["after"] < 0.8 * signal["before"]
    assert "Noor" in signal["says"]


def test_the_late_supplier_is_named(page: Page) -> None:
    ((name, odds),) = STORY.late.items()
    signal = signals(page)["supplier", name]
    assert signal["after"] == pytest.approx(odds, abs=0.12)
    assert signal["after"] > 3 * signal["before"]


def test_another_s_eyes_do_not_see_the_apprentice(shop: Path) -> None:
    (learning,) = STORY.learning
    page: Page = Line(shop).does("month", MONTH, "--as", "B12")
    assert ("person", learning.badge) not in signals(page)
    assert "Noor" not in json.dumps(page["signals"])


def test_another_story_is_found_as_well(tmp_path: Path) -> None:
    path = tmp_path / "other.shop"
    make_demo(path, months=9, story=OTHER).close()
    page = read(path)
    assert set(signals(page)) == told(OTHER)
    assert worst_book(page) == next(iter(OTHER.books))
    found_as_told(page, OTHER.tools[0])


def test_where_there_is_no_story_none_is_told(tmp_path: Path) -> None:
    path = tmp_path / "none.shop"
    make_demo(path, months=6, story=NO_STORY).close()
    page = read(path)
    assert page["signals"] == []
    assert page["watched"] > 100
