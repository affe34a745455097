"""Papers in a real browser: nothing goes wrong, colours as computed, and how they print.

Paper: A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 in (ANSI/ASME Y14.1); a point is 1/72 in
(ISO 32000-1, 8.3.2.3).
"""

from __future__ import annotations

import asyncio
import re
from pathlib import Path

import pytest

from store.views.door import door, places
from tests.store.actions.made import World
from tests.tui.papers.chrome import BROWSER, PAIRS, Browser, browser
from tests.tui.papers.made import papers
from tests.tui.test_colours import contrast
from tui.cli.codes_list import shop_sheet
from tui.cli.html_codes import page as page_of_codes
from tui.papers.html import html_of

pytestmark = pytest.mark.skipif(
    BROWSER is None, reason="no browser here: apt-get install --no-install-recommends chromium"
)
MM = 1 / 25.4
SIZES = {"A4": (210 * MM, 297 * MM), "Letter": (8.5, 11.0)}
"""Width and height, inches."""
POINTS = 72


def pages(world: World) -> dict[str, str]:
    """One page of each kind: records of a job half done and of one handed over, a sheet, codes,
    and the paper that means ill."""
    job = world.one("select job from handed_over")
    every = papers(world)
    names = ("evil", "record 1001 True", f"record {job} True", "sheet 1001")
    codes = shop_sheet(door(world.shop, world.now), places(world.shop))
    return {
        **{name: html_of(every[name]) for name in names},
        "codes": page_of_codes(codes, "Wed 14 Oct"),
    }


class Seen:
    """What one page came to.

    Attributes:
        sheets: pages and their boxes in points, by name of the paper.
        wide: how far the page is wider than a telephone.
    """

    def __init__(self) -> None:
        self.said: list[str] = []
        self.asked: list[str] = []
        self.pairs: list[str] = []
        self.sheets: dict[str, list[tuple[float, float]]] = {}
        self.wide = 0


def boxes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page, points."""
    found = re.findall(rb"/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]", pdf)
    return [(float(width), float(height)) for width, height in found]


async def _look(at: Browser, page: Path) -> Seen:
    seen = Seen()
    await at.open(page)
    seen.pairs = str(await at.eval(PAIRS)).splitlines()
    for name, size in SIZES.items():
        pdf = await at.printed(*size)
        assert pdf.startswith(b"%PDF-")
        seen.sheets[name] = boxes(pdf)
    await at.call(
        "Emulation.setDeviceMetricsOverride", width=360, height=740, deviceScaleFactor=2,
        mobile=True,
    )  # fmt: skip
    await at.open(page)
    script = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    seen.wide = int(await at.eval(script))
    await at.call("Emulation.clearDeviceMetricsOverride")
    seen.said, seen.asked = list(at.said), list(at.asked)
    return seen


@pytest.fixture(name="seen", scope="module")
def seen_fixture(busy: World, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Seen]:
    folder = Path(tmp_path_factory.mktemp("pages"))

    async def every() -> dict[str, Seen]:
        found: dict[str, Seen] = {}
        async with browser(folder / "profile") as at:
            for name, text in pages(busy).items():
                page = folder / f"{name.replace(' ', '-')}.html"
                page.write_text(text, "utf-8")
                found[name] = await _look(at, page)
        return found

    return asyncio.run(every())


def test_no_page_says_an_error_or_asks_for_anything_else(seen: dict[str, Seen]) -> None:
    assert len(seen) == 5
    for name, one in seen.items():
        assert one.said == [], name
        assert all(address.startswith("file:") for address in one.asked), (name, one.asked)


@pytest.mark.parametrize("size", SIZES)
def test_it_prints_on_either_paper_whole_pages_of_that_size(
    seen: dict[str, Seen], size: str
) -> None:
    width, height = (one * POINTS for one in SIZES[size])
    for name, one in seen.items():
        pages = one.sheets[size]
        assert 1 <= len(pages) <= 6, (name, len(pages))
        for box in pages:
            assert box == pytest.approx((width, height), abs=1), name


def test_a_finished_jobs_record_is_two_or_three_pages(seen: dict[str, Seen], busy: World) -> None:
    job = busy.one("select job from handed_over")
    assert len(seen[f"record {job} True"].sheets["A4"]) in (2, 3)


def test_nothing_is_wider_than_a_telephone(seen: dict[str, Seen]) -> None:
    assert {name: one.wide for name, one in seen.items() if one.wide > 0} == {}


def test_every_text_has_its_contrast_as_the_browser_computes_it(seen: dict[str, Seen]) -> None:
    # WCAG 2.2, success criterion 1.4.3: 4.5:1.
    pairs = {pair for one in seen.values() for pair in one.pairs}
    assert pairs
    for pair in pairs:
        ink, ground = (value_of(one) for one in pair.split(" on "))
        assert contrast(ink, ground) >= 4.5, pair


def value_of(text: str) -> str:
    """`#rrggbb` of `rgb(r, g, b)`; what is transparent all the way down lies on white paper."""
    parts = re.findall(r"[\d.]+", text)
    if len(parts) == 4 and float(parts[3]) == 0:
        return "#ffffff"
    return "#" + "".join(f"{int(one):02x}" for one in parts[:3])
