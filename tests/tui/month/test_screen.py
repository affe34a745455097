"""The owner's month by keys: month to month, down to entries, adopting, costs, the report."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import AbstractAsyncContextManager
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from shutil import copyfile

import pytest

from store.actions import adopting, month_costs
from store.file.books import book_of
from store.file.shop import Shop
from store.file.verify import verify
from tests.store.actions.made import PIN, World
from tests.store.made_told import told_of
from tests.tui.driver import Terminal, terminal
from tests.tui.papers.made_month import month_shop
from tests.tui.test_first_paint import loaded
from tui.floor.screen import FloorScreen
from tui.job.screen import JobScreen
from tui.month.screen import MonthScreen
from tui.parts.where import FLOOR, MONTH, Where

TOLD = (("EZ", "E2", None, 1.5, 2.0, 22), ("EZ", "E1", None, 0.6, 0.8, 12))
ENTER = "Enter"
CLEAR = ["backspace"] * 250


@pytest.fixture(name="once", scope="module")
def once_fixture(tmp_path_factory: pytest.TempPathFactory) -> World:
    """Ten jobs closed in October; two phases that were learned to take longer."""
    world = month_shop(tmp_path_factory.mktemp("month"))
    told_of(world, *TOLD)
    world.shop.close()
    return world


@pytest.fixture(name="world")
def world_fixture(once: World, tmp_path: Path) -> Iterator[World]:
    for end in ("", "-wal"):
        beside = once.shop.path.with_name(once.shop.path.name + end)
        if beside.exists():
            copyfile(beside, tmp_path / f"made.shop{end}")
    made = replace(once, shop=Shop(tmp_path / "made.shop"))
    yield made
    made.shop.close()


def opened(
    world: World, badge: str | None = "OWN", first: Where = MONTH
) -> AbstractAsyncContextManager[Terminal]:
    return terminal(world.shop, world.now, first=first, badge=badge)


async def proven(at: Terminal) -> str:
    """Type the PIN where it is asked for."""
    return await at.keys(PIN, ENTER) if "PIN" in at.text else at.text


def version(world: World) -> int:
    found = world.one("select max(version) from book")
    assert isinstance(found, int)
    return found


def middle(world: World, code: str) -> float:
    with world.shop.reading() as db:
        return book_of(db, version(world)).phases[code].hours.middle


async def test_the_month_is_one_key_from_the_floor_and_esc_goes_back(world: World) -> None:
    async with opened(world, first=FLOOR) as at:
        text = await at.keys("F7")
        assert isinstance(at.app.screen, MonthScreen)
        assert "October 2026  10 jobs closed" in text
        await at.keys("F7")
        assert "This is the owner's month" in at.said
        await at.keys("Esc")
        assert isinstance(at.app.screen, FloorScreen)


async def test_one_goes_from_month_to_month_as_far_as_there_are_any(world: World) -> None:
    world.now += timedelta(days=31)
    async with opened(world) as at:
        assert "October 2026" in at.text
        text = await at.keys("right")
        assert "November 2026  0 jobs closed, still runs" in text
        assert "No job was closed in November 2026 yet" in text
        await at.keys("right")
        assert "No newer month has begun." in at.said
        await at.keys("left", "left")
        assert "The shop begins in this month." in at.said or "September" in at.text
        await at.keys("g", "2026-11", ENTER)
        assert "November 2026" in at.text
        await at.keys("g", "2031-01", ENTER)
        assert "The shop has months from" in at.text
        await at.keys(*CLEAR, "soon", ENTER)
        assert "soon is no month" in at.text
        await at.keys("Esc")
        assert "November 2026" in at.text


async def test_a_figure_leads_to_jobs_phases_clocks_entries_and_the_card(world: World) -> None:
    async with opened(world) as at:
        text = await at.keys(ENTER)
        assert "jobs closed in the month, the farthest off first" in text
        assert "1 of 10" not in text or "EZ" in text
        text = await at.keys(ENTER)
        assert "mend" in text
        text = await at.keys("down", ENTER, ENTER)
        assert "entry " in text
        assert "clocked on" in text
        await at.keys(ENTER)
        assert isinstance(at.app.screen, JobScreen)
        text = await at.keys("Esc")
        assert "entry " in text, "one is back where one was"
        for _ in range(4):
            text = await at.keys("Esc")
        assert "Estimates ran" in text or "Estimates were" in text
        assert isinstance(at.app.screen, MonthScreen)


async def test_entries_and_the_job_of_a_line_are_one_key_away(world: World) -> None:
    async with opened(world) as at:
        await at.keys("e")
        assert "Entries stand below jobs and clocks" in at.said
        await at.keys("o")
        assert "That is no job" in at.said
        text = await at.keys(ENTER, "e")
        assert "closed" in text
        assert "entry " in text
        await at.keys("o")
        assert isinstance(at.app.screen, JobScreen)


async def test_up_down_and_pages_move_and_what_is_below_comes_into_sight(world: World) -> None:
    async with opened(world) as at:
        top = at.text
        await at.keys("page down")
        assert at.text != top
        for _ in range(60):
            await at.keys("down")
        assert "people" in at.text
        await at.keys(*["page up"] * 20)
        assert at.lines[1].startswith("▸")


async def test_a_digit_asks_once_and_the_book_says_what_was_learned_until_it_is_undone(
    world: World,
) -> None:
    before, said = version(world), middle(world, "E2")
    async with opened(world) as at:
        text = await at.keys("1")
        assert "the work book: mend" in text
        assert "Enter adopt" in text
        await at.keys("Esc")
        assert version(world) == before
        await at.keys("1", ENTER)
        await proven(at)
        assert f"Work book {before + 1} says what was learned." in at.said
        assert middle(world, "E2") == 2.0
        await at.keys("u")
        assert "Taken back" in at.said
        assert middle(world, "E2") == said
        await at.keys("9")
        assert "There is no line 9 to adopt" in at.said
    assert verify(world.shop.path).ok


async def test_several_lines_are_adopted_at_once(world: World) -> None:
    async with opened(world) as at:
        text = await at.keys("a")
        assert "1  yes" in text
        text = await at.keys("2")
        assert "2  no" in text
        await at.keys("2", ENTER)
        assert "2 phases of the work book" in at.text
        await at.keys(ENTER)
        await proven(at)
        assert "2 phases: " in at.said
        await at.keys("a")
        assert "Nothing in the book is sure enough" in at.said
    assert (middle(world, "E1"), middle(world, "E2")) == (0.8, 2.0)
    assert verify(world.shop.path).ok


async def test_a_book_that_somebody_else_changed_meanwhile_is_not_changed_twice(
    world: World,
) -> None:
    async with opened(world) as at:
        await at.keys("1")
        adopting.adopt(
            world.shop, world.by("OWN"), lines=[adopting.Adopted("EZ", "E1")]
        )  # fmt: skip
        held = version(world)
        await at.keys(ENTER)
        await proven(at)
        assert at.said.startswith("!")
        assert version(world) == held
    assert verify(world.shop.path).ok


async def test_what_the_month_cost_is_typed_and_read_again(world: World) -> None:
    async with opened(world) as at:
        await at.keys("c", ENTER)
        assert "Wages and overheads are both wanted" in at.said
        await at.keys("c", "1", "8200", ENTER, "2", "-4", ENTER)
        assert "An amount is 0 or more" in at.text
        await at.keys(*CLEAR[:4], "4000", ENTER, ENTER)
        await proven(at)
        assert "2026-10" in at.said or "October" in at.said
        assert "8,200" in await at.keys("c")
    assert world.one("select wages from month_cost where month = '2026-10'") == 8200
    assert verify(world.shop.path).ok


async def test_last_years_quotes_at_a_rate_that_is_typed(world: World) -> None:
    month_costs.set_costs(world.shop, world.by("OWN"), month="2026-10", wages=800, overheads=400)
    async with opened(world) as at:
        text = await at.keys("r")
        assert "as quoted" in text
        assert "cautious" in text
        await at.keys("r", "0", ENTER)
        assert "A rate is money for an hour, more than 0" in at.text
        text = await at.keys(*CLEAR[:3], "120", ENTER)
        assert "▸ as quoted, at 120 an hour" in text
        await at.keys(ENTER)
        assert "what prices would have kept › as quoted, at 120 an hour" in at.text


async def test_the_report_and_every_table_are_written_where_it_is_said(
    world: World, tmp_path: Path
) -> None:
    target = tmp_path / "sent" / "october.html"
    target.parent.mkdir()
    async with opened(world) as at:
        text = await at.keys("w")
        assert "month-2026-10.html" in text
        await at.keys(*CLEAR, "october.txt", ENTER)
        assert "The page is an .html file" in at.text
        await at.keys(*CLEAR, str(target), ENTER)
        assert "Written: " in at.said
    assert target.read_text("utf-8").startswith("<!DOCTYPE html>")
    assert (target.parent / "october" / "jobs.csv").is_file()


async def test_nothing_is_written_where_it_cannot_be(world: World, tmp_path: Path) -> None:
    async with opened(world) as at:
        await at.keys("w", *CLEAR, str(tmp_path / "no" / "where.html"), ENTER)
        assert at.said.startswith("!")
        other = tmp_path / "letter.html"
        other.write_text("no page", encoding="utf-8")
        await at.keys("w", *CLEAR, str(other), ENTER)
        assert "is there already and is no page" in at.said
        assert other.read_text("utf-8") == "no page"
    assert not (tmp_path / "no").exists()
    assert not (tmp_path / "letter").exists()


async def test_the_owner_sees_people_and_a_technician_only_themselves(world: World) -> None:
    async with opened(world) as at:
        text = await at.keys("p")
        assert "T1" in text
        assert "T2" in text
        text = await at.keys(ENTER)
        assert "people › " in text
        assert "attended, day by day" in text
    async with opened(world, badge="T2") as at:
        assert "October 2026" in at.text
        text = await at.keys("p")
        assert "T1" not in text
        await at.keys("Esc", "r")
        assert "owner" in at.said
        assert " 1  mend" not in at.text
        for key, what in (("1", "work book"), ("a", "work book"), ("c", "What a month cost")):
            await at.keys(key)
            assert at.said.startswith("!")
            assert what in at.said
            assert "ask" in at.said
            assert at.screen.prompt is None


async def test_nobody_reads_it_without_a_badge(world: World) -> None:
    async with opened(world, badge=None) as at:
        assert "Who does this?" in at.text
        assert "Estimates" not in at.text
        await at.keys("Esc")
        assert not isinstance(at.app.screen, MonthScreen)
        assert "Months are read by somebody" in at.said
    async with opened(world, badge=None) as at:
        await at.keys("OWN", ENTER)
        assert "Estimates" in at.text


async def test_whoever_comes_next_does_not_see_the_lines_of_who_was_here(world: World) -> None:
    async with opened(world) as at:
        await at.keys("p", ENTER)
        at.app.fall_silent()
        await at.settle()
        await at.keys("T2", ENTER)
        assert "people ›" not in at.text
        assert "October 2026" in at.text


async def test_a_click_goes_to_a_figure_and_the_next_one_follows_it(world: World) -> None:
    async with opened(world) as at:
        y = next(n for n, line in enumerate(at.lines) if line.startswith("  lost"))
        await at.pilot.click(offset=(30, y))
        await at.settle()
        assert at.lines[y].startswith("▸")
        await at.pilot.click(offset=(30, y))
        await at.settle()
        assert "what was lost" in at.text


async def test_the_next_month_shows_the_same_figure(world: World) -> None:
    world.now += timedelta(days=31)
    async with opened(world) as at:
        await at.keys("p")
        text = await at.keys("right")
        assert "November 2026" in text
        assert text.splitlines()[1].strip() == "people"


def test_the_screen_loads_nothing_heavy_and_no_arrays_even_when_it_reads_and_acts(
    world: World,
) -> None:
    assert loaded("import tui.month.screen, tui.month.acts") == "[]"
    world.shop.close()
    code = (
        "import sys\nfrom datetime import datetime\nfrom pathlib import Path\n"
        "import tui.month.screen\nfrom store.file.shop import Shop\n"
        "from store.views.month.page import month, months\n"
        "from tui.month.paint import month_canvas\n"
        "from tui.month.state import MonthState, Shown\nfrom tui.signs import UNICODE\n"
        "from tui.month.figures import made_of\n"
        "import store.actions.adopting, store.actions.month_costs\n"
        "shop = Shop(Path(sys.argv[1]))\nnow = datetime.fromisoformat(sys.argv[2])\n"
        "found = month(shop, '2026-10', now, by='OWN')\n"
        "shown = Shown('2026-10', months(shop, now), 'made', found)\n"
        "month_canvas(shown, (200, 50), UNICODE, MonthState())\nmade_of(found)\n"
        "print(len(found.jobs), end=' ')"
    )
    said = loaded(code, str(world.shop.path), world.now.isoformat())
    assert said.startswith("10 ")
    assert not {"numpy", "scipy", "pandas"} & set(re.findall("[a-z]+", said))
