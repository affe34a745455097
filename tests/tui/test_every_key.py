"""Every key of every screen does something or says why not; random keys and storms of resizing
break nothing, and the ledger verifies after them."""

from __future__ import annotations

import random
from collections.abc import Generator, Sequence
from pathlib import Path

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import Pen, founded, worked_on
from tests.tui.test_everywhere import INTO, WHO, into
from tui.keys import TABLES, PlaceName
from tui.parts.keyline import NAMES, Pressed
from tui.parts.where import BAY, DESK, FLOOR, INTAKE, MONTH, SIGN_IN, TOOLS, Where
from tui.signin.screen import SignInScreen

MANY = 1500
"""Random keys of a run in the suite; `tests/bench/random_keys.py` presses ten thousand and more."""
SIZES = ((80, 24), (120, 40), (60, 20), (200, 50), (59, 24), (80, 19), (1, 1), (300, 3), (2, 80))
WAYS: dict[PlaceName, tuple[str, ...]] = {
    "bay": ("F2",), "floor": ("F3",), "desk": ("F3", "d"),
    "job": ("F4", "1001", "Enter"), "parts": ("F4", "1001", "Enter", "b"), "steps": ("F2", "7"),
    "day": ("F2", "-"), "intake": ("F5", "Esc"), "book": ("F3", "b"),
    "lists": ("F3", "k"), "follow-ups": ("F3", "d", "f"), "needs": ("F3", "F8"),
    "why": ("F3", "y"), "tools": ("F3", "F6"), "month": ("F3", "F7"),
}  # fmt: skip
"""From wherever somebody is signed in."""
MOVES = {"up", "down", "page-up", "page-down", "left", "right"}
"""What may have nowhere to go."""


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    shop = worked_on(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


def pressed(key: str) -> Pressed:
    """A key of the tables as the terminal sends it."""
    return Pressed(key, key if len(key) == 1 else "")


def state(at: Terminal) -> tuple[str, str, object, bool]:
    """All that a key can be answered by: the screen, what is said, another screen, the end."""
    if not at.app.is_running:
        return ("", "", None, True)
    return (at.text, at.said, at.app.screen, False)


@pytest.mark.parametrize("place", TABLES)
async def test_every_key_does_something_or_says_why_not(
    shop: Shop, pen: Pen, place: PlaceName
) -> None:
    dead: list[str] = []
    async with terminal(shop, pen.now, badge=WHO.get(place, "F01")) as at:
        for line in TABLES[place].built:
            for key in line.keys:
                if place == "sign in" and line.id in ("sign-in", "leave"):
                    continue  # with nothing typed the field that waits is the answer, or the end
                await begin_anew(at, place)
                before = state(at)
                at.app.line.put(pressed(key))
                await at.settle()
                if state(at) == before and line.id not in MOVES:
                    dead.append(f"{key}, {line.id}")
    assert dead == []


async def begin_anew(at: Terminal, place: PlaceName) -> None:
    """Leave whatever is open, then go to the place by keys."""
    while at.screen.prompt is not None or at.screen.page is not None:
        await at.keys("Esc")
    if place == "sign in":
        while not isinstance(at.app.screen, SignInScreen):
            await at.keys("Esc")
        return
    if isinstance(at.app.screen, SignInScreen):
        await at.sign_in(WHO.get(place) or "F01")
        if at.screen.prompt is not None:
            await at.keys("Esc")
    await at.keys(*WAYS[place])


ALL_KEYS = [
    *(chr(code) for code in range(32, 127)), *NAMES.values(), *(f"F{n}" for n in range(1, 13)),
    "é", "漢", "ctrl+x",
]  # fmt: skip
LIKELY = sorted({key for table in TABLES.values() for line in table.built for key in line.keys})
BADGES = ("B12", "B13", "B14", "F01", "OWN", "X99")


async def press_at_random(at: Terminal, dice: random.Random, many: int) -> None:
    """Press keys, most of them such as mean something somewhere; now and then a badge, a PIN, a
    text, another size, a minute."""
    pressed_so_far = 0
    while pressed_so_far < many and at.app.is_running:
        burst = dice.randint(1, 12)
        for _ in range(burst):
            at.app.line.put(pressed(dice.choice(LIKELY if dice.random() < 0.7 else ALL_KEYS)))
        pressed_so_far += burst
        chance = dice.random()
        if chance < 0.1:
            pressed_so_far += await _type(at, [*dice.choice(BADGES), "Enter"])
        elif chance < 0.2:
            pressed_so_far += await _type(at, ["2", "4", "6", "8", "Enter"])
        elif chance < 0.22:
            at.app.line.paste(dice.choice(["fri 16:00\n", "[b]stud[/b] broken", "0.15", "\n\n"]))
        elif chance < 0.26:
            await at.pilot.resize_terminal(*dice.choice(SIZES))
        at.hands.turn(seconds=dice.randint(0, 90))
        await at.settle()


async def _type(at: Terminal, keys: Sequence[str]) -> int:
    for key in keys:
        at.app.line.put(pressed(key))
    return len(keys)


async def run_at_random(shop: Shop, pen: Pen, first: Where, seed: int, many: int) -> int:
    """Press random keys until so many were pressed, coming back whenever Esc left the program;
    how often one came back. Whatever is raised comes out of the program's own end."""
    dice, comings = random.Random(seed), 0
    hands = pen.now
    left = many
    while left > 0:
        async with terminal(shop, hands, first=first, badge=dice.choice(BADGES[:5])) as at:
            here = min(left, 400)
            await press_at_random(at, dice, here)
            hands = at.hands.now
        left -= here
        comings += 1
    return comings


@pytest.mark.parametrize(
    "first", [SIGN_IN, BAY, FLOOR, DESK, INTAKE, TOOLS, MONTH], ids=lambda one: one.screen
)
async def test_random_keys_break_nothing_and_the_ledger_verifies(
    shop: Shop, pen: Pen, first: Where
) -> None:
    await run_at_random(shop, pen, first, seed=len(first.screen), many=MANY // 4)
    assert verify(shop.path).ok


async def test_random_keys_on_an_empty_shop_break_nothing(tmp_path: Path, pen: Pen) -> None:
    shop = founded(tmp_path / "empty.shop", pen)
    await run_at_random(shop, pen, FLOOR, seed=7, many=300)
    assert verify(shop.path).ok
    shop.close()


@pytest.mark.parametrize("place", TABLES)
async def test_a_storm_of_resizing_leaves_the_screen_as_it_was(
    shop: Shop, pen: Pen, place: PlaceName
) -> None:
    async with terminal(shop, pen.now, first=INTO[place][0], badge=WHO.get(place, "F01")) as at:
        await into(at, place)
        before = at.text
        for size in SIZES:
            await at.pilot.resize_terminal(*size)
        await at.settle()
        await at.pilot.resize_terminal(59, 24)
        await at.settle()
        assert "hoistbook needs 60 columns and 20 rows" in " ".join(at.text.split())
        await at.pilot.resize_terminal(80, 24)
        await at.settle()
        assert at.text == before
