"""The owner's month in a real browser: tables sort, rows unfold, it prints, light and dark, on a
telephone, and without its script.

Paper: A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 in (ANSI/ASME Y14.1).
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.store.actions.made import World
from tests.tui.papers.chrome import BROWSER, PAIRS, Browser, browser
from tests.tui.papers.made_month import full, month_shop
from tests.tui.papers.test_in_browser import POINTS, SIZES, boxes, value_of
from tests.tui.test_colours import contrast
from tui.papers.month_html import month_html

pytestmark = pytest.mark.skipif(
    BROWSER is None, reason="no browser here: apt-get install --no-install-recommends chromium"
)
COLUMN = """
(() => [...document.querySelectorAll('#table-jobs tbody tr')].map(
  (row) => row.cells[%d].dataset.key ?? row.cells[%d].textContent))()
"""
HEAD = "document.querySelectorAll('#table-jobs thead th')[%d]"
CLICK = HEAD + ".querySelector('button').click()"
SORTED = HEAD + ".getAttribute('aria-sort')"
WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
SHOWN = "document.getElementById('rows-on_jobs').checkVisibility()"
TEXT_OUTSIDE = """
(() => [...document.querySelectorAll('svg.picture text')]
  .filter((one) => one.checkVisibility())
  .map((one) => one.getBoundingClientRect())
  .filter((box) => box.left < -1 || box.right > innerWidth + 1).length)()
"""
TOOK = 4
"""Column of hours."""


class Seen:
    """What the page came to."""

    def __init__(self) -> None:
        self.said: list[str] = []
        self.asked: list[str] = []
        self.pairs: dict[str, list[str]] = {}
        self.sheets: dict[str, list[tuple[float, float]]] = {}
        self.wide: dict[str, int] = {}
        self.outside: dict[str, int] = {}
        self.answers: dict[str, Any] = {}


async def _sorts(at: Browser, seen: Seen) -> None:
    seen.answers["as written"] = await at.eval(COLUMN % (TOOK, TOOK))
    for name in ("up", "down"):
        await at.eval(CLICK % TOOK)
        seen.answers[name] = await at.eval(COLUMN % (TOOK, TOOK))
        seen.answers[f"{name} told"] = await at.eval(SORTED % TOOK)


async def _unfolds(at: Browser, seen: Seen) -> None:
    seen.answers["folded"] = await at.eval(SHOWN)
    await at.eval("document.querySelector('td a[href=\"#rows-on_jobs\"]').click()")
    await at.eval("new Promise((done) => setTimeout(done, 200))")
    seen.answers["unfolded"] = await at.eval(SHOWN)


async def _look(at: Browser, page: Path) -> Seen:
    seen = Seen()
    for name, width, look in (("desk", 1200, "light"), ("night", 1200, "dark"),
                              ("phone", 360, "light")):  # fmt: skip
        await at.call(
            "Emulation.setDeviceMetricsOverride", width=width, height=740, deviceScaleFactor=1,
            mobile=name == "phone",
        )  # fmt: skip
        await at.call(
            "Emulation.setEmulatedMedia",
            features=[{"name": "prefers-color-scheme", "value": look}],
        )
        await at.open(page)
        seen.pairs[name] = str(await at.eval(PAIRS)).splitlines()
        seen.wide[name] = int(await at.eval(WIDE))
        seen.outside[name] = int(await at.eval(TEXT_OUTSIDE))
        seen.said += at.said
        seen.asked += at.asked
    await at.call("Emulation.clearDeviceMetricsOverride")
    await at.open(page)
    await _sorts(at, seen)
    await _unfolds(at, seen)
    for name, size in SIZES.items():
        seen.sheets[name] = boxes(await at.printed(*size))
    seen.said += at.said
    return seen


async def _without_script(at: Browser, page: Path) -> list[str]:
    await at.call("Emulation.setScriptExecutionDisabled", value=True)
    await at.open(page)
    found = await at.call("DOMSnapshot.captureSnapshot", computedStyles=[])
    await at.call("Emulation.setScriptExecutionDisabled", value=False)
    return [str(one) for one in found["strings"]]


@pytest.fixture(name="month", scope="module")
def month_fixture(tmp_path_factory: pytest.TempPathFactory) -> Iterator[World]:
    made = month_shop(Path(tmp_path_factory.mktemp("month")))
    yield made
    made.shop.close()


@pytest.fixture(name="seen", scope="module")
def seen_fixture(month: World, tmp_path_factory: pytest.TempPathFactory) -> Seen:
    folder = Path(tmp_path_factory.mktemp("page"))
    page = folder / "month.html"
    page.write_text(month_html(full(month)), "utf-8")

    async def look() -> Seen:
        async with browser(folder / "profile") as at:
            seen = await _look(at, page)
            seen.answers["without script"] = await _without_script(at, page)
            return seen

    return asyncio.run(look())


def test_the_page_says_no_error_and_asks_for_nothing_else(seen: Seen) -> None:
    assert seen.said == []
    assert seen.asked
    assert all(one.startswith("file:") for one in seen.asked)


def test_a_click_on_a_head_sorts_and_a_second_one_turns_it_round(seen: Seen) -> None:
    before, up, down = (seen.answers[one] for one in ("as written", "up", "down"))
    assert up == sorted(before, key=float)
    assert up != before
    assert down == up[::-1]
    assert (seen.answers["up told"], seen.answers["down told"]) == ("ascending", "descending")


def test_a_link_to_folded_rows_unfolds_them(seen: Seen) -> None:
    assert (seen.answers["folded"], seen.answers["unfolded"]) == (False, True)


def test_without_its_script_every_word_is_there(seen: Seen, month: World) -> None:
    told = " ".join(seen.answers["without script"])
    assert full(month).said[0] in told
    assert "BUTTON" not in seen.answers["without script"]
    assert all(one.job in told for one in full(month).jobs)


@pytest.mark.parametrize("size", SIZES)
def test_it_prints_on_either_paper_whole_pages_of_that_size(seen: Seen, size: str) -> None:
    width, height = (one * POINTS for one in SIZES[size])
    assert 2 <= len(seen.sheets[size]) <= 9
    for box in seen.sheets[size]:
        assert box == pytest.approx((width, height), abs=1)


def test_nothing_is_wider_than_a_desk_or_a_telephone(seen: Seen) -> None:
    assert {name: wide for name, wide in seen.wide.items() if wide > 0} == {}
    assert {name: count for name, count in seen.outside.items() if count} == {}


@pytest.mark.parametrize("look", ["desk", "night", "phone"])
def test_every_text_has_its_contrast_as_the_browser_computes_it(seen: Seen, look: str) -> None:
    # WCAG 2.2, success criterion 1.4.3: 4.5:1.
    assert seen.pairs[look]
    for pair in seen.pairs[look]:
        ink, ground = (value_of(one) for one in pair.split(" on "))
        assert contrast(ink, ground) >= 4.5, pair
    assert seen.pairs["desk"] != seen.pairs["night"]
