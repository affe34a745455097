"""The scanner on the floor and the job card: what was scanned is opened, and no key is pressed."""

from __future__ import annotations

import pytest

from store.file.shop import Shop
from tests.tui.driver import Terminal, terminal
from tests.tui.scanner import code, scan, send, stall
from tests.tui.shops import Pen, last
from tui.floor.screen import FloorScreen
from tui.job.screen import JobScreen
from tui.parts.where import FLOOR, Where


def words(at: Terminal) -> str:
    return " ".join(at.said.split())


JOB_CODES = ("job 1002", "phase 1002.1", "step 1002.1.2", "lift 2")


@pytest.mark.parametrize("one", JOB_CODES)
@pytest.mark.parametrize("first", [FLOOR, Where("job", "1001")], ids=["floor", "card"])
async def test_what_belongs_to_a_job_opens_its_card(
    shop: Shop, pen: Pen, one: str, first: Where
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=first, badge="F01") as at:
        text = await scan(at, one)
        assert "1002 estate, grey" in text
        assert isinstance(at.screen, JobScreen)
    assert last(shop) == before


async def test_a_free_lift_is_where_one_stands_then(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await scan(at, "lift 3")
        assert words(at) == "Lift 3: free."
        await at.keys("h")
        assert "No job on lift 3" in words(at)


async def test_what_is_not_there_is_said(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        for one, says in (("job 88", "88"), ("lift 9", "no lift 9"), ("badge B99", "badge B99"),
                          ("kit XX", "no kit XX")):  # fmt: skip
            await scan(at, one)
            assert says in words(at)
            assert words(at).startswith("!")


PLACES = ((), ("h",), ("m",), ("h", "1"), ("F4", "10"), ("F1",), ("F9", "ho"))


@pytest.mark.parametrize("place", PLACES, ids=lambda keys: " ".join(keys) or "home")
async def test_a_job_is_opened_from_anywhere_on_the_floor(
    shop: Shop, pen: Pen, place: tuple[str, ...]
) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys(*place)
        before = last(shop)
        assert "1002 estate, grey" in await scan(at, "job 1002")
        assert at.screen.prompt is None
    assert last(shop) == before


async def test_a_technician_goes_to_the_bay_and_a_foreman_is_at_home(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR) as at:
        assert "Ruth, foreman" in await scan(at, "badge F01")
        assert words(at) == "Ruth is signed in."
        assert "CLOCK RUNS" in await scan(at, "badge B12")


async def test_a_badge_answers_who_does_it(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR) as at:
        assert "Who does this?" in await at.keys("h")
        assert "What lacks?" in await scan(at, "badge F01")


async def test_a_stall_inside_a_code_presses_no_key_of_the_floor(shop: Shop, pen: Pen) -> None:
    """Letters are keys here: not one of the code's may hold, release or undo anything."""
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        for after in range(1, len(code("job", "1002"))):
            send(at, code("job", "1002")[:after])
            await stall(at)
            assert at.screen.prompt is None
            send(at, code("job", "1002")[after:])
            await at.settle()
            assert isinstance(at.screen, JobScreen)
            await at.keys("Esc")
            assert isinstance(at.screen, FloorScreen)
    assert last(shop) == before


async def test_a_wall_takes_no_scan(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, wall=True) as at:
        for letter in code("job", "1002"):
            at.app.simulate_key({"\t": "tab", "\r": "enter"}.get(letter, letter))
        await at.pilot.pause()
        assert isinstance(at.screen, FloorScreen)
        assert at.app.line.quiet
