"""Who must do what, by keys: each kind of act is done by its digit and is gone from the list."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import get_args

import pytest

from store.file.verify import verify
from store.rules.acts import ActKind
from store.views.needs import needs
from tests.store.actions.made import PIN, World, make
from tests.store.made_acts import (
    asked_shop,
    idle_shop,
    stuck_shop,
    supply_shop,
    told_line_shop,
    type_in,
)
from tests.store.made_kit_acts import kits_shop
from tests.tui.driver import Terminal, terminal
from tui.intake.screen import IntakeScreen
from tui.job.screen import JobScreen
from tui.needs.doing import FORMS
from tui.parts.where import FLOOR

Making = Callable[[Path], World]
ENTER, DIGITS = "Enter", 9
WAYS: dict[str, tuple[Making, str, tuple[str, ...]]] = {
    "answer": (stuck_shop, "FOR", ("1",)),
    "sign": (stuck_shop, "T2", ()),
    "let stand": (stuck_shop, "FOR", ("3", "seen, harmless", ENTER)),
    "release": (stuck_shop, "FOR", ("1",)),
    "person": (idle_shop, "FOR", (ENTER,)),
    "bring in": (idle_shop, "FOR", ()),
    "clear": (idle_shop, "FOR", ()),
    "decide": (asked_shop, "T1", ("1",)),
    "assign": (asked_shop, "FOR", ("2",)),
    "parts": (supply_shop, "FOR", ("1", ENTER, "fri", ENTER)),
    "kit here": (supply_shop, "FOR", (ENTER,)),
    "kit back": (supply_shop, "FOR", ("12", ENTER, ENTER)),
    "kit keep": (kits_shop, "FOR", ("fri", ENTER)),
    "kit ask": (kits_shop, "FOR", (ENTER,)),
    "chase": (supply_shop, "FOR", ("2", "soon", ENTER, "fri 16:00", ENTER, ENTER)),
    "judge": (supply_shop, "FOR", ("1",)),
    "call": (supply_shop, "FOR", ()),
    "quote": (supply_shop, "FOR", ()),
    "clock": (supply_shop, "FOR", ("1", ENTER)),
    "look over": (supply_shop, "T1", ()),
    "inspect": (supply_shop, "FOR", ("2026-10-10", ENTER, "12", ENTER, "local code", ENTER,
                                     "Vos", ENTER)),
    "line": (told_line_shop, "FOR", ()),
}  # fmt: skip
"""In which shop each kind stands open, who does it, and what the form is answered."""
ELSEWHERE = {"quote", "call"}
"""What a whole form of another screen does; that one has its own tests."""


def test_every_kind_has_its_form_and_its_keys_here() -> None:
    assert set(FORMS) == set(WAYS) == set(get_args(ActKind))


@pytest.fixture(name="place")
def place_fixture(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[str, World]]:
    kind: str = request.param
    world = WAYS[kind][0](tmp_path)
    yield kind, world
    world.shop.close()


@pytest.mark.parametrize("place", [one for one in WAYS if one not in ELSEWHERE], indirect=True)
async def test_each_is_done_by_its_digit_and_is_gone(place: tuple[str, World]) -> None:
    kind, world = place
    listed = needs(world.shop, world.now).needs
    nth = next(n for n, one in enumerate(listed) if one.act.kind == kind)
    need = listed[nth]
    async with terminal(world.shop, world.now, first=FLOOR, badge=WAYS[kind][1]) as at:
        text = await at.keys("F8")
        assert "who must do what" in text
        there = (str(nth + 1),) if nth < DIGITS else (*["down"] * nth, ENTER)
        await at.keys(*there, *WAYS[kind][2])
        if at.screen.prompt is not None and "PIN" in at.text:
            await at.keys(PIN, ENTER)
        assert not at.said.startswith("!"), at.said
        while at.screen.prompt is not None:
            await at.keys("Esc")
        assert "who must do what" in at.text, "one is on the list again"
    left = {one.act.name for one in needs(world.shop, world.now).needs}
    assert need.act.name not in left
    assert verify(world.shop.path).ok


@pytest.mark.parametrize("place", ["quote"], indirect=True)
async def test_a_quote_is_given_on_the_intake(place: tuple[str, World]) -> None:
    async with terminal(place[1].shop, place[1].now, first=FLOOR, badge="FOR") as at:
        await go_to(at, place)
        assert isinstance(at.app.screen, IntakeScreen)
        assert "gives the quote" in at.said


@pytest.mark.parametrize("place", ["call"], indirect=True)
async def test_a_call_about_a_quote_ends_with_the_word_or_with_a_day(
    place: tuple[str, World],
) -> None:
    world = place[1]
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        text = await go_to(at, place)
        assert "the customer agreed" in text
        digit = next(line for line in text.splitlines() if "a try to reach" in line).split()[0]
        await at.keys(digit, ENTER, ENTER, "fri 10:00", ENTER)
        assert not at.said.startswith("!"), at.said
        assert "who must do what" in at.text
    assert "call" not in {one.act.kind for one in needs(world.shop, world.now).needs}
    assert verify(world.shop.path).ok


async def go_to(at: Terminal, place: tuple[str, World]) -> str:
    """Open the list and press Enter on the line of that kind."""
    kind, world = place
    listed = needs(world.shop, world.now).needs
    nth = next(n for n, one in enumerate(listed) if one.act.kind == kind)
    return await at.keys("F8", *["down"] * nth, ENTER)


async def test_what_another_terminal_did_a_second_ago_is_refused_in_one_line(
    tmp_path: Path,
) -> None:
    world = idle_shop(tmp_path)
    listed = needs(world.shop, world.now).needs
    nth = next(n for n, one in enumerate(listed) if one.act.kind == "bring in")
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        await at.keys("F8", *["down"] * nth)
        need = listed[nth]
        assert type_in(world, *need.act.command)
        before = world.events()
        await at.keys(ENTER)
        assert at.said.startswith("! ")
        assert world.events() == before
        assert need.act.says not in at.text
    world.shop.close()


async def test_a_calm_hour_says_so_and_what_comes(tmp_path: Path) -> None:
    world = make(tmp_path)
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        text = await at.keys("F8")
        assert "Nothing needs anybody.  Next: lift 1 is free." in text
        await at.keys(ENTER)
        assert at.said == "! Nothing needs anybody, so there is nothing to do here."
        await at.keys("Esc", "F8", "F8")
        assert at.said == "This is the list of needs."
        assert "There is no line 3." in await at.keys("3")
    world.shop.close()


async def test_the_job_of_a_line_is_opened_and_esc_comes_back(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    first = needs(world.shop, world.now).needs[0]
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        await at.keys("F8", "o")
        assert isinstance(at.app.screen, JobScreen)
        assert first.act.job is not None
        assert first.act.job in at.lines[0]
    world.shop.close()


async def test_what_was_asked_after_and_is_not_there_yet_stays_held_with_a_new_end(
    tmp_path: Path,
) -> None:
    world = stuck_shop(tmp_path)
    listed = needs(world.shop, world.now).needs
    nth = next(n for n, one in enumerate(listed) if one.act.kind == "release")
    act = listed[nth].act
    running = "select count(*) from hold where until is null"
    held = world.one(running)
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        text = await at.keys("F8", str(nth + 1))
        assert "that is over: it goes on" in text
        text = await at.keys("2")
        assert "Expected when?" in text
        await at.keys("1")
        assert not at.said.startswith("!"), at.said
    assert world.one(running) == held, "nobody said that it is over"
    assert world.one(
        "select expected_now from hold where until is null and job = ? and phase is ?",
        act.job, act.phase,
    )  # fmt: skip
    assert verify(world.shop.path).ok
    world.shop.close()
