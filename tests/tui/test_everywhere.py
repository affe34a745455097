"""What is the same on every screen: F-keys, all actions, finding, an answer to every other key."""

from __future__ import annotations

from collections.abc import Generator
from contextlib import AbstractAsyncContextManager
from pathlib import Path

import pytest

from store.file.shop import Shop
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import Pen, worked_on
from tui import keys
from tui.bay.screen import BayScreen
from tui.floor.screen import FloorScreen
from tui.intake.screen import IntakeScreen
from tui.job.screen import JobScreen
from tui.keys import COMMON, TABLES, PlaceName
from tui.parts.anywhere import ANYWHERE
from tui.parts.palette import ACTS, NO_NEED_OF_A_NAME, actions
from tui.parts.where import BAY, DESK, FLOOR, FOLLOW, INTAKE, MONTH, SIGN_IN, TOOLS, Where
from tui.signin.screen import SignInScreen

CARD = Where("job", "1001")
INTO: dict[PlaceName, tuple[Where, tuple[str, ...]]] = {
    "sign in": (SIGN_IN, ()),
    "bay": (BAY, ()),
    "floor": (FLOOR, ()),
    "desk": (DESK, ()),
    "follow-ups": (FOLLOW, ()),
    "job": (CARD, ()),
    "steps": (BAY, ("7",)),
    "day": (BAY, ("-",)),
    "intake": (INTAKE, ()),
    "book": (FLOOR, ("b",)),
    "parts": (CARD, ("b",)),
    "lists": (FLOOR, ("k",)),
    "needs": (FLOOR, ("F8",)),
    "why": (FLOOR, ("y",)),
    "tools": (TOOLS, ()),
    "month": (MONTH, ()),
}
"""How one comes to each place."""
WHO: dict[PlaceName, str | None] = {"sign in": None, "bay": "B12", "steps": "B12", "day": "B12"}


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    shop = worked_on(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


def opened(
    shop: Shop, pen: Pen, place: PlaceName, badge: str | None = "F01"
) -> AbstractAsyncContextManager[Terminal]:
    """The program at the screen from which the place is reached."""
    return terminal(shop, pen.now, first=INTO[place][0], badge=WHO.get(place, badge))


async def into(at: Terminal, place: PlaceName) -> None:
    """Press what leads from the first screen to the place."""
    await at.keys(*INTO[place][1])


def test_every_place_has_a_way_in_here() -> None:
    assert set(INTO) == set(TABLES)


@pytest.mark.parametrize("place", [place for place in TABLES if place != "intake"])
async def test_an_unknown_key_is_answered_in_one_line_and_the_answer_goes_again(
    shop: Shop, pen: Pen, place: PlaceName
) -> None:
    async with opened(shop, pen, place) as at:
        await into(at, place)
        before = at.text
        text = await at.keys("F11")
        assert f"F11 is no key of the {keys.TITLES[place]}." in at.said
        assert "F9 all actions" in text
        sent = at.screen.board.refreshed
        await at.keys("F11", "F11")
        assert at.screen.board.refreshed == sent, "the same again is quiet"
        await at.keys("F1", "Esc")
        assert at.text == before


async def test_what_was_said_is_back_after_a_key_that_means_nothing(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "bay") as at:
        await at.keys("1")
        said = at.said
        assert "clocked off" in said
        await at.keys("F11")
        assert "no key" in at.said
        await at.keys("up")
        assert at.said == said


@pytest.mark.parametrize("place", [place for place in TABLES if place != "sign in"])
@pytest.mark.parametrize(
    "key, screen",
    [("F2", BayScreen), ("F3", FloorScreen), ("F5", IntakeScreen)],
)  # fmt: skip
async def test_the_bay_the_floor_and_new_work_are_one_key_away(
    shop: Shop, pen: Pen, place: PlaceName, key: str, screen: type
) -> None:
    async with opened(shop, pen, place) as at:
        await into(at, place)
        if place == "intake":
            await at.keys("Esc")
        await at.keys(key)
        assert isinstance(at.app.screen, screen)


async def test_esc_on_a_card_goes_back_to_where_one_came_from(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "bay") as at:
        await at.keys("F4", "1002", "Enter")
        assert isinstance(at.app.screen, JobScreen)
        await at.keys("F4", "pick", "Enter")
        assert "1003" in at.lines[0]
        await at.keys("Esc")
        assert "1002" in at.lines[0]
        await at.keys("Esc")
        assert isinstance(at.app.screen, BayScreen)


async def test_any_job_is_found_by_number_vehicle_or_words(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "floor") as at:
        text = await at.keys("F4")
        assert "3 in all" in text
        assert "1 found" in await at.keys("gre est")
        assert "lift 2" in at.text
        await at.keys("x")
        assert "No job is called so." in at.text
        await at.keys("backspace", "Enter")
        assert isinstance(at.app.screen, JobScreen)
        assert "estate, grey" in at.lines[0]


async def test_a_line_of_the_list_can_be_clicked(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "floor") as at:
        await at.keys("F4")
        row = next(n for n, line in enumerate(at.lines) if "estate, grey" in line)
        await at.pilot.click(offset=(10, row))
        await at.settle()
        assert isinstance(at.app.screen, JobScreen)


async def test_the_help_is_paged_and_left_by_the_mouse_too(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "floor") as at:
        before = at.text
        await at.keys("F1")
        assert "page 1 of" in at.lines[-1]
        await at.pilot.click(offset=(2, 23))
        await at.settle()
        assert "page 2 of" in at.lines[-1]
        await at.pilot.click(offset=(at.lines[-1].index("any other"), 23))
        await at.settle()
        assert at.text == before


async def test_nobody_at_the_door_may_look_for_a_job_too(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "sign in") as at:
        await at.keys("F4", "1001", "Enter")
        assert isinstance(at.app.screen, JobScreen)
        await at.keys("Esc")
        assert isinstance(at.app.screen, SignInScreen)


# -- all actions by name


@pytest.mark.parametrize("place", TABLES)
def test_all_actions_of_every_screen_are_in_the_list_with_their_keys(place: PlaceName) -> None:
    listed = {(one.place, one.id): one for one in actions("owner", place)}
    for table in TABLES.values():
        for line in table:
            if line.id in NO_NEED_OF_A_NAME:
                continue
            anywhere = line.id in COMMON or line.id in ANYWHERE
            found = listed[None if anywhere else table.name, line.id]
            assert line.keys[0] in found.key or anywhere or line.keys[0] == " "


def test_nobody_is_offered_what_their_role_may_not_do() -> None:
    technician = {(one.place, one.id) for one in actions("technician", "floor")}
    foreman = {(one.place, one.id) for one in actions("foreman", "floor")}
    assert ("floor", "answer") in foreman - technician
    assert ("job", "promise") in foreman - technician
    assert ("bay", "clock") in technician & foreman
    words = {one.words for one in actions("foreman", "floor")}
    assert "adds a lift" not in words
    assert "adds a lift" in {one.words for one in actions("owner", "floor")}
    assert {id_ for table in TABLES.values() for id_ in (line.id for line in table)} >= set(ACTS)


async def test_an_action_of_this_screen_is_done_by_enter(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "bay") as at:
        await at.keys("F9", "clock off", "Enter")
        assert "clocked off" in at.said


async def test_an_action_of_another_screen_goes_there_and_says_its_key(
    shop: Shop, pen: Pen
) -> None:
    async with opened(shop, pen, "bay") as at:
        await at.keys("F9", "fin", " a phase job", "Enter")
        assert isinstance(at.app.screen, JobScreen)
        assert "1001" in at.lines[0], "the job of the bay"
        assert "k does it" in at.said
        await at.keys("F9", "con", " day", "Enter")
        assert isinstance(at.app.screen, BayScreen)
        assert "- opens the day sheet" in at.said


@pytest.mark.parametrize("opens", ["F4", "F9"])
async def test_a_key_that_the_list_does_not_take_is_answered(
    shop: Shop, pen: Pen, opens: str
) -> None:
    async with opened(shop, pen, "floor") as at:
        await at.keys(opens)
        assert "Type beginnings of words" in await at.keys("F11")
        assert "Type beginnings of words" not in await at.keys("xzz")
        assert "is called so" in at.text
        await at.keys("Enter")
        assert "is called so" in at.said
        await at.keys("Esc")
        assert "is called so" not in at.text


async def test_esc_leaves_the_list_and_nothing_was_done(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "floor") as at:
        before = at.text
        await at.keys("F9", "hold", "Esc")
        assert at.text == before


# -- forms


async def test_a_key_that_is_no_answer_says_what_the_answers_are(shop: Shop, pen: Pen) -> None:
    async with opened(shop, pen, "bay") as at:
        await at.keys("4")
        await at.keys("F11")
        assert at.said.startswith("! Here the keys are 1 to")
        await at.keys("F1")
        assert "keys: questions" in at.text
        await at.keys("q")
        assert at.screen.prompt is not None
        await at.keys("Esc")
        assert at.screen.prompt is None


async def test_what_was_typed_is_there_when_one_returns_but_not_for_somebody_else(
    shop: Shop, pen: Pen
) -> None:
    async with opened(shop, pen, "bay") as at:
        await at.keys("5", "1", "stud broken", "Esc")
        text = await at.keys("5", "1")
        assert "stud broken" in text
        await at.keys("Esc", "Esc", "B13", "Enter", "2")
        await at.keys("1", "5", "1")
        assert "stud broken" not in at.text
